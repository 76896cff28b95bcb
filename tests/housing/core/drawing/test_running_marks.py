"""The marks around a sheet: where they stand, that none hides another, and mirrored sheets."""

from decimal import Decimal
from itertools import combinations, pairwise
from math import dist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boards.core.nesting import Piece, Rules, Sheet, nest
from boards.core.nesting.shapes import Cut, CutSheet, Placement
from housing.core.drawing.layout_svg import layout_svg
from housing.core.drawing.running_marks import choose, marks_of, spread
from housing.core.drawing.sheet_corners import can_be_mirrored
from tests.examples import few
from tests.housing.core.drawing.reading import (
    SVG,
    in_inches,
    in_mm,
    outside,
    overlapping,
    parse,
    size_mm,
    texts,
)

SHEET = Sheet("S", 1000, 600, Decimal(9))
# By hand, mm: trimmed by 10; two strips cut off at 410 and 712, the first cut across at 210.
PLAN = CutSheet(
    "S",
    placements=(Placement("base", 10, 10, 400, 200, False), Placement("lid", 412, 10, 300, 580, False)),
    cuts=(
        Cut(0, 10, 1000, 10, is_trim=True, mark_mm=10),
        Cut(10, 10, 10, 600, is_trim=True, mark_mm=10),
        Cut(410, 10, 410, 600, part=1, mark_mm=400),
        Cut(712, 10, 712, 600, part=1, mark_mm=702),
        Cut(10, 210, 410, 210, part=2, mark_mm=200, stage=1),
    ),
    offcuts=(),
)


def draw(plan=PLAN, sheet=SHEET, **rest):
    given = {
        "labels": {placed.key: f"1956.2.{placed.key}" for placed in plan.placements},
        "letters": {placed.key: _letter(i) for i, placed in enumerate(plan.placements)},
        "format_length": in_mm,
        "format_mark": lambda mm: f"{mm:g}",
        "paper_width_mm": 190.0,
        "paper_height_mm": 130.0,
        **rest,
    }
    return parse(layout_svg(plan, sheet, **given))


def _letter(number: int) -> str:
    more, last = divmod(number, 26)
    return (_letter(more - 1) if more else "") + chr(65 + last)


def marks(root, turned: bool) -> list[tuple[str, float]]:
    """Figures of marks with where they stand along their edge, in the order they do."""
    found = [text for text in texts(root) if text.class_ == "mark"]
    nodes = [node for node in root.iter(f"{SVG}text") if node.get("class") == "mark"]
    return [
        (text.content, (text.box[0] + text.box[2]) / 2 if turned else (text.box[1] + text.box[3]) / 2)
        for text, node in zip(found, nodes, strict=True)
        if (node.get("transform") is not None) is turned
    ]


def test_every_cut_has_its_mark_on_two_facing_edges():
    root = draw()

    # from the near left corner: both ends, the trim and the cuts; twice, on the near and on the far edge
    assert [label for label, _ in marks(root, turned=True)] == ["0", "10", "410", "712", "1000"] * 2
    assert [label for label, _ in marks(root, turned=False)] == ["600", "210", "10", "0"] * 2


def test_marks_stand_where_their_lines_meet_the_edge():
    root = draw()
    [sheet] = [node for node in root.iter(f"{SVG}rect") if node.get("class") == "sheet"]
    left, wide = float(sheet.get("x")), float(sheet.get("width"))

    for label, at in marks(root, turned=True)[2:4]:
        assert (at - left) / wide == pytest.approx(float(label) / 1000, abs=0.005)


def test_blanks_that_lie_anyhow_have_the_marks_of_their_edges():
    free = CutSheet("S", PLAN.placements, (), ())

    assert [at for at, _ in marks_of(free, SHEET, upright=True)] == [0, 10, 410, 412, 712, 1000]
    assert [at for at, _ in marks_of(free, SHEET, upright=False)] == [0, 10, 210, 590, 600]


def test_cuts_in_corners_that_fall_off_have_no_mark_on_the_sheet():
    guest = Cut(50, 50, 50, 90, part=3, mark_mm=40, host="base")

    assert 50 not in [at for at, _ in marks_of(CutSheet("S", (), (*PLAN.cuts, guest), ()), SHEET, True)]


def test_where_not_all_marks_have_room_the_longest_lines_keep_theirs():
    # 30 mm of paper hold 12 marks of 2.4; both ends of the edge count as the longest.
    found = [(0.0, 1e9), *((float(i), float(i)) for i in range(1, 99)), (99.0, 1e9)]

    chosen = choose(found, lambda mm: f"{mm:g}", 30)

    assert not chosen.is_whole
    assert [mark.at_mm for mark in chosen.marks] == [0, *range(89, 99), 99]


