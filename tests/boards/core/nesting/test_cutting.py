"""From trees of cuts made by hand to the order of cuts, the blanks' places and the offcuts."""

import pytest

from boards.core.nesting import Cut, CutSheet, Layout, Offcut, Piece, Placement, Rules, Sheet, check, nest
from boards.core.nesting.cutting import cut_up
from boards.core.nesting.state import Node
from tests.boards.core.nesting.by_hand import (
    ACROSS,
    ALONG,
    keep_in_corner,
    laid,
    rest,
    split,
    state_of,
)
from tests.boards.core.nesting.made import make_pieces, make_sheet

PLAIN = Rules()


def cut(pieces: list[Piece], root: Node, rules: Rules = PLAIN, sheet: Sheet | None = None) -> CutSheet:
    """The one sheet of a plan, 100 x 60 mm unless another is given."""
    sheet = sheet or make_sheet(100, 60)
    return cut_up(state_of(pieces, sheet, rules, root), 0, pieces, sheet, rules)


# ---- The order of cuts -----------------------------------------------------------------------------------


def test_near_strip_is_finished_before_the_rest():
    # Strips of 60 and 40: three blanks in the near one, two in the other. The sheet is the first part, the
    # strips are the second and the third; lines across a strip are marked from its edge at y = 0.
    pieces = make_pieces((60, 30), (60, 20), (60, 10), (40, 35), (40, 25))
    near = split(ACROSS, laid(0, 60, 30), laid(1, 60, 20), laid(2, 60, 10))
    far = split(ACROSS, laid(3, 40, 35), laid(4, 40, 25))

    assert cut(pieces, split(ALONG, near, far)).cuts == (
        Cut(60, 0, 60, 60, part=1, mark_mm=60, stage=0),
        Cut(0, 30, 60, 30, part=2, mark_mm=30, stage=1),
        Cut(0, 50, 60, 50, part=2, mark_mm=50, stage=1),
        Cut(60, 35, 100, 35, part=3, mark_mm=35, stage=1),
    )


def test_all_cuts_of_a_part_come_together_marked_from_its_near_edge():
    # Inside a trim of 5 lie 90 x 50, grown by the kerf of 2 they are 92 x 52. Strips of 40, 28 and 18 with
    # two kerfs fill 90; their far edges lie at 40 and 40 + 2 + 28 = 70 from the near edge. The second strip
    # begins at 5 + 40 + 2 = 47; of its 50 across, 20 + 2 + 28 are used.
    pieces = make_pieces((40, 50), (28, 28), (28, 20), (18, 50))
    middle = split(ACROSS, laid(1, 30, 30), laid(2, 30, 22))
    root = split(ALONG, laid(0, 42, 52), middle, laid(3, 20, 52))

    done = cut(pieces, root, Rules(kerf_mm=2, trim_mm=5))

    assert done.cuts[4:] == (
        Cut(45, 5, 45, 55, part=1, mark_mm=40, stage=0),
        Cut(75, 5, 75, 55, part=1, mark_mm=70, stage=0),
        Cut(47, 33, 75, 33, part=2, mark_mm=28, stage=1),
    )
    assert [(placed.key, placed.x_mm, placed.y_mm) for placed in done.placements] == [
        ("A", 5, 5),
        ("B", 47, 5),
        ("C", 47, 35),
        ("D", 77, 5),
    ]


def test_sheet_is_turned_once_more_for_each_stage():
    # 60 x 60 beside 40 x 60; the latter in 40 x 35 and 40 x 25; that in 30 x 25 and 10 x 25.
    pieces = make_pieces((60, 60), (40, 35), (30, 25), (10, 25))
    last = split(ALONG, laid(2, 30, 25), laid(3, 10, 25))
    root = split(ALONG, laid(0, 60, 60), split(ACROSS, laid(1, 40, 35), last))

    assert cut(pieces, root).cuts == (
        Cut(60, 0, 60, 60, part=1, mark_mm=60, stage=0),
        Cut(60, 35, 100, 35, part=2, mark_mm=35, stage=1),
        Cut(90, 35, 90, 60, part=3, mark_mm=30, stage=2),
    )


def test_parts_are_laid_from_long_to_short_and_what_is_left_over_comes_last():
    # The tree says 20, waste 30, 50; on the sheet it is 50, 20, waste.
    pieces = make_pieces((20, 60), (50, 60))
    root = split(ALONG, laid(0, 20, 60), rest(30, 60), laid(1, 50, 60))

    done = cut(pieces, root)

    assert [(placed.key, placed.x_mm) for placed in done.placements] == [("B", 0), ("A", 50)]
    assert done.offcuts == (Offcut(70, 0, 30, 60),)


def test_blank_that_fills_the_sheet_needs_no_cut():
    done = cut(make_pieces((100, 60)), laid(0, 100, 60))

    assert (done.cuts, done.offcuts) == ((), ())


def test_turned_blank_is_placed_with_its_sides_changed():
    # 60 along its own flutes; turned by 90 degrees that side lies across the sheet.
    done = cut(make_pieces((60, 100), may_turn=True), laid(0, 100, 60, turned=True))

    assert done.placements == (Placement("A", 0, 0, 100, 60, turned=True),)


