"""What is unhoused and where, and stating the need of one object or of many."""

import csv
from io import StringIO

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from objects.models import CatalogueObject, NeedStatement
from tests.factories import make_campaign, make_housing, make_location, make_object, make_user

pytestmark = pytest.mark.django_db
PAGE = "/need/"


@pytest.fixture
def surveyor(client):
    client.force_login(make_user("surveyor", first_name="Ann", last_name="Brook"))
    return client


def rows(client, query: str = "") -> list[tuple]:
    """(Group, still unhoused, of objects) of each row as it stands."""
    table = client.get(PAGE + query).context["table"]
    return [(row.record.label, row.record.still, row.record.objects) for row in table.paginated_rows]


def store():
    """Two rooms in one building: three objects on a shelf of the first, one in the second itself."""
    building = make_location("Mill")
    room, loft = make_location("Room", parent=building), make_location("Loft", parent=building)
    shelf = make_location("Shelf 1", parent=room)
    for _ in range(2):
        make_object(location=shelf)
    make_object(location=shelf, present_housing="poor", classification="Textiles", priority="A")
    make_object(location=loft, present_housing="good", surveyed_at=timezone.now())
    return building, room, shelf


# ---- The page --------------------------------------------------------------------------------------------


def test_rooms_are_shown_with_the_most_unhoused_first(viewer):
    store()

    assert rows(viewer) == [("Mill / Room", 3, 3), ("Mill / Loft", 0, 1)]


def test_a_place_is_looked_into_and_the_way_back_is_shown(viewer):
    building, room, _ = store()
    make_object(location=room)

    page = viewer.get(f"{PAGE}?location={room.pk}")

    assert rows(viewer, f"?location={room.pk}") == [("Shelf 1", 3, 3), ("In the place itself", 1, 1)]
    assert page.context["above"] == [building, room]
    assert "Mill / Room" in {row.record.label for row in viewer.get(PAGE).context["table"].rows}


@pytest.mark.parametrize(
    ("by", "expected"),
    [
        ("classification", [("Ceramics", 2, 3), ("Textiles", 1, 1)]),
        ("priority", [("A: first", 1, 1), ("B: next", 2, 3)]),
        # By hand, 4 ordinary objects: C 5 - 0.60 = 4.40; B 3; A 4 with no housing, 3.5 poor, 1.5 good:
        # 11.40, 10.90 and 8.90.
        ("score", [("11 and more", 2, 2), ("10 to 11", 1, 1), ("8 to 9", 0, 1)]),
    ],
)
def test_objects_are_divided_by_kind_class_and_score(viewer, by, expected):
    store()

    assert rows(viewer, f"?by={by}") == expected


@pytest.mark.parametrize("by", ["location", "classification", "priority", "score"])
def test_every_count_leads_to_as_many_objects(viewer, by):
    _, room, _ = store()
    make_object(classification="", location=None, depth_mm=None)
    make_object(location=room)
    make_housing(make_object(location=room), status="made")

    for query in (f"?by={by}", f"?by={by}&location={room.pk}"):
        table = viewer.get(PAGE + query).context["table"]
        for row in table.paginated_rows:
            for name in ("still", "unhoused", "poorly_housed", "in_hand", "not_surveyed", "not_measured"):
                count = getattr(row.record, name)
                cell = row.get_cell(name)
                if count:
                    address = cell.split('"')[1].replace("&amp;", "&")
                    assert viewer.get(address).context["number"] == count, (query, row.record.label, name)
                else:
                    assert cell == "0"


def test_what_is_in_all_stands_at_the_head(viewer):
    store()

    total = viewer.get(PAGE).context["total"]

    assert (total.unhoused, total.poorly_housed, total.still, total.objects) == (2, 1, 3, 4)
    assert (total.not_surveyed, total.not_measured) == (3, 0)


def test_the_picture_shows_the_same_counts(viewer):
    store()

    bars = viewer.get(PAGE).context["chart"].bars

    assert [(bar.label, bar.counts, bar.note) for bar in bars] == [
        ("Mill / Room", {"unhoused": 2, "poorly_housed": 1}, "3 of 3"),
    ]


def test_a_box_in_hand_leaves_the_object_as_it_is_housed_meanwhile(viewer):
    for present_housing in ("none", "poor", "adequate"):
        make_housing(make_object(present_housing=present_housing))

    page = viewer.get(PAGE)

    total = page.context["total"]
    assert (total.still, total.unhoused, total.poorly_housed, total.otherwise, total.in_hand) == (
        3,
        1,
        1,
        1,
        3,
    )
    assert "For 1 a box is in hand although what they lie in is adequate" in page.text
    assert [part.key for part in page.context["chart"].series] == [
        "unhoused", "poorly_housed", "housed_before",
    ]  # fmt: skip


