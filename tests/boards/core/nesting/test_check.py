"""The judge of layouts: it accepts a good one and names what is wrong with each spoilt one."""

from dataclasses import replace

import pytest

from boards.core.nesting import Cut, CutSheet, Layout, Offcut, Piece, Placement, Rules, Unplaced, check
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


# ---- Blanks in the corners of others ---------------------------------------------------------------------

# Worked by hand: a host of 100 x 60 mm fills a sheet of 110 x 70 inside a trim of 5. Its corners, near left
# 20 x 12, near right 30 x 16, far left 24 x 18, far right 28 x 22, lose the kerf of 2 along their inner
# edges. What can be used near left is 18 x 10 from 5, 5; near right 28 x 14 from 77, 5; far left 22 x 16
# from 5, 49; far right 26 x 20 from 79, 45, where 12 + 2 + 12 fit side by side with one cut at 91.
UNEQUAL = ((20, 12), (30, 16), (24, 18), (28, 22))
HOSTED = [
    Piece("H", 100, 60, corners=UNEQUAL),
    Piece("g", 18, 10),
    Piece("p", 12, 20),
    Piece("q", 12, 20),
]
IN_CORNERS = Rules(kerf_mm=2, trim_mm=5, use_corners=True)
H = Placement("H", 5, 5, 100, 60, turned=False)
G = Placement("g", 5, 5, 18, 10, turned=False, host="H")
P = Placement("p", 79, 45, 12, 20, turned=False, host="H")
Q = Placement("q", 93, 45, 12, 20, turned=False, host="H")
CORNER_CUT = Cut(91, 45, 91, 65, host="H")
HOST_TRIM = (
    Cut(0, 5, 110, 5, is_trim=True),
    Cut(0, 65, 110, 65, is_trim=True),
    Cut(5, 5, 5, 65, is_trim=True),
    Cut(105, 5, 105, 65, is_trim=True),
)
HOST_SHEET = CutSheet("S", (H, G, P, Q), (*HOST_TRIM, CORNER_CUT), ())


def corner_faults(pieces=HOSTED, rules=IN_CORNERS, more=(), **changes):
    """What the judge says of the host's sheet with some of it replaced."""
    layout = Layout((replace(HOST_SHEET, **changes), *more), ())
    return check(layout, pieces, [make_sheet(110, 70)], rules)


def test_good_layout_with_blanks_in_corners_has_no_fault():
    assert corner_faults() == ()


