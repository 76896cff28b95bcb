"""The object list, what can be done from it, one object, and moving a housing on."""

from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from housing.models import CampaignObject, Housing
from objects.models import Preferences
from tests.factories import (
    make_campaign,
    make_design,
    make_housing,
    make_location,
    make_object,
    make_user,
)
from tests.housing.printing.boxes import make_box

pytestmark = pytest.mark.django_db
LIST = "/objects/"


def numbers(client, query: str = "") -> list[str]:
    return [row.record.number for row in client.get(LIST + query).context["table"].paginated_rows]


# ---- The list --------------------------------------------------------------------------------------------


def test_numbers_are_sorted_as_people_count(maker):
    for number in ("1990.10", "1990.9", "1990.100"):
        make_object(number=number)

    assert numbers(maker) == ["1990.9", "1990.10", "1990.100"]


def test_sizes_are_shown_in_the_unit_of_the_reader(client):
    user = make_user("viewer")
    Preferences.objects.create(user=user, length_unit="mm")
    client.force_login(user)
    make_object()

    row = client.get(LIST).context["table"].paginated_rows[0]

    # 10 x 8 3/4 x 7 1/8 in at 25.4 mm, to 0.1 mm: 254, 222.25, 180.975.
    assert row.get_cell("size") in ("254 × 222.2 × 181 mm", "254 × 222.3 × 181 mm")


@pytest.mark.parametrize(
    "query",
    [
        "?q=owl+burnished",
        "?classification=Textiles",
        "?priority=A",
        "?size_state=missing",
        "?hazards=yes",
        "?status=made",
        "?status=still_unhoused&priority=A",
        "?status=box_in_hand",
        "?need=unhoused",
        "?score=from11",
        "?surveyed=no",
    ],
)
def test_each_filter_finds_the_one_object_that_fits(maker, query):
    wanted = make_object(
        number="W", name="Owl", materials="burnished clay", classification="Textiles", priority="A",
        depth_mm=None, hazards="arsenic", significance="key",
    )  # fmt: skip
    make_housing(wanted, status="made")
    make_object(name="Owl", present_housing="adequate", surveyed_at=timezone.now())

    assert numbers(maker, query) == ["W"]


def test_a_place_shows_what_lies_within_it_and_not_its_namesake(maker):
    room = make_location("Room 1")
    make_object(number="in", location=make_location("Shelf", parent=room))
    make_object(number="out", location=make_location("Room 10"))

    assert numbers(maker, f"?location={room.pk}") == ["in"]


def test_the_list_can_be_narrowed_to_what_is_kept_in_a_place_itself(maker):
    room = make_location("Room 1")
    make_object(number="shelf", location=make_location("Shelf", parent=room))
    make_object(number="room", location=room)

    assert numbers(maker, f"?location={room.pk}&place_only=yes") == ["room"]


def test_the_list_is_sorted_by_score_the_highest_first_and_by_class_with_the_score(maker):
    make_object(number="1", priority="A", fragility="robust")
    make_object(number="2", priority="B", fragility="ordinary")
    make_object(number="3", priority="B", fragility="very_delicate")

    assert numbers(maker, "?sort=-score") == ["3", "2", "1"]
    assert numbers(maker, "?sort=priority") == ["1", "3", "2"]


def test_the_score_is_weighed_as_the_campaign_of_the_list_says(maker):
    campaign = make_campaign(make_object(fragility="very_delicate"), weights={"fragility": 0})

    shown = [
        maker.get(LIST + query).context["table"].paginated_rows[0].get_cell("score")
        for query in ("", f"?campaign={campaign.pk}")
    ]

    # Alone in its collection: A 4 for no housing, C 5, B 4 for very delicate, or the middle 3 without weight.
    assert shown == ["13.0", "12.0"]
    assert numbers(maker, f"?campaign={campaign.pk}&score=from11") != []


def test_the_list_can_be_narrowed_to_a_campaign(maker):
    make_object()
    campaign = make_campaign(make_object(number="in"))

    assert numbers(maker, f"?campaign={campaign.pk}") == ["in"]


def test_one_object_and_three_take_as_many_queries(maker, django_assert_num_queries):
    make_housing(make_object(location=make_location()))
    maker.get(LIST)
    with CaptureQueriesContext(connection) as first:
        maker.get(LIST)
    make_housing(make_object(location=make_location()))
    make_housing(make_object(location=make_location()))

    with django_assert_num_queries(len(first)):
        maker.get(LIST)


