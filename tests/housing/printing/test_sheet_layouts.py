"""The printed layout of a planned sheet: what it says, that it keeps to its page, nothing overlapping."""

import re
from datetime import date
from itertools import combinations

import pytest
from django.utils import timezone

from boards.services import keep_offcut
from housing.models import Campaign, Design
from housing.printing.papers import PAPERS
from housing.printing.sheet_layouts import layouts_context
from housing.printing.svg_pdf import pages_pdf
from housing.queries.sheets import reference_of
from objects.readers import Reader
from tests.factories import make_design, make_object, make_person
from tests.housing.core.drawing.reading import parse
from tests.housing.printing.boxes import make_box
from tests.housing.printing.reading import words_on
from tests.housing.printing.sheets import lay_out

pytestmark = pytest.mark.django_db
SITE = "http://planner.example/"


def layouts(sheets, unit="mm", paper="A4", hand="right"):
    reader = Reader(unit, paper, hand=hand)
    keys = [sheet.pk for sheet in sheets]
    return layouts_context(keys, reader, PAPERS[paper], SITE, "Mo Grey")["layouts"]


def boxes(count: int, design: Design | None = None, **given):
    """Lidded trays of several sizes, all of one board."""
    design = design or make_design(drawn="nominal")
    return [
        make_box(
            make_object(
                number=f"1956.2.{i}", height_mm=40 + 7 * (i % 5), width_mm=110 + 13 * (i % 7),
                depth_mm=80 + i, **given,
            ),
            design=design,
        )
        for i in range(count)
    ]  # fmt: skip


def test_a_page_tells_what_its_sheet_is_and_what_comes_off_it():
    box = make_box(make_object(number="1956.2.7"))
    person = make_person(name="Ada Reed")
    start = date(2026, 11, 30)
    sheets = lay_out(box, person=person, week=2, campaign={"name": "Move", "work_from": start})

    [layout] = layouts(sheets)

    facts = dict(layout.facts)
    assert layout.title == "Sheet 1 of 1"
    assert facts["Size"] == "1524 mm along the flutes × 1016 mm across"
    assert facts["Given to"] == "Ada Reed"
    assert facts["Week from"] == "7 Dec 2026"  # the Monday a week after the first
    assert facts["1 box"] == box.box_number.replace(" ", "\u00a0")
    assert facts["Trim, gap"] == "5 mm, 1 mm"
    assert {piece.name for piece in layout.pieces} == {"1956.2.7 base", "1956.2.7 lid"}
    assert [piece.letter for piece in layout.pieces] == ["A", "B"]


def test_shares_of_a_sheet_are_areas():
    box = make_box(make_object(number="1956.2.7"))
    [sheet] = lay_out(box)

    [layout] = layouts([sheet])

    # what stays in the boxes, what is kept, and the rest, of 1524 x 1016 mm
    used = sum(blank.to_core().board_area_mm2 for blank in box.blanks.all()) / (1524 * 1016)
    kept = sum(o["along_mm"] * o["across_mm"] for o in sheet.offcuts) / (1524 * 1016)
    said = dict(layout.facts)["Of the sheet"]
    assert said == (
        f"in the boxes {round(100 * used)} %, kept {round(100 * kept)} %, "
        f"waste {100 - round(100 * used) - round(100 * kept)} %"
    )


def test_every_cut_is_listed_with_its_marks_on_the_whole_sheet():
    [sheet] = lay_out(*boxes(3))
    cuts = [cut for cut in sheet.cuts if not cut["is_trim"] and not cut["host"]]

    [layout] = layouts([sheet])

    rows = [row for row in layout.cuts if row.running]
    listed = [
        float(mark)
        for row in rows
        for mark in row.running.partition(": ")[2].removesuffix("\u00a0mm").split(", ")
    ]
    edges = [row.running.partition(":")[0] for row in rows]
    places = [cut["y0_mm"] if cut["y0_mm"] == cut["y1_mm"] else cut["x0_mm"] for cut in cuts]
    assert listed == pytest.approx(places, abs=0.06)
    assert set(edges) <= {"near, far", "left, right"}


def test_what_is_kept_has_a_place_for_its_number_until_it_has_one():
    [sheet] = lay_out(*boxes(1))
    [before] = layouts([sheet])
    offcuts = [
        keep_offcut(
            board=sheet.board, along_mm=row["along_mm"], across_mm=row["across_mm"],
            reference=reference_of(sheet),
        )
        for row in sheet.offcuts
    ]  # fmt: skip
    sheet.cut_at = timezone.now()
    sheet.save()

    [after] = layouts([sheet])

    assert offcuts
    assert {piece.number for piece in before.kept} == {""}
    assert [piece.number for piece in after.kept] == [str(offcut.pk) for offcut in offcuts]
    assert "No. ________" in " ".join(words_on(before.pages[0]))
    assert f"offcut {offcuts[0].pk}" in " ".join(words_on(after.pages[0]))


