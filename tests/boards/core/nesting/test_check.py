"""The judge of layouts: it accepts a good one and names what is wrong with each spoilt one."""

from dataclasses import replace

import pytest

from boards.core.nesting import Cut, CutSheet, Layout, Offcut, Placement, Rules, Unplaced, check
from tests.boards.core.nesting.made import make_pieces, make_sheet

# Worked by hand: a sheet of 100 x 60 mm, 5 mm trimmed on every side, a knife that takes 2 mm. A (50 x 50)
# fills the near end from edge to edge; the cut at x = 55 leaves 57 to 95, in which B (38 x 20) and a cut at
# y = 25 leave 27 to 55 for C (20 x 28), beside which 79 to 95 is left over.
PIECES = make_pieces((50, 50), (38, 20), (28, 20), may_turn=True)
RULES = Rules(kerf_mm=2, trim_mm=5)
TRIM_CUTS = (
    Cut(0, 5, 100, 5, is_trim=True),
    Cut(0, 55, 100, 55, is_trim=True),
    Cut(5, 5, 5, 55, is_trim=True),
    Cut(95, 5, 95, 55, is_trim=True),
)
A, B = Placement("A", 5, 5, 50, 50, turned=False), Placement("B", 57, 5, 38, 20, turned=False)
C = Placement("C", 57, 27, 20, 28, turned=True)
CUTS = (*TRIM_CUTS, Cut(55, 5, 55, 55), Cut(57, 25, 95, 25), Cut(77, 27, 77, 55))
REST = Offcut(79, 27, 16, 28)
GOOD = CutSheet("S", (A, B, C), CUTS, (REST,))


def faults(cut_sheet=GOOD, more=(), unplaced=(), pieces=PIECES, stock=1):
    """What the judge says of a layout that starts with this sheet."""
    layout = Layout((cut_sheet, *more), tuple(Unplaced(key, "") for key in unplaced))
    return check(layout, pieces, [make_sheet(100, 60, stock=stock)], RULES)


def spoilt(**changes):
    """The good sheet with some of it replaced."""
    return replace(GOOD, **changes)


def test_good_layout_has_no_fault():
    assert faults() == ()


def test_positions_may_miss_by_a_thousandth_of_a_millimetre():
    near = replace(C, x_mm=57.0009, y_mm=26.9991)

    assert faults(spoilt(placements=(A, B, near))) == ()


@pytest.mark.parametrize(
    ("cut_sheet", "expected"),
    [
        pytest.param(
            spoilt(placements=(A, replace(B, x_mm=56.9), C)),
            (
                "Sheet 1 (S): blanks A and B overlap or lie closer than a kerf.",
                "Sheet 1 (S): no order of cuts from edge to edge sets its blanks free.",
                "Sheet 1 (S): the cuts do not set blank B free in its size.",
            ),
            id="a kerf short by 0.1",
        ),
        pytest.param(
            spoilt(placements=(replace(A, x_mm=4.99), B, C)),
            (
                "Sheet 1 (S): blank A reaches into the trim or off the sheet.",
                "Sheet 1 (S): the cuts do not set blank A free in its size.",
            ),
            id="a hair into the trim",
        ),
        pytest.param(
            spoilt(placements=(A, B, replace(C, turned=False))),
            ("Sheet 1 (S): blank C is placed as 20 x 28 mm, not 28 x 20 mm.",),
            id="turned without saying so",
        ),
        pytest.param(
            spoilt(placements=(A, B, replace(C, along_mm=19.9))),
            (
                "Sheet 1 (S): blank C is placed as 19.9 x 28 mm, not 20 x 28 mm.",
                "Sheet 1 (S): the cuts do not set blank C free in its size.",
            ),
            id="a blank cut too small",
        ),
        pytest.param(
            spoilt(cuts=CUTS[:-1], offcuts=()),
            ("Sheet 1 (S): the cuts do not set blank C free in its size.",),
            id="the last cut forgotten",
        ),
        pytest.param(
            spoilt(cuts=(*TRIM_CUTS, CUTS[5], CUTS[4], CUTS[6])),
            ("Sheet 1 (S): cut 5 does not run from edge to edge of any part.",),
            id="a cut before the one that makes its part",
        ),
        pytest.param(
            spoilt(cuts=(*CUTS[:6], Cut(77, 27, 77, 54))),
            ("Sheet 1 (S): cut 7 does not run from edge to edge of any part.",),
            id="a cut that ends short of the edge",
        ),
        pytest.param(
            spoilt(cuts=(*CUTS[:6], Cut(77, 27, 78, 55))),
            ("Sheet 1 (S): cut 7 does not run from edge to edge of any part.",),
            id="a cut askew",
        ),
        pytest.param(
            spoilt(offcuts=(Offcut(77, 27, 18, 28),)),
            ("Sheet 1 (S): the offcut at 77, 27 mm is not a part that the cuts leave over.",),
            id="an offcut that includes the kerf",
        ),
        pytest.param(
            spoilt(offcuts=(Offcut(57, 5, 38, 20),)),
            ("Sheet 1 (S): the offcut at 57, 5 mm is not a part that the cuts leave over.",),
            id="an offcut where a blank lies",
        ),
        pytest.param(
            spoilt(offcuts=(REST, REST)),
            ("Sheet 1 (S): the offcut at 79, 27 mm is not a part that the cuts leave over.",),
            id="an offcut listed twice",
        ),
        pytest.param(
            spoilt(sheet_key="T"), ("Sheet 1 (T): there is no such sheet size.",), id="an unknown sheet"
        ),
    ],
)
def test_each_spoilt_sheet_is_found_out(cut_sheet, expected):
    assert faults(cut_sheet) == expected