def test_marks_that_are_written_alike_are_one():
    chosen = choose([(0.0, 9.0), (100.2, 5.0), (100.4, 7.0)], lambda mm: f"{mm:.0f}", 100)

    assert [(mark.at_mm, mark.label) for mark in chosen.marks] == [(0.0, "0"), (100.2, "100")]


@few(60)
@given(wanted=st.lists(st.floats(0, 100), min_size=1, max_size=30).map(sorted))
def test_labels_keep_their_order_their_distance_and_their_limits(wanted):
    places = spread(wanted, 3.0, -5.0, 105.0)

    assert all(b - a >= 3.0 - 1e-9 for a, b in pairwise(places))
    assert min(places) >= -5 - 1e-9 and max(places) <= 105 + 1e-9


def test_labels_that_are_far_apart_stand_at_their_marks():
    assert spread([0, 10, 50], 3.0, -5.0, 105.0) == [0, 10, 50]


def test_labels_in_each_others_way_move_apart_evenly():
    # By hand: two at 10 with 3 between them: 8.5 and 11.5, 1.5 from where both would be.
    assert spread([10, 10], 3.0, -5.0, 105.0) == [8.5, 11.5]


def test_a_mirrored_sheet_is_measured_from_the_right():
    straight, mirrored = draw(), draw(is_mirrored=True)

    by_label = dict(marks(straight, turned=True))
    width = size_mm(straight)[0]
    [sheet] = [node for node in straight.iter(f"{SVG}rect") if node.get("class") == "sheet"]
    middle = float(sheet.get("x")) + float(sheet.get("width")) / 2
    assert size_mm(mirrored)[0] == width
    assert [label for label, _ in marks(mirrored, turned=True)] == ["1000", "712", "410", "10", "0"] * 2
    for label, at in marks(mirrored, turned=True):
        assert at - middle == pytest.approx(middle - by_label[label], abs=0.15)


@pytest.mark.parametrize(
    ("corners", "can"),
    [
        (((60, 40), (60, 40), (0, 0), (0, 0)), True),
        (((60, 40), (50, 40), (0, 0), (0, 0)), False),  # the corners on the left are wider
        (((60, 40), (0, 0), (0, 0), (0, 0)), False),
        (((0, 0), (0, 0), (60, 40), (60, 40)), True),
    ],
)
def test_a_sheet_is_mirrored_only_where_corners_with_guests_are_the_same_on_both_sides(corners, can):
    host = Placement("base", 10, 10, 400, 200, False)
    guest = Placement("tag", 10, 10, 30, 30, False, host="base")
    plan = CutSheet("S", (host, guest), (), ())

    assert can_be_mirrored(plan, {"base": corners}) is can


def test_a_sheet_without_guests_can_always_be_mirrored():
    assert can_be_mirrored(PLAN, {})


# Rooms as the pages have them: with the lists beside it, beneath it, and alone where cuts are very many.
@pytest.mark.parametrize(
    ("count", "edge_to_edge", "room"),
    [
        (36, True, (190.0, 130.0)),
        (36, True, (130.0, 110.0)),
        (60, True, (190.0, 140.0)),
        (40, False, (190.0, 130.0)),
        (40, False, (130.0, 110.0)),
    ],
)
@pytest.mark.parametrize("mirrored", [False, True])
def test_nothing_hides_anything_on_a_dense_sheet(count, edge_to_edge, mirrored, room):
    side = 1.0 if count < 50 else 0.6
    pieces = [
        Piece(f"{i} base", side * (60 + 37 * i % 240), side * (40 + 53 * i % 220)) for i in range(count)
    ]
    sheet = Sheet("S", 1524, 1016, Decimal(9))
    rules = Rules(trim_mm=6, least_offcut_mm=100, edge_to_edge=edge_to_edge)
    layout = nest(pieces, [sheet], rules, seed=1, time_limit_s=1)
    plan = max(layout.sheets, key=lambda made: len(made.placements))
    assert len(plan.placements) >= 30

    root = draw(
        plan, sheet, format_mark=lambda mm: in_inches(mm)[:-3], is_mirrored=mirrored,
        paper_width_mm=room[0], paper_height_mm=room[1],
    )  # fmt: skip

    found = texts(root)
    assert overlapping(found) == []
    assert outside(found, *size_mm(root)) == []
    assert size_mm(root)[0] <= room[0] + 1e-6 and size_mm(root)[1] <= room[1] + 1e-6
    circles = [node for node in root.iter(f"{SVG}circle") if node.get("class") == "cut-number"]
    discs = [(float(n.get("cx")), float(n.get("cy")), float(n.get("r"))) for n in circles]
    assert all(dist(a[:2], b[:2]) >= 2 * min(a[2], b[2]) - 1e-6 for a, b in combinations(discs[:-1], 2))
    letters = [text.content.split("  ")[0] for text in found if text.class_ == "piece-label"]
    assert {_letter(i) for i in range(len(plan.placements))} <= set(letters)