def test_a_large_sheet_is_carried_by_two():
    found = boxes(1)
    [large] = layouts(lay_out(*found))
    small, *_ = layouts(lay_out(*found, along_mm=990, across_mm=990))

    assert any("two people" in words for words in large.cautions)
    assert not any("two people" in words for words in small.cautions)


def test_a_sheet_of_a_plan_that_is_out_of_date_says_do_not_cut():
    [box] = boxes(1)
    sheets = lay_out(box)
    assert layouts(sheets)[0].warnings == []
    Campaign.objects.update(changed_at=timezone.now())

    [layout] = layouts(sheets)

    assert layout.warnings[0].startswith("Do not cut: ")


@pytest.mark.parametrize("paper", ["A4", "letter"])
@pytest.mark.parametrize(("unit", "hand"), [("mm", "right"), ("in", "left")])
@pytest.mark.parametrize(
    ("count", "along", "across", "edge_to_edge"),
    [
        (1, 1524, 1016, True),
        (4, 1016, 1524, True),  # high
        (9, 1829, 1219, True),
        (16, 2440, 1830, True),  # 30 pieces and more
        (7, 1524, 1016, False),  # laid anyhow
    ],
)
def test_nothing_lies_on_anything_else_or_off_its_page(paper, unit, hand, count, along, across, edge_to_edge):
    sheets = lay_out(*boxes(count), along_mm=along, across_mm=across, edge_to_edge=edge_to_edge)

    [layout, *_] = layouts(sheets, unit, paper, hand)

    short, long = sorted((PAPERS[paper].width_mm, PAPERS[paper].height_mm))
    for page in layout.pages:
        root = parse(page)
        wide, high = map(float, root.get("viewBox").split()[2:])
        assert (wide, high) == ((long, short) if layout.is_turned else (short, long))
        boxes_ = words_on(page, with_boxes=True)
        assert [words for words, box in boxes_ if not _within(box, wide, high)] == []
        assert [(a[0], b[0]) for a, b in combinations(boxes_, 2) if _share(a[1], b[1]) and a[1] != b[1]] == []
    told = " ".join(words for page in layout.pages for words in words_on(page))
    assert all(piece.name.split()[0] in told for piece in layout.pieces)


def _within(box, wide: float, high: float) -> bool:
    left, top, right, bottom = box
    return left >= 3 and top >= 3 and right <= wide - 3 and bottom <= high - 3


def _share(a, b) -> bool:
    return a[0] < b[2] - 0.05 and b[0] < a[2] - 0.05 and a[1] < b[3] - 0.05 and b[1] < a[3] - 0.05


def test_more_than_thirty_pieces_are_all_listed_and_drawn():
    sheets = lay_out(*boxes(20), along_mm=2440, across_mm=1830)

    [layout, *_] = layouts(sheets)

    letters = [piece.letter for piece in layout.pieces]
    assert len(letters) >= 30 and letters[26:28] == ["AA", "AB"]
    words = {word for page in layout.pages for told in words_on(page) for word in told.split()}
    assert set(letters) <= words


def test_a_sheet_for_the_left_hand_is_mirrored_and_says_so():
    sheets = lay_out(*boxes(3))

    [right] = layouts(sheets)
    [left] = layouts(sheets, hand="left")

    assert left.is_mirrored and not right.is_mirrored
    assert "near right corner" in left.how and "near left corner" in right.how
    assert [piece.name for piece in left.pieces] == [piece.name for piece in right.pieces]
    assert [row.running for row in left.cuts] == [row.running for row in right.cuts]
    assert not any(row.marks.startswith("left:") for row in left.cuts)


def test_sheets_that_are_no_more_there_make_no_pages():
    assert layouts_context([999], Reader(), PAPERS["A4"], SITE) == {}


def test_pages_are_written_as_pdf_without_a_general_renderer():
    from io import BytesIO

    from pypdf import PdfReader

    sheets = lay_out(*boxes(2))

    file = PdfReader(BytesIO(pages_pdf([page for made in layouts(sheets) for page in made.pages])))

    text = " ".join(page.extract_text() for page in file.pages)
    assert "Sheet 1 of 1" in text and "1956.2.1 lid" in text


def test_a_cut_sheet_layout_tells_the_day():
    [sheet] = lay_out(*boxes(1))
    sheet.cut_at = timezone.now()
    sheet.save()

    [layout] = layouts([sheet])

    assert dict(layout.facts)["Cut on"] == f"{timezone.localdate():%-d %b %Y}"
    assert not any(words.startswith("Do not cut") for words in layout.warnings)


def test_a_small_sheet_is_drawn_no_larger_than_it_is():
    tag = make_box(make_object(height_mm=5, width_mm=20, depth_mm=15), design=make_design(form="tray"))
    sheets = lay_out(tag, along_mm=200, across_mm=180)

    [layout] = layouts(sheets)

    [scale] = re.findall(r"at 1 : (\d+\.\d)", " ".join(words_on(layout.pages[0])))
    assert 1.0 <= float(scale) < 2.0