def test_an_empty_museum_is_told_what_to_do(viewer):
    assert "As soon as objects are here, this page counts" in viewer.get(PAGE).text


@pytest.mark.parametrize("query", ["?by=colour", "?location=999", "?location=x"])
def test_what_cannot_be_divided_by_is_refused_beside_its_field(viewer, query):
    store()

    page = viewer.get(PAGE + query)

    assert page.status_code == 200
    assert page.context["form"].errors
    assert page.context["by"] == "location"


def test_one_place_and_three_take_as_many_queries(viewer, django_assert_num_queries):
    make_object(location=make_location())
    viewer.get(PAGE)
    with CaptureQueriesContext(connection) as first:
        viewer.get(PAGE)
    for _ in range(2):
        make_object(location=make_location(), classification="Textiles")

    with django_assert_num_queries(len(first)):
        viewer.get(PAGE)


# ---- The file --------------------------------------------------------------------------------------------


def test_the_table_comes_as_a_file_that_runs_no_formula(viewer):
    make_object(classification="=1+2", present_housing="poor")
    make_object(classification="Textiles")

    answer = viewer.get(f"{PAGE}table.csv?by=classification")

    assert answer["Content-Disposition"] == 'attachment; filename="unhoused by classification.csv"'
    assert list(csv.reader(StringIO(answer.content.decode("utf-8-sig")))) == [
        ["Classification", "Still unhoused", "No housing", "Poorly housed", "Box in hand", "Not surveyed",
         "Not measured", "Of objects"],
        ["'=1+2", "1", "0", "1", "0", "1", "0", "1"],
        ["Textiles", "1", "1", "0", "0", "1", "0", "1"],
    ]  # fmt: skip


# ---- Stating a need --------------------------------------------------------------------------------------


def test_a_surveyor_states_the_need_on_the_objects_page(surveyor):
    thing = make_object()

    answer = surveyor.post(f"/objects/{thing.pk}/need/", {"need": "not_needed", "need_note": "Cast iron."})

    assert answer.url == f"/objects/{thing.pk}/#need"
    page = surveyor.get(f"/objects/{thing.pk}/").text
    assert "Stated by Ann Brook on " in page
    assert ": Cast iron." in page
    assert list(NeedStatement.objects.values_list("need", flat=True)) == ["not_needed"]


def test_what_was_stated_is_taken_back(surveyor):
    thing = make_object(need_by_hand="poor", need_note="Damp")

    surveyor.post(f"/objects/{thing.pk}/need/", {"need": "", "need_note": ""})

    thing.refresh_from_db()
    assert (thing.need_by_hand, thing.version) == ("", 2)


@pytest.mark.parametrize(
    ("sent", "sentence"),
    [
        ({"need": "poor"}, "Say in a few words why the need is stated over what the present housing says."),
        ({"need": "lost", "need_note": "x"}, "“lost” is no housing need. Choose one of the list."),
        ({"need": "poor", "need_note": "x" * 301}, "The note is too long: 301 characters, at most 300."),
    ],
)
def test_a_need_that_cannot_be_stated_says_why(surveyor, sent, sentence):
    thing = make_object()

    answer = surveyor.post(f"/objects/{thing.pk}/need/", sent, follow=True)

    thing.refresh_from_db()
    assert [str(message) for message in answer.context["messages"]] == [sentence]
    assert thing.need_by_hand == ""


def test_ticked_objects_get_one_need(surveyor):
    things = [make_object() for _ in range(3)]
    sent = {
        "need": "not_needed",
        "need_note": "Iron.",
        "object": [t.pk for t in things[:2]],
        "filter": "q=Bowl",
    }

    answer = surveyor.post("/need/state/", sent, follow=True)

    assert answer.redirect_chain == [("/objects/?q=Bowl", 302)]
    assert [str(message) for message in answer.context["messages"]] == [
        "“Needs no housing” is noted for 2 objects."
    ]
    assert [t.need_by_hand for t in CatalogueObject.objects.order_by("pk")] == [
        "not_needed",
        "not_needed",
        "",
    ]


def test_all_that_match_get_one_need(surveyor):
    make_object(classification="Tools")
    make_object(classification="Glass")
    sent = {"need": "poor", "need_note": "Damp.", "all_matching": "on", "filter": "classification=Tools"}

    surveyor.post("/need/state/", sent)

    assert list(
        CatalogueObject.objects.exclude(need_by_hand="").values_list("classification", flat=True)
    ) == ["Tools"]


def test_without_a_tick_nothing_is_stated(surveyor):
    make_object()

    answer = surveyor.post("/need/state/", {"need": "poor", "need_note": "Damp."}, follow=True)

    assert [str(message) for message in answer.context["messages"]] == [
        "No object is ticked. Tick the objects you mean, or choose all that match."
    ]


