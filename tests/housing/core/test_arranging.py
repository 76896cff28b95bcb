"""Several objects in one enclosure, in a row or in cells."""

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housing.core.arranging import MOST_IN_CELLS, Spacers, by_height, in_a_row, in_cells
from housing.core.clearances import ObjectSize
from housing.core.errors import SizeRefused
from housing.core.orientation import Measured, Orientation, orientations
from objects.core.lying import MayLie

sizes = st.builds(ObjectSize, *[st.integers(10, 400).map(float)] * 3)
things = st.builds(Measured, sizes, st.sampled_from(MayLie))
sets = st.lists(things, min_size=1, max_size=5)
gaps = st.sampled_from([0.0, 3.0, 25.4])


def ways_of(*things: Measured) -> list[tuple[Orientation, ...]]:
    return [orientations(thing, with_turns=True) for thing in things]


def as_measured(*sizes: ObjectSize) -> list[tuple[Orientation, ...]]:
    return ways_of(*map(Measured, sizes))


# ---- In a row --------------------------------------------------------------------------------------------


def test_three_cups_in_a_row_have_two_spacers_as_deep_and_high_as_the_row():
    # By hand: 80 + 90 + 70 and two gaps of 20 make 280; deepest 95, highest 110.
    row = in_a_row(as_measured(ObjectSize(100, 80, 80), ObjectSize(110, 90, 95), ObjectSize(90, 70, 60)), 20)

    assert row.size == ObjectSize(height_mm=110, width_mm=280, depth_mm=95)
    assert row.spacers == Spacers(count=2, thick_mm=20, deep_mm=95, high_mm=110)
    assert row.spacers.what == "spacer of foam or padded board between neighbours, 20.0 x 95.0 x 110.0 mm"


@pytest.mark.parametrize(("number", "gap"), [(1, 20), (2, 0)])
def test_one_object_or_no_gap_needs_no_spacer(number, gap):
    assert in_a_row(as_measured(*[ObjectSize(100, 80, 80)] * number), gap).spacers is None


def test_an_object_that_may_be_turned_stands_with_its_narrow_side_to_the_front():
    # By hand: a cup of 80 x 80 and a frame of 200 x 70. As measured (80 + 10 + 200) x 80 = 23 200 mm2;
    # with the frame turned (80 + 10 + 70) x 200 = 32 000: it pays to leave it. A frame of 200 x 10 beside a
    # cup of 80 x 200: as measured 290 x 200 = 58 000, turned (80 + 10 + 10) x 200 = 20 000.
    frame, shallow = ObjectSize(100, 200, 70), ObjectSize(100, 200, 10)

    left = in_a_row(ways_of(Measured(ObjectSize(50, 80, 80)), Measured(frame, MayLie.TURNED)), 10)
    turned = in_a_row(ways_of(Measured(ObjectSize(50, 80, 200)), Measured(shallow, MayLie.TURNED)), 10)

    assert (left.size.width_mm, left.size.depth_mm) == (290, 80)
    assert (turned.size.width_mm, turned.size.depth_mm) == (100, 200)


@given(things=sets, gap=gaps)
def test_no_other_allowed_row_covers_less_floor(things, gap):
    members = ways_of(*things)

    row = in_a_row(members, gap)

    floors = [
        (sum(way.size.width_mm for way in ways) + gap * (len(ways) - 1)) * max(w.size.depth_mm for w in ways)
        for ways in product(*members)
    ]
    assert row.size.width_mm * row.size.depth_mm == pytest.approx(min(floors))


@given(things=sets, gap=gaps)
def test_a_row_holds_its_objects_in_order_and_is_never_smaller_than_they_are(things, gap):
    members = ways_of(*things)

    row = in_a_row(members, gap)

    assert all(way in ways for way, ways in zip(row.ways, members, strict=True))
    assert all(way.size.depth_mm <= row.size.depth_mm for way in row.ways)
    assert all(way.size.height_mm <= row.size.height_mm for way in row.ways)
    assert volume(row.size) >= sum(volume(thing.size) for thing in things) * (1 - 1e-12)


