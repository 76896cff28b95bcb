"""The weights of a campaign's priority score: tried, saved, refused."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from tests.factories import make_campaign, make_object, make_user

pytestmark = pytest.mark.django_db


def page_of(campaign) -> str:
    return f"/campaigns/{campaign.pk}/weights/"


def two_objects():
    """One fragile and hardly used, one robust and used weekly: with weights of 1 their scores are equal."""
    return (
        make_object(number="1", name="Fan", fragility="very_delicate", use="never"),
        make_object(number="2", name="Mallet", fragility="robust", use="weekly"),
    )


def test_the_page_shows_the_first_objects_and_what_is_at_stake(manager):
    page = manager.get(page_of(make_campaign(*two_objects())))

    assert [(row.name, row.new_place) for row in page.context["rows"]] == [("1 Fan", 1), ("2 Mallet", 1)]
    assert "<b>100.0 %</b>" in page.text  # there are no other objects


def test_weights_in_the_address_are_tried_and_not_saved(manager):
    campaign = make_campaign(*two_objects())

    page = manager.get(f"{page_of(campaign)}?fragility=0.5")

    campaign.refresh_from_db()
    assert [(row.name, row.place, row.new_place) for row in page.context["rows"]] == [
        ("2 Mallet", 1, 1), ("1 Fan", 1, 2),
    ]  # fmt: skip
    assert "no longer on the published scale" in page.text
    assert campaign.weights == {}


def test_only_the_piece_that_changes_is_sent_to_a_page_that_asks_for_it(manager):
    campaign = make_campaign(*two_objects())

    piece = manager.get(f"{page_of(campaign)}?use=2", headers={"HX-Request": "true"}).text

    assert piece.lstrip().startswith('<section class="panel" id="first"')
    assert "What is at stake" not in piece


def test_saved_weights_are_those_that_differ_from_one(manager):
    campaign = make_campaign()

    answer = manager.post(
        page_of(campaign), {"use": "2", "fragility": "1", "condition": "", "housing": "0.5"}
    )

    campaign.refresh_from_db()
    assert answer.url == page_of(campaign)
    assert campaign.weights == {"use": 2, "housing": 0.5}


@pytest.mark.parametrize(
    ("weight", "sentence"),
    [
        ("3.5", "A weight is from 0 to 3."),
        ("-1", "A weight is from 0 to 3."),
        ("much", "Enter the weight as a number from 0 to 3."),
        ("nan", "Enter the weight as a number from 0 to 3."),
        ("1.55", "Give the weight in tenths, such as 1.5."),
    ],
)
def test_a_weight_that_cannot_be_is_refused_and_nothing_is_saved(manager, weight, sentence):
    campaign = make_campaign(weights={"use": 2})

    page = manager.post(page_of(campaign), {"use": weight})

    campaign.refresh_from_db()
    assert page.context["form"].errors == {"use": [sentence]}
    assert campaign.weights == {"use": 2}


def test_a_weight_that_cannot_be_tried_says_so_in_the_piece_too(manager):
    campaign = make_campaign(*two_objects())

    piece = manager.get(f"{page_of(campaign)}?use=9", headers={"HX-Request": "true"}).text

    assert "A weight is from 0 to 3." in piece


def test_a_maker_tries_weights_but_saves_none(client):
    client.force_login(make_user("maker"))
    campaign = make_campaign()

    tried, saved = client.get(f"{page_of(campaign)}?use=2"), client.post(page_of(campaign), {"use": "2"})

    campaign.refresh_from_db()
    assert (tried.status_code, saved.status_code, campaign.weights) == (200, 403, {})
    assert "Save these weights" not in tried.text


def test_an_empty_campaign_says_what_to_do(manager):
    page = manager.get(page_of(make_campaign())).text

    assert "No object of this campaign is still unhoused." in page
    assert "The campaign has no objects yet." in page


def test_a_missing_campaign_is_not_found(manager):
    assert manager.get("/campaigns/999/weights/").status_code == 404


def test_nobody_reads_it_without_signing_in(client):
    assert client.get("/campaigns/1/weights/").url == "/accounts/login/?next=/campaigns/1/weights/"


def test_one_object_and_three_take_as_many_queries(manager, django_assert_num_queries):
    campaign = make_campaign(make_object())
    manager.get(page_of(campaign))
    with CaptureQueriesContext(connection) as first:
        manager.get(page_of(campaign))
    campaign.objects_in_it.add(make_object(fragility="robust"), make_object(use="weekly"))

    with django_assert_num_queries(len(first)):
        manager.get(page_of(campaign))
