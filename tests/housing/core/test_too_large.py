"""Ways out for a blank that no sheet can hold."""

import pytest

from housing.core.too_large import SheetFace, joined_parts, ways_out

SMALL = SheetFace("B 40 x 60", 1524, 1016)
LONG = SheetFace("BC 48 x 96", 2438, 1219)


@pytest.mark.parametrize(
    ("along", "across", "parts"),
    [
        (1524, 1016, 1),  # limiting case: just fits
        (1525, 1016, 2),
        (2998, 1016, 2),  # limiting case: 2 x 1524 - 50
        (2999, 1016, 3),
        (2000, 1500, 4),  # two by two
    ],
)
def test_parts_joined_with_an_overlap_of_50_mm(along, across, parts):
    # By hand: n parts of length s with overlap 50 reach n s - 50 (n - 1).
    assert joined_parts(along, across, SMALL) == parts


def test_ways_out_are_listed_from_the_easiest():
    # 1000 along and 1500 across: turned it fits the sheet itself; nothing else holds it as it lies.
    assert ways_out(1000, 1500, [SMALL], []) == (
        "Turned against the flutes it fits B 40 x 60; allow turning in the campaign.",
        "Or make it of 2 parts cut from B 40 x 60, joined with an overlap of 50 mm.",
    )


def test_another_board_is_offered_when_its_sheet_is_large_enough():
    assert ways_out(2000, 1100, [SMALL], [LONG]) == (
        "It fits BC 48 x 96; choose a design on that board.",
        "Or make it of 4 parts cut from B 40 x 60, joined with an overlap of 50 mm.",
    )


def test_no_sheet_at_all_leaves_no_way_out():
    assert ways_out(2000, 1100, [], []) == ()
