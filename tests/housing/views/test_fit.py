"""The page of what went wrong: what repeats, by cause and side, each with its boxes."""

from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from tests.factories import make_campaign, make_design
from tests.housing.queries.test_misfits import fits, misfit, tried

FIT = reverse("housing:fit-causes")

pytestmark = pytest.mark.django_db


@pytest.fixture
def design():
    return make_design()


def test_what_repeats_is_said_first_in_the_readers_unit(viewer, design):
    for short_mm in (Decimal("9.525"), Decimal("9.525"), Decimal("9.525")):  # 3/8 in
        misfit(tried(design), short_mm)
    viewer.post(reverse("objects:preferences"), {"unit": "in", "paper": "A4"})

    page = viewer.get(FIT)

    text = page.content.decode()
    assert "Depth of “Textiles”: 3 of 3 boxes were wrong, on average 3/8 in short." in text
    assert page.status_code == 200


def test_each_cause_and_each_side_leads_to_its_boxes(viewer, design):
    campaign = make_campaign()
    box = tried(design, campaign=campaign)
    check = misfit(box, 5)
    misfit(tried(design, "Ceramics", campaign=campaign), 4, cause="cutting", side="height")

    page = viewer.get(FIT, {"campaign": campaign.pk})

    causes = {row.cause: url for row, url in page.context["causes"]}
    assert causes["measurement"] == f"?campaign={campaign.pk}&cause=measurement#boxes"
    sides = {one["kind"]: one["url"] for one in page.context["sides"]}
    for url in (causes["measurement"], sides["Textiles"]):
        shown = viewer.get(FIT + url)
        assert [row.record for row in shown.context["table"].rows] == [check]
        assert reverse("housing:bench-box", args=[box.pk]) in shown.content.decode()


def test_what_was_asked_for_wrongly_is_said_beside_the_field(viewer, design):
    misfit(tried(design), 5)

    page = viewer.get(FIT, {"since": "2026-05-02", "until": "2026-05-01"})

    assert page.status_code == 400
    assert page.context["form"].errors == {"until": ["The last day lies before the first. Exchange the two."]}


@pytest.mark.parametrize("asked", [{"cause": "bad luck"}, {"campaign": "99"}, {"since": "May"}])
def test_filters_that_nobody_offered_are_refused(viewer, asked):
    assert viewer.get(FIT, asked).status_code == 400


def test_with_nothing_tried_the_page_says_where_to_begin(viewer):
    assert "No box was tried here yet." in viewer.get(FIT).content.decode()


def test_where_all_fits_no_box_is_listed(viewer, design):
    fits(tried(design))

    text = viewer.get(FIT).content.decode()

    assert "1 box tried before the way back to the shelf; <b>0</b> did not fit" in text
    assert "No box was wrong here." in text


def test_the_page_is_for_those_who_signed_in(client):
    assert client.get(FIT)["Location"] == f"/accounts/login/?next={FIT}"


def test_one_box_and_three_take_the_same_number_of_queries(viewer, design):
    def queries() -> int:
        with CaptureQueriesContext(
            connection,
        ) as caught:
            viewer.get(FIT)
        return len(caught)

    misfit(tried(design), 5)
    viewer.get(FIT)
    one = queries()
    for _ in range(2):
        misfit(tried(design), 6)

    assert queries() == one


def test_the_progress_of_a_campaign_tells_what_misfits_cost(viewer, design):
    campaign = make_campaign(currency="EUR")
    misfit(tried(design, campaign=campaign), remedy="remake", board_cost=Decimal("6.40"))
    misfit(tried(design, campaign=campaign), work_cost=Decimal("5.00"))

    text = viewer.get(reverse("housing:campaign-progress", args=[campaign.pk])).content.decode()

    assert "<dd>1: board 6.40, work 0.00 EUR</dd>" in text
    assert "<dt>In all</dt><dd>11.40 EUR</dd>" in text
