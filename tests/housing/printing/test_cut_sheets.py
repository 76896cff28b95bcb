"""Cut sheets: one page a box, with the figures of the worked tray, whatever the box and the paper."""

from decimal import Decimal
from io import BytesIO

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from pypdf import PdfReader

from housing.models import CuttingPlan, PlannedBlank, PlannedSheet
from housing.printing.asked import Asked
from housing.printing.cut_sheets import cut_sheet, cut_sheets_context
from housing.printing.papers import PAPERS
from housing.printing.pdfs import make_print
from housing.queries.prints import boxes_to_print
from objects.readers import Reader
from tests.factories import (
    make_board,
    make_campaign,
    make_design,
    make_location,
    make_object,
    make_sheet_size,
)
from tests.housing.printing.boxes import make_box

pytestmark = pytest.mark.django_db
SITE = "https://planner.example/"  # RFC 2606 keeps example names free


def sheet_of(housing, unit="in", paper="A4"):
    [kept] = boxes_to_print([housing.pk])
    return cut_sheet(kept, Reader(unit, paper), PAPERS[paper], SITE)


def printed(*housings, unit="in", paper="A4"):
    keys = tuple(housing.pk for housing in housings)
    asked = Asked("cut_sheets", keys, Reader(unit, paper), PAPERS[paper], SITE)
    return PdfReader(BytesIO(make_print(asked=asked, progress=lambda percent, stage: None))).pages


def lay_on_sheet(housing, *, position, x_mm, y_mm):
    """Give all blanks of a box the same place on a sheet of a cutting plan of its campaign."""
    housing.campaign = make_campaign(*housing.objects_in_it.all())
    housing.save()
    plan = CuttingPlan.objects.create(campaign=housing.campaign, kerf_mm=1, trim_mm=5)
    size = make_sheet_size(board=housing.design.board, along_mm=Decimal(1500 + housing.pk))
    sheet = PlannedSheet.objects.create(
        plan=plan, position=position, board=size.board, sheet_size=size,
        along_mm=size.along_mm, across_mm=size.across_mm, price=size.price,
    )  # fmt: skip
    for blank in housing.blanks.all():
        PlannedBlank.objects.create(
            sheet=sheet,
            blank=blank,
            x_mm=Decimal(x_mm),
            y_mm=Decimal(y_mm),
            along_mm=blank.x_mm,
            across_mm=blank.y_mm,
        )


def lay_in_corner(small, big, *, x_mm, y_mm) -> PlannedBlank:
    """Lay a box on sheet 7 and all blanks of another in one corner of its first blank, 400 mm square."""
    lay_on_sheet(big, position=7, x_mm="5", y_mm="5")
    host = PlannedBlank.objects.filter(blank__housing=big).first()
    PlannedBlank.objects.filter(pk=host.pk).update(along_mm=400, across_mm=400)
    for blank in small.blanks.all():
        PlannedBlank.objects.create(
            sheet=host.sheet, blank=blank, x_mm=x_mm, y_mm=y_mm, along_mm=90, across_mm=80, host=host
        )
    return host


def awkward_boxes():
    """Tiny, long, tall, many in one, an open tray, and one with every hazard and long names."""
    inch = make_design(padding="washed cotton flannel over polyester wadding, tied with cotton tape")
    hazards = "arsenic; mercury; pesticide; lead; asbestos; radioactive; nitrate; mould; sharp; battery"
    shelf = make_location("Main building / Store 2 / Bay 14 / Shelf C")
    return [
        make_box(make_object(height_mm=Decimal(12), width_mm=Decimal(20), depth_mm=Decimal(15)), design=inch),
        make_box(
            make_object(
                number="TX.1998.0042.0117.3a-f-long-number",
                name="Standard with painted shaft, horsehair tassel, brass finial and its own pine case " * 2,
                width_mm=Decimal("2280.3"),
                depth_mm=Decimal("340.7"),
                weight_g=Decimal(24_000),
                hazards=hazards,
                location=shelf,
            ),
            design=inch,
        ),
        make_box(make_object(height_mm=Decimal(900), width_mm=Decimal("333.3")), design=inch),
        make_box(*(make_object() for _ in range(5)), design=inch),
        make_box(make_object(), design=make_design(form="tray")),
    ]