def test_blank_in_a_corner_may_miss_by_a_thousandth_of_a_millimetre():
    assert corner_faults(placements=(H, replace(G, x_mm=5.0009, y_mm=5.0009), P, Q)) == ()


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        pytest.param(
            {"placements": (H, replace(G, x_mm=5.1), P, Q)},
            ("blank g does not lie in a waste corner of H.",),
            id="a tenth over the inner edge along",
        ),
        pytest.param(
            {"placements": (H, replace(G, y_mm=5.1), P, Q)},
            ("blank g does not lie in a waste corner of H.",),
            id="a tenth over the inner edge across",
        ),
        pytest.param(
            {"placements": (H, replace(G, x_mm=4.9), P, Q)},
            ("blank g does not lie in a waste corner of H.",),
            id="a tenth over the outer edge",
        ),
        pytest.param(
            # The corner begins at 105 - 28 = 77; 78.5 leaves 1.5 to its inner edge.
            {"placements": (H, G, replace(P, x_mm=78.5), Q)},
            ("blank p does not lie in a waste corner of H.",),
            id="less than a kerf from the inner edge",
        ),
        pytest.param(
            {"placements": (H, G, replace(P, x_mm=50, y_mm=20), Q)},
            ("blank p does not lie in a waste corner of H.",),
            id="in the middle of the host",
        ),
        pytest.param(
            # 12 x 20 is less in area than 28 x 14, yet 20 across is more than 14.
            {"placements": (H, G, replace(P, x_mm=77, y_mm=5), Q)},
            ("blank p does not lie in a waste corner of H.",),
            id="in a corner too small for it",
        ),
        pytest.param(
            {"placements": (H, G, P, replace(Q, host="p"))},
            ("blank q lies in p, which is not on the sheet itself.",),
            id="in a corner of a guest",
        ),
        pytest.param(
            {"placements": (H, G, P, replace(Q, host="q"))},
            ("blank q lies in q, which is not on the sheet itself.",),
            id="in a corner of its own",
        ),
        pytest.param(
            {"placements": (H, G, P, replace(Q, host="Z"))},
            ("blank q lies in Z, which is not on the sheet itself.",),
            id="in a host that does not exist",
        ),
        pytest.param(
            # q from 92.9 to 104.9; the cut at 91 leaves what begins at 93.
            {"placements": (H, G, P, replace(Q, x_mm=92.9))},
            (
                "blanks p and q overlap or lie closer than a kerf.",
                "no order of cuts from edge to edge sets the blanks in a corner of H free.",
                "the cuts do not set blank q free in its size.",
            ),
            id="two guests a tenth closer than a kerf",
        ),
        pytest.param(
            {"placements": (H, replace(G, along_mm=17.9), P, Q)},
            (
                "blank g is placed as 17.9 x 10 mm, not 18 x 10 mm.",
                "the cuts do not set blank g free in its size.",
            ),
            id="a guest cut too small",
        ),
        pytest.param(
            {"placements": (H, replace(G, turned=True), P, Q)},
            ("blank g is turned against its flutes.", "blank g is placed as 18 x 10 mm, not 10 x 18 mm."),
            id="a guest said to be turned that is not",
        ),
        pytest.param(
            {"placements": (H, replace(G, host=None), P, Q)},
            (
                "blanks H and g overlap or lie closer than a kerf.",
                "no order of cuts from edge to edge sets its blanks free.",
                "the cuts do not set blank g free in its size.",
            ),
            id="a guest on the sheet itself",
        ),
        pytest.param(
            {"cuts": HOST_TRIM},
            (
                "the cuts do not set blank p free in its size.",
                "the cuts do not set blank q free in its size.",
            ),
            id="the cut in the corner forgotten",
        ),
        pytest.param(
            {"cuts": (*HOST_TRIM, replace(CORNER_CUT, y1_mm=64.9))},
            ("cut 1 does not run from edge to edge of any part.",),
            id="a cut that ends short of the corner's edge",
        ),
        pytest.param(
            # It begins at the corner's own inner edge, 65 - 22 = 43, and so in the host.
            {"cuts": (*HOST_TRIM, replace(CORNER_CUT, y0_mm=43))},
            (
                "the cuts do not set blank p free in its size.",
                "the cuts do not set blank q free in its size.",
                "a cut in a corner of H sets no blank free.",
            ),
            id="a cut that reaches into the host",
        ),
        pytest.param(
            {"cuts": (*HOST_TRIM, replace(CORNER_CUT, x0_mm=91.1, x1_mm=91.1))},
            (
                "the cuts do not set blank p free in its size.",
                "the cuts do not set blank q free in its size.",
            ),
            id="a cut a tenth beside the blank",
        ),
        pytest.param(
            {"cuts": (*HOST_TRIM, CORNER_CUT, Cut(87, 5, 87, 19, host="H"))},
            ("a cut in a corner of H sets no blank free.",),
            id="a cut in a corner without guests",
        ),
        pytest.param(
            {"cuts": (*HOST_TRIM, CORNER_CUT, CORNER_CUT)},
            ("cut 2 does not run from edge to edge of any part.",),
            id="a cut in a corner listed twice",
        ),
        pytest.param(
            {"cuts": (*HOST_TRIM, replace(CORNER_CUT, host="g"))},
            (
                "the cuts do not set blank p free in its size.",
                "the cuts do not set blank q free in its size.",
                "a cut in a corner of g sets no blank free.",
            ),
            id="a cut said to be in another host",
        ),
        pytest.param(
            {"cuts": (*HOST_TRIM, replace(CORNER_CUT, host=None))},
            (
                "cut 5 does not run from edge to edge of any part.",
                "the cuts do not set blank p free in its size.",
                "the cuts do not set blank q free in its size.",
            ),
            id="a cut in a corner said to be on the sheet",
        ),
        pytest.param(
            {"offcuts": (Offcut(77, 5, 28, 14),)},
            ("the offcut at 77, 5 mm is not a part that the cuts leave over.",),
            id="an empty corner listed as an offcut",
        ),
        pytest.param(
            {"rules": replace(IN_CORNERS, use_corners=False)},
            tuple(f"blank {key} lies in a corner, which the rules do not allow." for key in "gpq"),
            id="corners that the rules do not allow",
        ),
        pytest.param(
            {
                "rules": replace(IN_CORNERS, mix_batches=False),
                "pieces": [*HOSTED[:3], replace(HOSTED[3], batch=2)],
            },
            ("it mixes the batches 0, 2.",),
            id="a guest of another batch",
        ),
        pytest.param(
            {
                "pieces": [*HOSTED[:2], Piece("p", 20, 12), HOSTED[3]],
                "placements": (H, G, replace(P, turned=True), Q),
            },
            ("blank p is turned against its flutes.",),
            id="a guest turned against its flutes",
        ),
        pytest.param(
            {"pieces": [replace(HOSTED[0], corners=()), *HOSTED[1:]]},
            (
                *(f"blank {key} does not lie in a waste corner of H." for key in "gpq"),
                "a cut in a corner of H sets no blank free.",
            ),
            id="a host without waste corners",
        ),
        pytest.param(
            # 27.9 less 2 can be used from 105 - 25.9 = 79.1; p begins at 79, and the cut still sets q free.
            {"pieces": [replace(HOSTED[0], corners=(*UNEQUAL[:3], (27.9, 22))), *HOSTED[1:]]},
            ("blank p does not lie in a waste corner of H.",),
            id="a corner a tenth too short",
        ),
    ],
)
def test_each_fault_in_a_corner_is_found_out(changes, expected):
    assert corner_faults(**changes) == tuple(f"Sheet 1 (S): {fault}" for fault in expected)


