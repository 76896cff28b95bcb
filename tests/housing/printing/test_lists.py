"""Lists that go with boxes: what is fetched on which way, what stands on a shelf, what a batch needs."""

from datetime import date
from decimal import Decimal
from io import BytesIO

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from pypdf import PdfReader

from housing.printing.batch_cover import batch_cover_context
from housing.printing.box_list import box_lists_context, height_mm
from housing.printing.papers import PAPERS
from housing.printing.pick_list import pick_list_context
from housing.queries.prints import in_order, selected_objects, shelves_of
from objects.models import CatalogueObject
from objects.readers import Reader
from tests.factories import make_campaign, make_location, make_object, make_person, make_sheet, make_tasks
from tests.housing.printing.boxes import make_box

pytestmark = pytest.mark.django_db
A4, METRIC = PAPERS["A4"], Reader("mm", "A4")
LISTS = ("housing:print-pick-list", "housing:print-box-lists", "housing:print-batch-cover")
everything = CatalogueObject.objects.all


def pick_list() -> dict:
    return pick_list_context(in_order(everything()), METRIC, A4)


def test_things_are_fetched_in_the_order_of_the_places_as_one_walks():
    # common practice, no source: Bay 2 before Bay 10, and what has no place comes last
    far, near = make_location("Bay 10"), make_location("Bay 2")
    for number, place in (("1", far), ("2", None), ("3", near), ("4", far)):
        make_object(number=number, location=place)

    stops = pick_list()["stops"]

    assert [(stop.place, [row.number for row in stop.rows]) for stop in stops] == [
        ("Bay 2", ["3"]), ("Bay 10", ["1", "4"]), ("No place known", ["2"]),
    ]  # fmt: skip


def test_a_pick_list_says_what_to_heed_in_lifting():
    make_object(number="1", weight_g=Decimal(13_000), condition="fragile", hazards="lead")
    make_object(number="2", weight_g=Decimal(500))
    make_object(number="3", weight_g=None, height_mm=None)

    heavy, light, unknown = [row for stop in pick_list()["stops"] for row in stop.rows]

    # 12 kg is where the labels ask for two people, from 7 kg on they say the weight
    assert [mark.words for mark in heavy.heed] == ["Fragile, handle with care", "Two people", "13 kg"]
    assert heavy.hazards == "Lead"
    assert (light.heed, light.hazards) == ((), "")
    assert (unknown.size, unknown.weight) == ("not measured", "weight not known")


def test_a_pick_list_names_the_box_that_is_made_for_each():
    boxed, bare = make_object(number="1"), make_object(number="2")
    box = make_box(boxed)

    rows = [row for stop in pick_list()["stops"] for row in stop.rows]

    assert [(row.number, row.box) for row in rows] == [(boxed.number, box.box_number), (bare.number, "")]


def test_every_shelf_has_its_list_of_boxes_with_what_is_in_them():
    far, near = make_location("Bay 10"), make_location("Bay 2")
    first, second = make_object(number="1", location=far, name="Bowl"), make_object(number="2", location=far)
    make_object(number="3", location=near)
    together = make_box(first, second)
    alone = make_box(make_object(number="4", location=near, name="Jar"))

    shelves = box_lists_context(shelves_of(everything()), A4)["shelves"]

    assert [(shelf.place, [(line.box, line.numbers) for line in shelf.lines]) for shelf in shelves] == [
        ("Bay 2", [(alone.box_number, "4")]),
        ("Bay 10", [(together.box_number, "1, 2")]),
    ]


def test_a_list_that_is_too_long_for_half_a_page_gets_a_whole_one():
    shelf = make_location("Shelf with a great many boxes")
    boxes = [make_box(make_object(location=shelf)) for _ in range(3)]
    [short] = box_lists_context(shelves_of(everything()), A4)["shelves"]

    # by hand: half of 297 mm less the margins is 134.5; 40 rows of 7.9 mm are 316 mm
    assert short.is_half
    assert height_mm(short.place, short.lines[:1] * 40, A4) > 316
    assert len(boxes) == len(short.lines)


def test_a_batch_tells_who_makes_what_by_when_from_which_sheets():
    ana, thing = make_person(name="Ana Costa"), make_object(hazards="arsenic")
    # 2026-11-30 is a Monday; ISO 8601
    campaign = make_campaign(thing, work_from=date(2026, 11, 30))
    box = make_box(thing)
    box.campaign = campaign
    box.save()
    make_tasks(box, "cut", "score", "glue", person=ana, week=2)
    make_tasks(box, "fit", person=make_person(), week=3)
    sheet = make_sheet(box, part="second")

    cover = batch_cover_context(
        [box.pk], METRIC, A4, "http://planner.example/", campaign=campaign.pk, person=ana.pk, week=2
    )

    # three steps of 10 minutes are half an hour; the second week ends on Sunday, 13 December
    assert (str(cover["person"]), cover["hours"], cover["due"]) == ("Ana Costa", "0.5", date(2026, 12, 13))
    [line] = cover["lines"]
    assert (line.box, line.sheets, line.hazards) == (box.box_number, str(sheet.position), "Arsenic")
    # the sheet of the factory: 60 x 40 in = 1524 x 1016 mm
    assert cover["materials"] == [(f"{sheet.board.code}, 1524 × 1016 mm", 1, str(sheet.position))]


def test_sheets_that_are_cut_are_not_fetched_again():
    box = make_box()
    box.campaign = make_campaign()
    box.save()
    make_sheet(box, part="second", cut_at="2026-11-30T10:00:00Z")

    assert batch_cover_context([box.pk], METRIC, A4, "http://planner.example/")["materials"] == []


def test_a_week_alone_selects_what_somebody_does_in_it():
    things = [make_object() for _ in range(2)]
    for thing, week in zip(things, (1, 2), strict=True):
        make_tasks(make_box(thing), "cut", week=week)

    assert list(selected_objects(week=2)) == [things[1]]


@pytest.mark.parametrize("name", LISTS)
def test_lists_are_pages_without_styles_or_scripts_of_their_own(viewer, name):
    thing = make_object(number="1995.4.3", location=make_location("Bay 2"))
    make_box(thing)

    answer = viewer.get(reverse(name), {"object": thing.pk})

    page = answer.content.decode()
    assert answer.status_code == 200
    assert "1995.4.3" in page
    assert " style=" not in page


@pytest.mark.pango
@pytest.mark.parametrize("name", LISTS)
def test_lists_are_pdf_files_with_text(viewer, name):
    thing = make_object(number="1995.4.3", location=make_location("Bay 2"), hazards="lead")
    box = make_box(thing)

    file = viewer.get(reverse(name), {"object": thing.pk, "format": "pdf"}).content

    text = " ".join(page.extract_text() for page in PdfReader(BytesIO(file)).pages)
    assert "1995.4.3" in text and box.box_number in text


@pytest.mark.parametrize("name", LISTS)
def test_more_objects_take_no_more_queries(viewer, name):
    things = [make_object(location=make_location()) for _ in range(4)]
    for thing in things:
        make_box(thing)
    counts = []

    for some in (things[:1], things):
        viewer.get(reverse(name), {"object": [thing.pk for thing in some]})  # gives the boxes their codes
        with CaptureQueriesContext(connection) as queries:
            viewer.get(reverse(name), {"object": [thing.pk for thing in some]})
        counts.append(len(queries))

    assert counts[0] == counts[1]