def test_finished_plan_leaves_the_larger_offcut():
    # Side by side two blanks of 40 x 30 leave 100 x 30 at most; one beyond the other they leave 60 x 60.
    layout = nest(make_pieces((40, 30), (40, 30)), [make_sheet(100, 60)], PLAIN)

    assert layout.sheets[0].offcuts == (Offcut(40, 0, 60, 60),)


# ---- Offcuts ---------------------------------------------------------------------------------------------


# Strips of 40, 30, 20 and a rest of 10: offcuts of 30 x 9 = 270, 20 x 12 = 240 and 10 x 60 = 600 mm2.
STRIPS = make_pieces((40, 60), (30, 51), (20, 48))
FIRST, SECOND, THIRD = Offcut(90, 0, 10, 60), Offcut(40, 51, 30, 9), Offcut(70, 48, 20, 12)


@pytest.mark.parametrize(
    ("side_mm", "area_mm2", "expected"),
    [
        (0, 0, (FIRST, SECOND, THIRD)),  # the largest first
        (9, 0, (FIRST, SECOND, THIRD)),  # just as narrow as allowed
        (9.1, 0, (FIRST, THIRD)),
        (10.1, 0, (THIRD,)),
        (0, 240, (FIRST, SECOND, THIRD)),  # just as small as allowed
        (0, 241, (FIRST, SECOND)),
        (10, 250, (FIRST,)),  # one too narrow, one too small
        (0, 601, ()),
    ],
)
def test_offcuts_are_listed_from_a_least_side_and_a_least_area(side_mm, area_mm2, expected):
    root = split(
        ALONG,
        laid(0, 40, 60),
        split(ACROSS, laid(1, 30, 51), rest(30, 9)),
        split(ACROSS, laid(2, 20, 48), rest(20, 12)),
        rest(10, 60),
    )

    done = cut(STRIPS, root, Rules(least_offcut_mm=side_mm, least_offcut_mm2=area_mm2))

    assert done.offcuts == expected


@pytest.mark.parametrize("along_mm", [98, 99])
def test_strip_no_wider_than_the_kerf_falls_away_in_the_cut(along_mm):
    # A knife of 2 on a sheet of 100: beyond a blank of 98 it takes the 2 that are left, beyond 99 the 1.
    done = cut(
        make_pieces((along_mm, 60)),
        split(ALONG, laid(0, along_mm + 2, 62), rest(100 - along_mm, 62)),
        Rules(kerf_mm=2),
    )

    assert done.cuts == (Cut(along_mm, 0, along_mm, 60, part=1, mark_mm=along_mm),)
    assert done.offcuts == ()


def test_offcut_begins_a_kerf_beyond_the_cut():
    # 97 + 2 leave 1 of 100.
    root = split(ALONG, laid(0, 99, 62), rest(3, 62))

    assert cut(make_pieces((97, 60)), root, Rules(kerf_mm=2)).offcuts == (Offcut(99, 0, 1, 60),)


# ---- Corners ---------------------------------------------------------------------------------------------


# A host of 100 x 60 mm that fills its sheet inside a trim of 5; its corners, near left 20 x 12, near right
# 30 x 16, far left 24 x 18, far right 28 x 22, lose the kerf of 2 along their inner edges: 18 x 10, 28 x 14,
# 22 x 16 and 26 x 20 can be used.
UNEQUAL = ((20, 12), (30, 16), (24, 18), (28, 22))
HOST = Piece("host", 100, 60, may_turn=True, corners=UNEQUAL)
IN_CORNERS = Rules(kerf_mm=2, trim_mm=5, use_corners=True)


def with_guest(corner: int, is_turned: bool, guest_is_turned: bool) -> tuple[CutSheet, tuple[str, ...]]:
    """The host with a guest of 6 x 4 mm in a corner, and what the judge says of it.

    The first cut in the corner runs across the host's own flutes, beside the guest.
    """
    pieces = [HOST, Piece("guest", 6, 4, may_turn=True)]
    sheet = make_sheet(70, 110) if is_turned else make_sheet(110, 70)
    host = laid(0, 62, 102, turned=True) if is_turned else laid(0, 102, 62)
    along, across = UNEQUAL[corner]
    a, b = (6, 8) if guest_is_turned else (8, 6)
    state = state_of(pieces, sheet, IN_CORNERS, host)
    strip = split(ACROSS, laid(1, a, b, turned=guest_is_turned), rest(a, across - b))
    keep_in_corner(state, 0, corner, split(ALONG, strip, rest(along - a, across)))
    cut_sheet = cut_up(state, len(state.bins) - 1, pieces, sheet, IN_CORNERS)
    return cut_sheet, check(Layout((cut_sheet,), ()), pieces, [sheet], IN_CORNERS)