def test_the_list_of_a_campaign_shows_batches_and_can_be_sorted_by_them(maker):
    late, other, soon = (make_object(number=number) for number in ("1", "2", "3"))
    campaign = make_campaign(late, soon)
    campaign.memberships.filter(object=late).update(batch=2)
    make_campaign(late, other)  # in another campaign it is in batch 1

    table = maker.get(f"{LIST}?campaign={campaign.pk}&sort=batch").context["table"]

    rows = [(row.record.number, row.get_cell("batch")) for row in table.paginated_rows]
    assert rows == [("3", 1), ("1", 2)]
    assert numbers(maker, f"?campaign={campaign.pk}&sort=-batch") == ["1", "3"]


def test_the_list_of_all_objects_shows_no_batches_but_can_be_narrowed_to_one(maker):
    make_campaign(make_object())

    shown = maker.get(LIST).context

    assert "batch" not in [column.name for column in shown["table"].columns]
    assert shown["filter"].form["batch"].label == "Batch"


def test_the_list_can_be_narrowed_to_a_batch_of_any_campaign_or_of_one(maker):
    first, second = make_object(number="1"), make_object(number="2")
    campaign, other = make_campaign(first, second), make_campaign(second)
    campaign.memberships.filter(object=first).update(batch=2)
    other.memberships.update(batch=2)

    found = [numbers(maker, query) for query in ("?batch=2", f"?batch=2&campaign={campaign.pk}")]

    assert found == [["1", "2"], ["1"]]


@pytest.mark.parametrize("batch", ["0", "1000", "1.5", "first"])
def test_a_batch_that_cannot_be_is_refused_beside_its_filter(maker, batch):
    answer = maker.get(f"{LIST}?batch={batch}")

    assert list(answer.context["filter"].form.errors) == ["batch"]


def test_one_object_of_a_campaign_and_three_take_as_many_queries(maker, django_assert_num_queries):
    campaign = make_campaign(make_object(location=make_location()))
    address = f"{LIST}?campaign={campaign.pk}&batch=1"
    maker.get(address)
    with CaptureQueriesContext(connection) as first:
        maker.get(address)
    campaign.objects_in_it.add(*(make_object(location=make_location()) for _ in range(2)))

    with django_assert_num_queries(len(first)):
        maker.get(address)


# ---- What can be done with objects -----------------------------------------------------------------------


def test_ticked_objects_join_a_campaign(maker):
    campaign, one = make_campaign(), make_object()
    make_object()

    answer = maker.post("/objects/act/", {"action": "add", "campaign": campaign.pk, "object": [one.pk]})

    assert answer.url == "/objects/?"
    assert list(campaign.objects_in_it.all()) == [one]


def test_all_that_match_the_filter_get_a_design(maker):
    campaign, design = make_campaign(), make_design()
    hat = make_object(classification="Textiles")
    make_object(classification="Ceramics")
    asked = {"action": "design", "campaign": campaign.pk, "design": design.pk, "all_matching": "on"}

    maker.post("/objects/act/", {**asked, "filter": "classification=Textiles"})

    assert list(CampaignObject.objects.values_list("object", "chosen_design")) == [(hat.pk, design.pk)]


def test_a_manager_sets_the_batch_of_ticked_objects(client):
    client.force_login(make_user("manager"))
    things = [make_object() for _ in range(3)]
    campaign = make_campaign(things[0], things[2], name="Move")
    asked = {"action": "batch", "campaign": campaign.pk, "batch": "2", "object": [t.pk for t in things[:2]]}

    answer = client.post("/objects/act/", asked, follow=True)

    batches = campaign.memberships.order_by("object").values_list("object", "batch")
    assert list(batches) == [(things[0].pk, 2), (things[1].pk, 2), (things[2].pk, 1)]
    assert [str(message) for message in answer.context["messages"]] == [
        "2 objects of “Move” will be cut with batch 2 when it is planned next."
    ]


def test_all_that_match_a_batch_are_moved_to_another(client):
    client.force_login(make_user("manager"))
    campaign = make_campaign(make_object(), make_object())
    campaign.memberships.filter(pk=campaign.memberships.first().pk).update(batch=3)
    asked = {"action": "batch", "campaign": campaign.pk, "batch": "2", "all_matching": "on"}

    client.post("/objects/act/", {**asked, "filter": f"campaign={campaign.pk}&batch=3"})

    assert sorted(campaign.memberships.values_list("batch", flat=True)) == [1, 2]


def test_ticked_objects_are_housed_together(maker):
    campaign, cup, saucer = make_campaign(), make_object(), make_object()

    maker.post(
        "/objects/act/", {"action": "together", "campaign": campaign.pk, "object": [cup.pk, saucer.pk]}
    )

    assert list(Housing.objects.get().objects_in_it.all()) == [cup, saucer]