def volume(size: ObjectSize) -> float:
    return size.height_mm * size.width_mm * size.depth_mm


# ---- In cells --------------------------------------------------------------------------------------------


def test_six_cups_go_into_three_by_two_cells():
    # By hand: a cell is 80 + 2 x 5 = 90 square. 6 x 1 cells: 6 x 90 + 5 x 3 = 555 by 90, 49 950 mm2;
    # 3 x 2: 276 x 183 = 50 508. The single line covers the least floor, its longer side in front.
    cups = as_measured(*[ObjectSize(100, 80, 80)] * 6)

    line = in_cells(cups, 5, 3)
    within = in_cells(cups, 5, 3, longest_mm=500)

    assert (line.columns, line.rows, line.x_mm, line.y_mm) == (6, 1, 555, 90)
    assert (within.columns, within.rows, within.x_mm, within.y_mm) == (3, 2, 276, 183)


def test_of_grids_with_equal_floors_the_squarest_is_taken():
    # By hand: cells of 100 x 50 and dividers without thickness, so every full grid of six has 30 000 mm2;
    # 2 x 3 is 200 x 150, 1 x 6 is 100 x 300, 3 x 2 is 300 x 100 and 6 x 1 is 600 x 50.
    cells = in_cells(as_measured(*[ObjectSize(30, 100, 50)] * 6), 0, 0)

    assert (cells.columns, cells.rows, cells.empty) == (2, 3, 0)


def test_a_cell_is_as_large_as_the_largest_object_and_its_gaps():
    # By hand: widest 90, deepest 70, highest 120; a gap of 4 on every side gives 98 x 78.
    cells = in_cells(as_measured(ObjectSize(120, 60, 70), ObjectSize(50, 90, 40)), 4, 3)

    assert cells.cell == ObjectSize(height_mm=120, width_mm=98, depth_mm=78)


def test_objects_that_may_be_turned_all_point_the_same_way():
    # By hand: 90 x 30 and 30 x 90 need cells of 90 x 90 as measured, but of 90 x 30 with one of them turned.
    one, other = ObjectSize(20, 90, 30), ObjectSize(20, 30, 90)

    kept = in_cells(as_measured(one, other), 0, 3)
    turned = in_cells(ways_of(Measured(one, MayLie.TURNED), Measured(other, MayLie.TURNED)), 0, 3)

    assert kept.cell == ObjectSize(20, 90, 90)
    assert sorted((turned.cell.width_mm, turned.cell.depth_mm)) == [30, 90]


def test_cells_that_stay_free_are_counted():
    # By hand: seven cells of 50 within 200 mm: 4 x 2 leaves one free, 3 x 3 two; 7 x 1 is 368 mm long.
    cells = in_cells(as_measured(*[ObjectSize(30, 50, 50)] * 7), 0, 3, longest_mm=220)

    assert (cells.columns, cells.rows, cells.empty) == (4, 2, 1)


def test_where_every_grid_is_too_long_the_one_of_least_floor_is_still_given():
    cells = in_cells(as_measured(*[ObjectSize(30, 50, 50)] * 2), 0, 3, longest_mm=40)

    assert (cells.columns, cells.rows) == (2, 1)


@given(things=sets, gap=gaps, divider=st.sampled_from([0.0, 3.0]), longest=st.sampled_from([None, 600.0]))
def test_no_other_grid_covers_less_floor(things, gap, divider, longest):
    members = ways_of(*things)

    cells = in_cells(members, gap, divider, longest_mm=longest)

    assert (too_long(cells.x_mm, cells.y_mm, longest), cells.x_mm * cells.y_mm) == pytest.approx(
        min(every_floor(members, gap, divider, longest))
    )


def every_floor(members, gap, divider, longest):
    """Whether it is too long, and the floor, of every grid with every way of every object."""
    number = len(members)
    for ways in product(*members):
        wide = max(way.size.width_mm for way in ways) + 2 * gap
        deep = max(way.size.depth_mm for way in ways) + 2 * gap
        for columns, rows in product(range(1, number + 1), repeat=2):
            if columns * rows >= number:
                x, y = columns * (wide + divider) - divider, rows * (deep + divider) - divider
                yield too_long(x, y, longest), x * y