def test_the_worked_tray_has_the_marks_of_hand_practice():
    sheet = sheet_of(make_box())

    # Common practice, no source: an object 10 x 8 3/4 x 7 1/8 in with 1 in all round gives these
    base = sheet.parts[0]
    assert (base.size, base.marks_x) == ("32 3/4 × 31 1/8 in", "0, 11, 21 3/4, 32 3/4 in")
    assert base.marks_y == "0, 11, 20 1/8, 31 1/8 in"
    # flaps 2 1/2 in from the score, their hinges one caliper (1/8 in) outside it
    assert [(row.edge, plain(row.at), row.what) for row in base.cuts] == [
        ("left", "8 1/2, 24 1/4", "flap end"),
        ("near", "11, 20 1/8", "slit"),
    ]
    assert [(row.edge, plain(row.at), plain(row.runs), row.what) for row in base.scores] == [
        ("left", "11, 21 3/4", "11 to 20 1/8", "wall"),
        ("near", "11, 20 1/8", "11 to 21 3/4", "wall"),
        ("left", "10 7/8, 21 7/8", "0 to 11, 20 1/8 to 31 1/8", "flap"),
    ]


def plain(text: str) -> str:
    """Text as it reads, whatever keeps it from breaking."""
    return text.replace("\u00a0", " ")


@pytest.mark.pango
def test_the_printed_sheet_says_the_marks_and_which_object_it_is_for():
    thing = make_object(number="1995.4.3", name="Lidded jar", location=make_location("Store 2"))

    [page] = printed(make_box(thing))

    text = " ".join(page.extract_text().split())
    for words in ("1995.4.3", "Lidded jar", "Store 2", "0, 11, 21 3/4, 32 3/4 in", "Box ", "4 inches long"):
        assert words in text


@pytest.mark.pango
@pytest.mark.parametrize(
    ("paper", "unit", "sides_mm"),
    # ISO 216; US Letter is 8 1/2 x 11 in. Figures in inches are the longer ones, and A4 the narrower paper.
    [("A4", "in", (210, 297)), ("letter", "mm", (8.5 * 25.4, 11 * 25.4))],
)
def test_every_box_has_exactly_one_page_of_the_right_size(paper, unit, sides_mm):
    boxes = [make_box(), *awkward_boxes()]

    pages = printed(*boxes, unit=unit, paper=paper)

    assert [box.box_number in page.extract_text() for box, page in zip(boxes, pages, strict=True)] == [
        True
    ] * 6
    for page in pages:
        assert "If your ruler says otherwise" in page.extract_text()
        assert [float(side) * 25.4 / 72 for side in page.mediabox[2:]] == pytest.approx(sides_mm, abs=0.1)


@pytest.mark.parametrize("unit", ["in", "mm"])
@pytest.mark.parametrize("paper", ["A4", "letter"])
def test_every_blank_is_drawn(paper, unit):
    sheets = [sheet_of(box, unit, paper) for box in awkward_boxes()]

    assert [[bool(part.drawing) for part in sheet.parts] for sheet in sheets] == [[True, True]] * 4 + [[True]]


@pytest.mark.pango
def test_a_planned_blank_says_its_sheet_and_place_and_still_fits_its_page():
    boxes = awkward_boxes()
    for box in boxes:
        lay_on_sheet(box, position=7, x_mm="25.4", y_mm="50.8")

    pages = printed(*boxes, paper="letter")

    text = " ".join(pages[0].extract_text().split())
    # by hand: 25.4 mm is 1 in, 50.8 mm is 2 in
    assert "out of sheet 7 of the cutting plan, 1 in along and 2 in across from the sheet's corner" in text
    assert "cutting plan of" in text
    assert len(pages) == len(boxes)