def test_labels_of_ticked_objects_can_be_printed_by_anybody(client):
    client.force_login(make_user("viewer"))
    one = make_object()

    answer = client.post("/objects/act/", {"action": "labels", "object": [one.pk]})

    assert answer.url == f"{reverse('housing:print-labels')}?object={one.pk}"


@pytest.mark.parametrize(
    ("campaigns", "address", "chosen"),
    [
        (["One"], "/objects/", "One"),
        (["One", "Two"], "/objects/", None),
        (["One", "Two"], "/objects/?campaign=2", "Two"),
        (["One", "Closed"], "/objects/", "One"),
    ],
)
def test_the_campaign_that_can_be_told_is_chosen_already(maker, campaigns, address, chosen):
    for number, name in enumerate(campaigns, 1):
        make_campaign(pk=number, name=name, is_closed=name == "Closed")

    campaign = maker.get(address).context["form"]["campaign"].initial

    assert (campaign and campaign.name) == chosen


@pytest.mark.parametrize(
    ("asked", "sentence"),
    [
        ({"action": "add"}, "Choose the campaign first."),
        ({"action": "batch", "batch": "2"}, "Choose the campaign first."),
        ({"action": "labels"}, "No object is ticked. Tick the objects you mean, or choose all that match."),
    ],
)
def test_an_action_that_lacks_something_says_what(maker, asked, sentence):
    answer = maker.post("/objects/act/", asked, follow=True)

    assert [str(message) for message in answer.context["messages"]] == [sentence]


@pytest.mark.parametrize(
    ("batch", "sentence"),
    [
        ("", "Enter the number of the batch first."),
        ("0", "Batches are counted from 1."),
        ("1000", "Enter a batch of 999 or less."),
        ("soon", "Enter the batch as a whole number."),
    ],
)
def test_a_batch_that_cannot_be_is_not_set(client, batch, sentence):
    client.force_login(make_user("manager"))
    thing = make_object()
    asked = {"action": "batch", "campaign": make_campaign(thing).pk, "batch": batch, "object": [thing.pk]}

    answer = client.post("/objects/act/", asked, follow=True)

    assert [str(message) for message in answer.context["messages"]] == [sentence]
    assert CampaignObject.objects.get().batch == 1


def test_a_maker_sets_no_batch(maker):
    thing = make_object()
    asked = {"action": "batch", "campaign": make_campaign(thing).pk, "batch": "2", "object": [thing.pk]}

    answer = maker.post("/objects/act/", asked)

    assert (answer.status_code, CampaignObject.objects.get().batch) == (403, 1)
    assert "Set the batch" not in maker.get(LIST).text


def test_a_set_of_one_is_refused_and_nothing_is_stored(maker):
    campaign, one = make_campaign(), make_object()

    maker.post("/objects/act/", {"action": "together", "campaign": campaign.pk, "object": [one.pk]})

    assert (Housing.objects.count(), CampaignObject.objects.count()) == (0, 0)


def test_a_viewer_changes_no_campaign(client):
    client.force_login(make_user("viewer"))
    campaign, one = make_campaign(), make_object()

    answer = client.post("/objects/act/", {"action": "add", "campaign": campaign.pk, "object": [one.pk]})

    assert (answer.status_code, CampaignObject.objects.count()) == (403, 0)


def test_a_number_too_long_for_any_object_is_passed_over(maker):
    campaign, one = make_campaign(), make_object()

    maker.post("/objects/act/", {"action": "add", "campaign": campaign.pk, "object": [one.pk, "9" * 30]})

    assert list(campaign.objects_in_it.all()) == [one]


@pytest.mark.parametrize(
    ("number", "sentence"),
    [
        (1, "1 object of “Move” will follow the rules again when it is planned next."),
        (2, "2 objects of “Move” will follow the rules again when it is planned next."),
    ],
)
def test_one_object_is_spoken_of_as_one(maker, number, sentence):
    things = [make_object() for _ in range(number)]
    campaign = make_campaign(*things, name="Move")
    asked = {"action": "design", "campaign": campaign.pk, "object": [thing.pk for thing in things]}

    answer = maker.post("/objects/act/", asked, follow=True)

    assert [str(message) for message in answer.context["messages"]] == [sentence]


# ---- One object ------------------------------------------------------------------------------------------