@pytest.mark.parametrize(
    ("corner", "x", "y", "across"),
    [
        (0, 5, 5, 10),
        (1, 77, 5, 14),  # 5 + 100 - 28
        (2, 5, 49, 16),  # 5 + 60 - 16
        (3, 79, 45, 20),  # 5 + 100 - 26, 5 + 60 - 20
    ],
)
def test_guest_in_a_corner_of_a_straight_host(corner, x, y, across):
    cut_sheet, faults = with_guest(corner, is_turned=False, guest_is_turned=False)

    assert cut_sheet.placements == (
        Placement("host", 5, 5, 100, 60, turned=False),
        Placement("guest", x, y, 6, 4, turned=False, host="host"),
    )
    assert cut_sheet.cuts[4:] == (
        Cut(x + 6, y, x + 6, y + across, part=1, mark_mm=6, stage=0, host="host"),
        Cut(x, y + 4, x + 6, y + 4, part=2, mark_mm=4, stage=1, host="host"),
    )
    assert (cut_sheet.offcuts, faults) == ((), ())


@pytest.mark.parametrize(
    ("corner", "x", "y", "along"),
    [
        # Turned to the left the host is 60 x 100, and its point x, y comes to 60 - y, x.
        (0, 55, 5, 10),  # x 0 to 18, y 0 to 10: 50 to 60, 0 to 18
        (1, 51, 77, 14),  # x 72 to 100, y 0 to 14: 46 to 60, 72 to 100
        (2, 5, 5, 16),  # x 0 to 22, y 44 to 60: 0 to 16, 0 to 22
        (3, 5, 79, 20),  # x 74 to 100, y 40 to 60: 0 to 20, 74 to 100
    ],
)
def test_guest_in_a_corner_of_a_host_turned_to_the_left(corner, x, y, along):
    # The cut across the host's flutes runs along those of the sheet; the guest lies as the host does.
    cut_sheet, faults = with_guest(corner, is_turned=True, guest_is_turned=False)

    assert cut_sheet.placements == (
        Placement("host", 5, 5, 60, 100, turned=True),
        Placement("guest", x, y, 4, 6, turned=True, host="host"),
    )
    assert cut_sheet.cuts[4:] == (
        Cut(x, y + 6, x + along, y + 6, part=1, mark_mm=6, stage=0, host="host"),
        Cut(x + 4, y, x + 4, y + 6, part=2, mark_mm=4, stage=1, host="host"),
    )
    assert (cut_sheet.offcuts, faults) == ((), ())


def test_guest_turned_within_a_turned_host_lies_straight_on_the_sheet():
    # In the host's axes 4 x 6, on the sheet 6 x 4, in the corner that begins at 5, 79.
    cut_sheet, faults = with_guest(3, is_turned=True, guest_is_turned=True)

    assert cut_sheet.placements[1] == Placement("guest", 5, 79, 6, 4, turned=False, host="host")
    assert faults == ()


def test_guest_that_fills_its_corner_needs_no_cut_of_its_own():
    pieces = [HOST, Piece("guest", 26, 20)]
    state = state_of(pieces, make_sheet(110, 70), IN_CORNERS, laid(0, 102, 62))
    keep_in_corner(state, 0, 3, laid(1, 28, 22))

    cut_sheet = cut_up(state, len(state.bins) - 1, pieces, make_sheet(110, 70), IN_CORNERS)

    assert cut_sheet.placements[1] == Placement("guest", 79, 45, 26, 20, turned=False, host="host")
    assert len(cut_sheet.cuts) == 4


def test_blanks_in_corners_come_after_their_hosts_and_so_do_their_cuts():
    # Blanks of 90 x 60 and 70 x 60 side by side, each with a corner of 20 x 20 far right, in it 10 x 20 and a
    # rest of 10. The corners begin at 90 - 20 = 70 and 160 - 20 = 140 along, at 60 - 20 = 40 across.
    corners = ((0, 0), (0, 0), (0, 0), (20, 20))
    pieces = [
        Piece("A", 90, 60, corners=corners),
        Piece("B", 70, 60, corners=corners),
        *(Piece(key, 10, 20) for key in "ab"),
    ]
    rules, sheet = Rules(use_corners=True), make_sheet(160, 60)
    state = state_of(pieces, sheet, rules, split(ALONG, laid(0, 90, 60), laid(1, 70, 60)))
    for host, guest in ((0, 2), (1, 3)):
        keep_in_corner(state, host, 3, split(ALONG, laid(guest, 10, 20), rest(10, 20)))

    cut_sheet = cut_up(state, len(state.bins) - 1, pieces, sheet, rules)

    assert cut_sheet == CutSheet(
        "S",
        placements=(
            Placement("A", 0, 0, 90, 60, turned=False),
            Placement("B", 90, 0, 70, 60, turned=False),
            Placement("a", 70, 40, 10, 20, turned=False, host="A"),
            Placement("b", 140, 40, 10, 20, turned=False, host="B"),
        ),
        cuts=(
            Cut(90, 0, 90, 60, part=1, mark_mm=90, stage=0),
            Cut(80, 40, 80, 60, part=2, mark_mm=10, stage=0, host="A"),
            Cut(150, 40, 150, 60, part=3, mark_mm=10, stage=0, host="B"),
        ),
        offcuts=(),
    )
    assert check(Layout((cut_sheet,), ()), pieces, [sheet], rules) == ()