@pytest.mark.parametrize(
    ("x_mm", "y_mm", "corner"),
    [(305, 305, "far right"), (5, 305, "far left"), (305, 5, "near right"), (5, 5, "near left")],
)
def test_a_blank_out_of_a_corner_says_whose_corner_and_what_comes_first(x_mm, y_mm, corner):
    big, small = make_box(make_object(number="1995.4.3")), make_box(make_object(number="2001.7"))
    host = lay_in_corner(small, big, x_mm=x_mm, y_mm=y_mm)

    step = sheet_of(small).steps[0]

    assert step.split(" out of ")[1] == (
        f"the {corner} waste corner of 1995.4.3 {host.blank.part} on sheet 7 of the cutting plan: cut that "
        "blank out and trim its corners first."
    )


def test_a_lid_may_come_out_of_a_corner_of_its_own_base():
    box = make_box(make_object(number="1995.4.3"))
    base, lid = box.blanks.all()
    lay_on_sheet(box, position=7, x_mm="5", y_mm="5")
    lid.placements.update(host=base.placements.get())

    steps = sheet_of(box).steps

    assert "in along and" in steps[0]
    assert f"waste corner of 1995.4.3 {base.part} on sheet 7" in steps[1]


def test_more_blanks_out_of_corners_take_no_more_queries():
    boxes = [make_box(make_object(number=f"S-{number}")) for number in range(3)]
    for box in boxes:
        lay_in_corner(box, make_box(), x_mm=305, y_mm=305)
    counts = []

    for some in (boxes[:1], boxes):
        with CaptureQueriesContext(connection) as queries:
            cut_sheets_context(
                boxes_to_print([box.pk for box in some]), Reader("in", "A4"), PAPERS["A4"], SITE
            )
        counts.append(len(queries))

    assert counts[0] == counts[1]


def test_hazards_and_weight_are_cautioned_against():
    thing = make_object(hazards="arsenic; nitrate", weight_g=Decimal(12_001))

    cautions = sheet_of(make_box(thing)).cautions

    assert [caution.split(":")[0] for caution in cautions] == [
        "Hazards",
        "No hot glue near cellulose nitrate",
        "Two people",
        "Knife",
        "Hot glue burns",
    ]
    assert "Arsenic, Cellulose nitrate. Follow local codes" in cautions[0]


def test_a_sheet_of_a_box_for_another_size_says_not_to_cut():
    thing = make_object()
    box = make_box(thing)
    before = sheet_of(box).notes

    thing.width_mm += 1
    thing.save()

    assert [note for note in sheet_of(box).notes if note not in before] == [
        "Do not cut: the size, the design or the board was changed since. Plan the campaign again first."
    ]


def test_twelve_kilograms_are_carried_by_one():
    cautions = sheet_of(make_box(make_object(weight_g=Decimal(12_000)))).cautions

    assert [caution.split(":")[0] for caution in cautions] == ["Knife", "Hot glue burns"]


@pytest.mark.parametrize(("fold_share", "face"), [("0", "outside"), ("0.5", "inside"), ("1", "inside")])
def test_scores_are_on_the_face_the_board_is_folded_by(fold_share, face):
    design = make_design(board=make_board(fold_share=fold_share))

    assert sheet_of(make_box(design=design)).face == face


def test_parts_alike_are_drawn_once_and_each_has_its_place():
    design = make_design(form="divided_tray", options={"cells_x": 4, "cells_y": 1})

    sheet = sheet_of(make_box(make_object(), design=design))

    assert [part.name for part in sheet.parts] == ["Tray", "Cross divider 1 and 2 more alike"]
    places = [step for step in sheet.steps if step.startswith("Cut the ")]
    assert [step.split(" out of")[0] for step in places] == [
        "Cut the tray", "Cut the cross divider 1", "Cut the cross divider 2", "Cut the cross divider 3",
    ]  # fmt: skip


def test_sheet_lists_openings_and_what_else_is_needed():
    design = make_design(form="carrying_tray")
    tube = make_design(form="rolled_tube")

    tray = sheet_of(make_box(make_object(), design=design))
    roll = sheet_of(make_box(make_object(height_mm=Decimal(2)), design=tube))

    assert [row.split(":")[0] for row in tray.parts[0].openings] == ["hand hole", "hand hole"]
    assert roll.supplies[0].startswith("acid-free tube, ")
    assert any("out of washed cotton or polyester film" in step for step in roll.steps)