def test_guest_that_spans_two_corners_is_found_out():
    # Corners of 50 x 20 meet in the middle of the near edge; a blank of 30 x 20 lies across the line.
    pieces = [Piece("H", 100, 60, corners=((50, 20), (50, 20), (0, 0), (0, 0))), Piece("g", 30, 20)]
    placements = (Placement("H", 0, 0, 100, 60, False), Placement("g", 35, 0, 30, 20, False, "H"))
    layout = Layout((CutSheet("S", placements, (), ()),), ())

    assert check(layout, pieces, [make_sheet(100, 60)], Rules(use_corners=True)) == (
        "Sheet 1 (S): blank g does not lie in a waste corner of H.",
    )


def test_guest_of_a_host_on_another_sheet_is_found_out():
    pieces = [*HOSTED, Piece("K", 100, 60)]
    other = CutSheet("S", (replace(H, key="K"), G), HOST_TRIM, ())

    assert corner_faults(pieces=pieces, placements=(H, P, Q), more=(other,)) == (
        "Sheet 2 (S): blank g lies in H, which is not on the sheet itself.",
    )


def test_guest_placed_in_a_corner_and_on_a_sheet_too_is_found_out():
    other = CutSheet("S", (replace(G, host=None),), (*HOST_TRIM, Cut(23, 5, 23, 65), Cut(5, 15, 23, 15)), ())

    assert corner_faults(more=(other,)) == ("Blank g is placed or left out 2 times, not once.",)


NOT_IN_H = ("Sheet 1 (S): blank g does not lie in a waste corner of H.",)


@pytest.mark.parametrize(
    ("x_mm", "y_mm", "is_turned", "expected"),
    [
        # A square host turned to the left brings its near left corner, 20 x 12, to the near right: less the
        # kerf of 2 it can be used from 5 + 60 - 10 = 55 to 65 and from 5 to 5 + 18 = 23. The guest, 18 x 10,
        # fills it turned.
        (55, 5, True, ()),
        (55, 5.1, True, NOT_IN_H),
        (54.9, 5, True, NOT_IN_H),
        (5, 5, False, NOT_IN_H),  # where the corner was before the host was turned
        (5, 47, True, NOT_IN_H),  # where it would be had the host been turned to the right
    ],
)
def test_corners_turn_with_their_host(x_mm, y_mm, is_turned, expected):
    pieces = [Piece("H", 60, 60, True, ((20, 12), (0, 0), (0, 0), (0, 0))), Piece("g", 18, 10, True)]
    along, across = (10, 18) if is_turned else (18, 10)
    host = Placement("H", 5, 5, 60, 60, turned=True)
    guest = Placement("g", x_mm, y_mm, along, across, is_turned, host="H")
    trim = (
        Cut(0, 5, 70, 5, is_trim=True),
        Cut(0, 65, 70, 65, is_trim=True),
        Cut(5, 5, 5, 65, is_trim=True),
        Cut(65, 5, 65, 65, is_trim=True),
    )
    layout = Layout((CutSheet("S", (host, guest), trim, ()),), ())

    assert check(layout, pieces, [make_sheet(70, 70)], IN_CORNERS) == expected