def test_offcut_that_keeps_the_trim_is_found_out():
    cut_sheet = CutSheet("S", (A,), (*TRIM_CUTS[:3], CUTS[4]), (Offcut(57, 5, 43, 50),))

    assert faults(cut_sheet, pieces=PIECES[:1]) == (
        "Sheet 1 (S): the offcut at 57, 5 mm reaches into the trim or off the sheet.",
    )


def test_blank_turned_against_its_flutes_is_found_out():
    pieces = [*PIECES[:2], replace(PIECES[2], may_turn=False)]

    assert faults(pieces=pieces) == ("Sheet 1 (S): blank C is turned against its flutes.",)


def test_missing_repeated_and_unknown_blanks_are_found_out():
    asked = [*PIECES, replace(PIECES[0], key="D")]

    assert faults(unplaced=("B", "X"), pieces=asked) == (
        "Blank B is placed or left out 2 times, not once.",
        "Blank D is placed or left out 0 times, not once.",
        "Blank X was never asked for.",
    )


def test_more_sheets_than_in_stock_are_found_out():
    empty = CutSheet("S", (), (), ())

    assert faults(more=(empty,)) == (
        "2 sheets S are cut, only 1 are in stock.",
        "Sheet 2 (S): nothing is cut from it.",
    )


def test_blank_left_out_beside_an_unused_sheet_is_found_out():
    pieces = [*PIECES, replace(PIECES[0], key="D")]

    assert faults(unplaced=("D",), pieces=pieces) == ()
    assert faults(unplaced=("D",), pieces=pieces, stock=2) == (
        "Blank D is left out, yet a sheet S would hold it.",
    )


def test_pinwheel_of_blanks_cannot_be_cut_from_edge_to_edge():
    # The classic counterexample: four blanks of 2 x 1 around one of 1 x 1, on a square of 3.
    pieces = make_pieces((2, 1), (1, 2), (2, 1), (1, 2), (1, 1))
    corners = [(0, 0), (2, 0), (1, 2), (0, 1), (1, 1)]
    placements = tuple(
        Placement(piece.key, x, y, piece.along_mm, piece.across_mm, turned=False)
        for piece, (x, y) in zip(pieces, corners, strict=True)
    )
    layout = Layout((CutSheet("S", placements, (), ()),), ())

    assert check(layout, pieces, [make_sheet(3, 3)], Rules())[0] == (
        "Sheet 1 (S): no order of cuts from edge to edge sets its blanks free."
    )