def test_an_object_shows_its_size_its_box_and_its_cautions(maker):
    thing = make_object(hazards="arsenic; sharp")
    housing = make_housing(thing)

    page = maker.get(f"/objects/{thing.pk}/")

    assert page.context["next_steps"] == [("in_work", "Begin making it")]
    for words in ("10 × 8 3/4 × 7 1/8 in", "11 × 10 3/4 × 9 1/8 in", str(housing), "Arsenic, Sharp"):
        assert words in page.text


@pytest.mark.parametrize(("height_mm", "is_outdated"), [("254", False), ("279.4", True), (None, True)])
def test_a_box_worked_out_for_another_size_is_not_to_be_cut(maker, height_mm, is_outdated):
    thing = make_object()  # 254 mm high
    make_box(thing)

    thing.height_mm = height_mm and Decimal(height_mm)
    thing.size_state = "known" if height_mm else "missing"
    thing.save()

    page = maker.get(f"/objects/{thing.pk}/")
    assert page.context["is_outdated"] is is_outdated
    assert ("Do not cut it yet" in page.text) is is_outdated


@pytest.mark.parametrize(
    ("sides", "words"),
    [
        ({"width_mm": None}, "10 × — × 7 1/8 in"),
        ({"depth_mm": None}, "10 × 8 3/4 × — in"),
        ({"height_mm": None, "width_mm": None, "depth_mm": None}, "Not measured"),
    ],
)
def test_the_sides_that_are_known_are_shown_in_the_list_and_on_the_page(maker, sides, words):
    thing = make_object(**sides)

    assert maker.get(LIST).context["table"].paginated_rows[0].get_cell("size") == words
    assert f"<dd>{words}</dd>" in maker.get(f"/objects/{thing.pk}/").text


def test_cut_sheet_and_label_are_offered_once_there_are_blanks(maker):
    waiting, boxed = make_object(), make_object()
    make_housing(waiting, status="waiting", design=make_design())
    make_box(boxed)

    offered = ["/prints/labels/" in maker.get(f"/objects/{thing.pk}/").text for thing in (waiting, boxed)]

    assert offered == [False, True]


def test_an_object_without_a_box_says_what_to_do(maker):
    thing = make_object()

    assert "No box is planned for this object." in maker.get(f"/objects/{thing.pk}/").text


def test_a_missing_object_is_not_found(maker):
    assert maker.get("/objects/999/").status_code == 404


@pytest.mark.parametrize("address", ["/objects/", "/objects/1/"])
def test_nobody_reads_objects_without_signing_in(client, address):
    assert client.get(address).url == f"/accounts/login/?next={address}"


# ---- Moving a housing on ---------------------------------------------------------------------------------


def test_a_maker_takes_a_box_one_step_on_and_the_trail_says_who(maker):
    thing = make_object()
    housing = make_housing(thing)

    answer = maker.post(f"/housings/{housing.pk}/move/", {"status": "in_work", "note": "Started"})

    assert answer.url == f"/objects/{thing.pk}/"
    step = housing.events.last()
    assert (step.status, step.note, step.by.username[:5]) == ("in_work", "Started", "maker")


def test_a_dropped_box_leaves_its_object_unhoused(maker):
    thing = make_object(number="W")
    housing = make_housing(thing, status="made")

    maker.post(f"/housings/{housing.pk}/move/", {"status": "dropped", "confirmed": "yes"})

    assert numbers(maker, "?status=unhoused") == ["W"]


def test_a_step_that_does_not_follow_changes_nothing_and_says_why(maker):
    housing = make_housing()

    answer = maker.post(f"/housings/{housing.pk}/move/", {"status": "housed"}, follow=True)

    housing.refresh_from_db()
    assert housing.status == "planned"
    assert "cannot become “Housed” from there" in str(list(answer.context["messages"])[0])


def test_an_unknown_step_is_refused(maker):
    assert maker.post(f"/housings/{make_housing().pk}/move/", {"status": "lost"}).status_code == 400


def test_a_surveyor_moves_no_box(client):
    client.force_login(make_user("surveyor"))

    assert client.post(f"/housings/{make_housing().pk}/move/", {"status": "in_work"}).status_code == 403


def test_nobody_is_sent_to_another_site(maker):
    thing = make_object()
    housing = make_housing(thing)
    asked = {"status": "in_work", "next": "https://elsewhere.example/"}

    assert maker.post(f"/housings/{housing.pk}/move/", asked).url == f"/objects/{thing.pk}/"


def test_the_place_filtered_by_stays_chosen_and_its_name_is_escaped(maker):
    place = make_location("Bay <4>")

    page = maker.get(f"{LIST}?location={place.pk}")

    assert f'<option value="{place.pk}" selected>Bay &lt;4&gt;</option>' in page.text