# ---- Rules about sheets ----------------------------------------------------------------------------------

# The classic counterexample: four blanks of 2 x 1 around a hole of 1 x 1, on a square of 3.
WHEEL = make_pieces((2, 1), (1, 2), (2, 1), (1, 2))
WHEEL_PLACES = tuple(
    Placement(piece.key, x, y, piece.along_mm, piece.across_mm, turned=False)
    for piece, (x, y) in zip(WHEEL, [(0, 0), (2, 0), (1, 2), (0, 1)], strict=True)
)


@pytest.mark.parametrize(
    ("edge_to_edge", "expected"),
    [
        (False, ()),
        (
            True,
            (
                "Sheet 1 (S): no order of cuts from edge to edge sets its blanks free.",
                *(f"Sheet 1 (S): the cuts do not set blank {key} free in its size." for key in "ABCD"),
            ),
        ),
    ],
)
def test_pinwheel_is_accepted_where_cuts_need_not_run_from_edge_to_edge(edge_to_edge, expected):
    layout = Layout((CutSheet("S", WHEEL_PLACES, (), ()),), ())

    assert check(layout, WHEEL, [make_sheet(3, 3)], Rules(edge_to_edge=edge_to_edge)) == expected


@pytest.mark.parametrize(
    ("edge_to_edge", "expected"),
    [
        (False, ()),
        (
            True,
            (
                "Sheet 1 (S): no order of cuts from edge to edge sets the blanks in a corner of H free.",
                *(f"Sheet 1 (S): the cuts do not set blank {key} free in its size." for key in "ABCD"),
            ),
        ),
    ],
)
def test_pinwheel_in_a_corner_is_judged_as_one_on_the_sheet(edge_to_edge, expected):
    # The far right corner of 3 x 3 of a host of 7 x 7 begins at 4, 4.
    host = Piece("H", 7, 7, corners=((0, 0), (0, 0), (0, 0), (3, 3)))
    guests = [
        replace(placed, x_mm=placed.x_mm + 4, y_mm=placed.y_mm + 4, host="H") for placed in WHEEL_PLACES
    ]
    layout = Layout((CutSheet("S", (Placement("H", 0, 0, 7, 7, False), *guests), (), ()),), ())
    rules = Rules(use_corners=True, edge_to_edge=edge_to_edge)

    assert check(layout, [host, *WHEEL], [make_sheet(7, 7)], rules) == expected


def test_overlap_is_found_out_where_cuts_need_not_run_from_edge_to_edge():
    places = (*WHEEL_PLACES[:3], replace(WHEEL_PLACES[3], y_mm=0.9))
    layout = Layout((CutSheet("S", places, (), ()),), ())

    assert check(layout, WHEEL, [make_sheet(3, 3)], Rules(edge_to_edge=False)) == (
        "Sheet 1 (S): blanks A and D overlap or lie closer than a kerf.",
    )


@pytest.mark.parametrize(
    ("mix_batches", "expected"),
    [(True, ()), (False, ("Sheet 1 (S): it mixes the batches 1, 2, 10.",))],
)
def test_batches_share_a_sheet_only_where_they_may(mix_batches, expected):
    pieces = [replace(piece, batch=batch) for piece, batch in zip(PIECES, (10, 1, 2), strict=True)]
    layout = Layout((GOOD,), ())

    assert check(layout, pieces, [make_sheet()], replace(RULES, mix_batches=mix_batches)) == expected


def test_batches_on_sheets_of_their_own_need_not_mix():
    pieces = [Piece("A", 100, 60, batch=1), Piece("B", 100, 60, batch=2)]
    sheets = [CutSheet("S", (Placement(key, 0, 0, 100, 60, False),), (), ()) for key in "AB"]

    assert check(Layout(tuple(sheets), ()), pieces, [make_sheet()], Rules(mix_batches=False)) == ()


# ---- Cuts that need not run from edge to edge ------------------------------------------------------------


def test_cuts_in_a_corner_are_good_too_where_they_need_not_run_from_edge_to_edge():
    assert corner_faults(rules=replace(IN_CORNERS, edge_to_edge=False)) == ()


def test_offcut_on_a_blank_is_found_out_where_cuts_need_not_run_from_edge_to_edge():
    layout = Layout((CutSheet("S", WHEEL_PLACES, (), (Offcut(0, 0, 2, 1),)),), ())

    assert check(layout, WHEEL, [make_sheet(3, 3)], Rules(edge_to_edge=False)) != ()