def too_long(x: float, y: float, longest: float | None) -> bool:
    return longest is not None and max(x, y) > longest


@given(things=sets, gap=gaps)
def test_no_object_exceeds_its_cell_and_every_object_has_one(things, gap):
    members = ways_of(*things)

    cells = in_cells(members, gap, 3)

    assert cells.columns * cells.rows >= len(members)
    assert all(way in ways for way, ways in zip(cells.ways, members, strict=True))
    for way in cells.ways:
        assert way.size.width_mm + 2 * gap <= cells.cell.width_mm
        assert way.size.depth_mm + 2 * gap <= cells.cell.depth_mm
        assert way.size.height_mm <= cells.cell.height_mm
    room = cells.x_mm * cells.y_mm * cells.cell.height_mm
    assert room >= sum(volume(thing.size) for thing in things) * (1 - 1e-12)


# ---- Heights and refusals --------------------------------------------------------------------------------


def test_a_lower_box_leaves_the_ways_that_go_into_it():
    # A jar of 60 x 40 x 50 that may be laid down and a dish 30 high: boxes may be 60, 50 or 40 high.
    jar, dish = Measured(ObjectSize(60, 40, 50), MayLie.LAID_DOWN), Measured(ObjectSize(30, 70, 70))

    heights = by_height([orientations(jar), orientations(dish)])

    assert [[way.size.height_mm for way in ways] for ways, _ in heights] == [[60, 50, 40], [50, 40], [40]]


def test_forty_eight_small_objects_go_into_one_tray():
    # By hand: 48 cells of 24 + 2 x 3 = 30 square within 300 mm: 8 x 6 is 8 x 30 + 7 x 3 = 261 by 195.
    cells = in_cells(as_measured(*[ObjectSize(20, 24, 24)] * 48), 3, 3, longest_mm=300)

    assert (cells.columns, cells.rows, cells.x_mm, cells.y_mm) == (8, 6, 261, 195)


@pytest.mark.parametrize(
    ("number", "most_a_side", "says"),
    [
        (MOST_IN_CELLS + 1, 24, "49 objects are too many for the cells of one tray; it takes at most 48. "),
        (10, 3, "10 objects are too many for the cells of one tray; it takes at most 9. "),
    ],
)
def test_more_objects_than_cells_are_refused(number, most_a_side, says):
    with pytest.raises(SizeRefused) as refused:
        in_cells(as_measured(*[ObjectSize(9, 9, 9)] * number), 0, 3, most_a_side=most_a_side)

    assert str(refused.value) == f"{says}Make several sets of them."


def test_a_row_of_thirteen_is_refused_with_two_ways_out():
    with pytest.raises(SizeRefused) as refused:
        in_a_row(as_measured(*[ObjectSize(9, 9, 9)] * 13), 0)

    assert str(refused.value) == (
        "13 objects are too many for one row; at most 12 go side by side. Choose a tray with dividers, which "
        "takes up to 48, or make the set smaller."
    )


@pytest.mark.parametrize("arrange", [in_a_row, lambda members, gap: in_cells(members, gap, 3)])
@pytest.mark.parametrize(
    ("members", "gap", "says"),
    [
        ([], 0, "A set needs at least one object."),
        ([[]], 0, "An object of the set may lie in no way at all. Record how it may lie."),
        (as_measured(ObjectSize(9, 9, 9)), -1, "The gap between objects is -1 mm; it cannot be negative."),
    ],
)
def test_an_impossible_set_is_refused(arrange, members, gap, says):
    with pytest.raises(SizeRefused) as refused:
        arrange(members, gap)

    assert str(refused.value) == says


def test_a_negative_divider_is_refused():
    with pytest.raises(SizeRefused, match="The dividers are -3 mm thick"):
        in_cells(as_measured(ObjectSize(9, 9, 9)), 0, -3)
