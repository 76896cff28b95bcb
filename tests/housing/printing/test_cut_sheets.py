"""Cut sheets: what they say of a box, with the figures of the worked tray, whatever the box and the paper."""

import re
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


def sheet_of(housing, unit="in", paper="A4", hand="right"):
    [kept] = boxes_to_print([housing.pk])
    return cut_sheet(kept, Reader(unit, paper, hand=hand), PAPERS[paper], SITE, "Ada Maker")


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
    assert (base.size, plain(base.marks_x)) == ("32 3/4 × 31 1/8 in", "0, 11, 21 3/4, 32 3/4 in")
    assert plain(base.marks_y) == "0, 11, 20 1/8, 31 1/8 in"
    # flaps 2 1/2 in from the score, their hinges one caliper (1/8 in) outside it
    assert [(row.edge, plain(row.at), row.what) for row in base.cuts] == [
        ("near", "11, 20 1/8", "slit, across"),
        ("left", "8 1/2, 24 1/4", "flap end, along"),
    ]
    assert [row.numbers for row in base.cuts] == ["1, 2", "3, 4"]
    assert [(row.edge, plain(row.at), plain(row.runs), row.what) for row in base.scores] == [
        ("left", "11, 21 3/4", "11 to 20 1/8", "wall"),
        ("near", "11, 20 1/8", "11 to 21 3/4", "wall"),
        ("left", "10 7/8, 21 7/8", "0 to 11, 20 1/8 to 31 1/8", "flap"),
    ]


def test_a_left_handed_maker_measures_from_the_right_edge():
    base = sheet_of(make_box(), hand="left").parts[0]

    # By hand from the marks above, counted from 32 3/4: 32 3/4 - 21 3/4 = 11 and back; the ends of
    # the flaps 32 3/4 - 8 1/2 = 24 1/4 and 32 3/4 - 24 1/4 = 8 1/2. Along the sides nothing changes.
    assert plain(base.marks_x) == "0, 11, 21 3/4, 32 3/4 in"
    assert [(row.edge, plain(row.at)) for row in base.cuts] == [
        ("near", "11, 20 1/8"),
        ("right", "24 1/4, 8 1/2"),
    ]


def test_glue_joints_are_named_in_the_order_of_their_numbers():
    steps = sheet_of(make_box()).steps

    [glued] = [step for step in steps if "glue" in step]
    assert glued.startswith(
        "Base and lid: glue in the order of the squares: flaps 1, 2 to left wall; flaps 3, 4"
    )


def test_the_shift_for_thickness_is_told_in_the_readers_unit():
    # By hand: creased board 1/8 in thick loses half of it, 1/16 in; its flaps fold an eighth beside the wall.
    compensated = sheet_of(make_box(design=make_design()))

    assert compensated.shifts[0].startswith("Shift for thickness: each fold takes 1/16 in off the inside")
    assert compensated.shifts[1].startswith("Flaps fold 1/8 in beside")


# ---- Versions --------------------------------------------------------------------------------------------


def test_the_version_is_the_same_for_every_reader():
    box = make_box()

    versions = {
        sheet_of(box, unit, paper, hand).version
        for unit, paper, hand in (("in", "A4", "right"), ("mm", "letter", "left"))
    }

    assert len(versions) == 1


@pytest.mark.parametrize("change", ["board", "place", "padding", "hazard", "shelf", "blank"])
def test_what_the_maker_is_told_otherwise_has_another_version(change):
    thing = make_object(location=make_location("Store 2"))
    box = make_box(thing)
    lay_on_sheet(box, position=7, x_mm="5", y_mm="5")
    before = sheet_of(box).version

    if change == "board":
        box.design.board.caliper_mm += Decimal("0.5")
        box.design.board.save()
    elif change == "place":
        PlannedBlank.objects.filter(blank__housing=box).update(x_mm=Decimal(6))
    elif change == "padding":
        box.design.padding = "washed cotton"
        box.design.save()
    elif change == "hazard":
        thing.hazards = "arsenic"
        thing.save()
    elif change == "shelf":
        thing.location = make_location("Store 3")
        thing.save()
    else:
        blank = box.blanks.first()
        blank.geometry["cuts"][0]["y1"] += 1
        blank.save()

    assert sheet_of(box).version != before


def test_what_changes_nothing_for_the_maker_keeps_the_version():
    thing = make_object()
    box = make_box(thing)
    before = sheet_of(box).version

    thing.name = "Another name"
    thing.save()
    box.design.notes = "Tried in May"
    box.design.save()

    assert sheet_of(box).version == before


def plain(text: str) -> str:
    """Text as it reads, whatever keeps it from breaking."""
    return text.replace("\u00a0", " ")