def test_an_object_in_its_box_keeps_its_need(surveyor):
    thing = make_object()
    make_housing(thing, status="housed")

    answer = surveyor.post(f"/objects/{thing.pk}/need/", {"need": "poor", "need_note": "Damp."}, follow=True)

    assert "lies in a box made for it. Nothing is stored." in str(list(answer.context["messages"])[0])


@pytest.mark.parametrize("address", ["/objects/{pk}/need/", "/need/state/"])
def test_a_viewer_states_no_need(viewer, address):
    thing = make_object()

    answer = viewer.post(
        address.format(pk=thing.pk), {"need": "poor", "need_note": "Damp.", "object": thing.pk}
    )

    assert (answer.status_code, CatalogueObject.objects.get().need_by_hand) == (403, "")
    assert "State the need" not in viewer.get(f"/objects/{thing.pk}/").text
    assert "State the need" not in viewer.get("/objects/").text


def test_a_missing_object_has_no_need(surveyor):
    assert surveyor.post("/objects/999/need/", {"need": ""}).status_code == 404


@pytest.mark.parametrize("address", [PAGE, f"{PAGE}table.csv"])
def test_nobody_reads_it_without_signing_in(client, address):
    assert client.get(address).url == f"/accounts/login/?next={address}"


# ---- The object's page -----------------------------------------------------------------------------------


def test_an_object_shows_why_it_stands_where_it_stands(viewer):
    other = make_object(priority="A")
    thing = make_object(
        number="W", fragility="delicate", condition="poor", use="weekly", significance="high", hazards="lead"
    )
    make_campaign(other, thing, name="Move")

    page = viewer.get(f"/objects/{thing.pk}/").text

    # By hand: worth 1 + 10 = 11 ordinary objects, 5 - 1.04 = 3.96, high + 1: C 4.96. A 4 + 1 = 5.
    # B 3.5 + 0.5 = 4.
    # 13.96, and 0.5 for people: 14.46.
    assert "<b>Number 2 of 2</b>" in page
    assert "<b>14.5</b>" in page
    assert "High and well known: house it soon." not in page  # the second of two is in the lower half
    assert "Low and well known: it can wait. Not recorded: fragile parts that project." in page


def test_a_housed_object_has_no_place_in_the_order(viewer):
    thing = make_object()
    box = make_housing(thing, status="housed")

    page = viewer.get(f"/objects/{thing.pk}/").text

    assert "It waits for no box, so it has no place in the order." in page
    assert f"In {box}, which was made for it." in page


def test_a_box_in_hand_for_what_needs_none_is_pointed_out(viewer):
    thing = make_object(need_by_hand="not_needed", need_note="Cast iron.")
    make_housing(thing)

    page = viewer.get(f"/objects/{thing.pk}/").text

    assert "A box is in hand for it all the same. If it is not wanted, drop it." in page
    assert "house it soon" not in page


def test_what_is_taken_back_where_nothing_was_said_is_told(surveyor):
    thing = make_object()

    answer = surveyor.post("/need/state/", {"need": "", "object": thing.pk}, follow=True)

    assert [str(message) for message in answer.context["messages"]] == [
        "Nothing was said of their need, so nothing is taken back."
    ]


def test_needs_and_facts_are_entered_on_the_edit_page(surveyor):
    thing = make_object()
    sent = {
        "number": thing.number, "name": thing.name, "quantity": 1, "priority": "B", "version": 1,
        "present_housing": "none", "fragility": "delicate", "projecting_parts": "Spout", "use": "weekly",
        "significance": "high", "need_by_hand": "poor", "need_note": "Damp.",
    }  # fmt: skip

    surveyor.post(f"/catalogue/{thing.pk}/edit/", sent)

    thing.refresh_from_db()
    assert (thing.fragility, thing.projecting_parts, thing.use, thing.significance) == (
        "delicate", "Spout", "weekly", "high",
    )  # fmt: skip
    assert (thing.need_by_hand, thing.need_note, thing.need_said_by.first_name) == ("poor", "Damp.", "Ann")
    assert NeedStatement.objects.get().note == "Damp."


def test_a_need_without_a_note_is_refused_on_the_edit_page(surveyor):
    thing = make_object()
    sent = {
        "number": "1", "name": "Jar", "quantity": 1, "priority": "B", "version": 1, "need_by_hand": "poor",
        "present_housing": "none",
    }  # fmt: skip

    page = surveyor.post(f"/catalogue/{thing.pk}/edit/", sent)

    assert page.context["form"].errors == {
        "need_note": ["Say in a few words why, or leave the need to the present housing."]
    }