@pytest.mark.pango
def test_the_printed_sheet_says_the_marks_and_which_object_it_is_for():
    thing = make_object(number="1995.4.3", name="Lidded jar", location=make_location("Store 2"))

    [page] = printed(make_box(thing))

    text = " ".join(page.extract_text().split())
    for words in ("1995.4.3", "Lidded jar", "Store 2", "Box ", "4 inches long", "Cutting list", "1 of 1"):
        assert words in text


@pytest.mark.pango
@pytest.mark.parametrize(
    ("paper", "unit", "sides_mm"),
    # ISO 216; US Letter is 8 1/2 x 11 in. Figures in inches are the longer ones, and A4 the narrower paper.
    [("A4", "in", (210, 297)), ("letter", "mm", (8.5 * 25.4, 11 * 25.4))],
)
def test_every_box_has_as_many_pages_as_they_say_of_the_right_size(paper, unit, sides_mm):
    boxes = [make_box(), *awkward_boxes()]

    pages = printed(*boxes, unit=unit, paper=paper)

    told = [re.search(r"(\d+) of (\d+)\s*$", page.extract_text().strip()) for page in pages]
    counts = [int(found[2]) for found in told if found[1] == "1"]
    assert len(counts) == len(boxes)
    assert [int(found[1]) for found in told] == [n for count in counts for n in range(1, count + 1)]
    assert counts[0] == 1  # the worked tray
    for page in pages:
        assert "If your ruler says otherwise" in page.extract_text()
        assert [float(side) * 25.4 / 72 for side in page.mediabox[2:]] == pytest.approx(sides_mm, abs=0.1)


@pytest.mark.parametrize("unit", ["in", "mm"])
@pytest.mark.parametrize("paper", ["A4", "letter"])
def test_every_blank_is_drawn(paper, unit):
    sheets = [sheet_of(box, unit, paper) for box in awkward_boxes()]

    assert [page.count('class="drawing blank"') for sheet in sheets for page in ["".join(sheet.pages)]] == [
        2, 2, 2, 2, 1,
    ]  # fmt: skip


@pytest.mark.pango
def test_a_planned_blank_says_its_sheet_and_place_and_still_fits_its_page():
    boxes = awkward_boxes()
    for box in boxes:
        lay_on_sheet(box, position=7, x_mm="25.4", y_mm="50.8")

    pages = printed(*boxes, paper="letter")

    text = " ".join(pages[0].extract_text().split())
    # by hand: 25.4 mm is 1 in, 50.8 mm is 2 in
    assert "sheet 7, 1 in along and 2 in across from its corner" in text
    assert "Cutting plan of" in text


@pytest.mark.parametrize(
    ("x_mm", "y_mm", "corner"),
    [(305, 305, "far right"), (5, 305, "far left"), (305, 5, "near right"), (5, 5, "near left")],
)
def test_a_blank_out_of_a_corner_says_whose_corner_and_what_comes_first(x_mm, y_mm, corner):
    big, small = make_box(make_object(number="1995.4.3")), make_box(make_object(number="2001.7"))
    host = lay_in_corner(small, big, x_mm=x_mm, y_mm=y_mm)

    place = sheet_of(small).listed[0][3]

    assert place == (
        f"{corner} waste corner of 1995.4.3 {host.blank.part} on sheet 7: cut that blank out and trim its "
        "corners first"
    )


def test_a_lid_may_come_out_of_a_corner_of_its_own_base():
    box = make_box(make_object(number="1995.4.3"))
    base, lid = box.blanks.all()
    lay_on_sheet(box, position=7, x_mm="5", y_mm="5")
    lid.placements.update(host=base.placements.get())

    places = [row[3] for row in sheet_of(box).listed]

    assert "in along and" in places[0]
    assert f"waste corner of 1995.4.3 {base.part} on sheet 7" in places[1]


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

    assert [part.name for part in sheet.parts] == ["Tray", "3 × cross divider"]
    assert [row[:2] for row in sheet.listed] == [("Tray", "1"), ("Cross divider", "3")]


def test_sheet_lists_openings_and_what_else_is_needed():
    design = make_design(form="carrying_tray")
    tube = make_design(form="rolled_tube")

    tray = sheet_of(make_box(make_object(), design=design))
    roll = sheet_of(make_box(make_object(height_mm=Decimal(2)), design=tube))

    assert [row.split(":")[0] for row in tray.parts[0].openings] == ["№ 5 hand hole", "№ 5 hand hole"]
    assert roll.supplies[0].startswith("acid-free tube, ")
    assert any(row[3].startswith("washed cotton or polyester film") for row in roll.listed)
