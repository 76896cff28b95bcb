"""A plan while it is searched for: sheets opened, filled and closed, copies, room for trees, corners."""

from copy import deepcopy
from decimal import Decimal

import numpy as np
import pytest

from boards.core.nesting import Piece, Rules
from boards.core.nesting.compiled.places import CORNERS
from boards.core.nesting.compiled.trees import CORNER, HOST, KIND
from boards.core.nesting.first_plans import lay_out
from boards.core.nesting.job import grow, mm
from boards.core.nesting.state import Node, State, tree
from tests.boards.core.nesting.by_hand import ACROSS, ALONG, keep, keep_in_corner, laid, rest, split
from tests.boards.core.nesting.made import make_pieces, make_sheet

LARGE, SMALL = make_sheet(100, 60, price=10, key="large"), make_sheet(50, 60, price=4, key="small")


def chance() -> np.ndarray:
    """Random numbers to begin with."""
    return np.array([1], np.uint64)


def make_state(*sizes: tuple[float, float], sheets=(LARGE, SMALL), rules=None) -> State:
    """A plan of blanks that may not turn, nothing laid yet."""
    pieces = make_pieces(*sizes)
    return State.of(grow(pieces, sheets, rules or Rules()), range(len(pieces)))


def shape(node: Node) -> tuple:
    """A tree as it lies, for comparing."""
    return node.what, node.way, node.x, node.y, node.a, node.b, tuple(map(shape, node.parts))


def lying(state: State) -> dict[int, list[tuple]]:
    """Every blank of every open sheet: which, x and y in mm, turned."""
    return {
        number: [(blank, mm(x), mm(y), turned) for blank, x, y, turned in state.laid(number)]
        for number in state.opened
    }


def three_on_two_sheets() -> State:
    """A (60 x 60) and B (40 x 30) on a large sheet, C (50 x 20) on a small one, D (30 x 30) left out."""
    state = make_state((60, 60), (40, 30), (50, 20), (30, 30))
    large, small = state.open([0, 1])
    keep(state, large, split(ALONG, laid(0, 60, 60), split(ACROSS, laid(1, 40, 30), rest(40, 30))))
    keep(state, small, split(ACROSS, laid(2, 50, 20), rest(50, 40)))
    return state


# ---- What a plan says of itself --------------------------------------------------------------------------


def test_plan_by_hand():
    state = three_on_two_sheets()

    assert lying(state) == {
        0: [(0, 0, 0, False), (1, 60, 0, False)],
        1: [(2, 0, 0, False)],
    }
    assert (state.counts(), state.money, state.out) == ([1, 1], Decimal(14), [3])
    # 3600 + 1200 of 6000 are in use, 1000 of 3000.
    assert [round(state.free_share(number), 9) for number in (0, 1)] == [0.2, round(2 / 3, 9)]


def test_value_puts_area_left_out_before_money_before_sheets_before_room():
    # In shares of the large sheet, 6000 mm2: left out 900 / 6000 = 0.15. Free are 0.2 of 1 and 2/3 of 0.5:
    # 0.04 + 0.5 * 4/9 = 0.2622...
    left_out, cost, sheets, room = three_on_two_sheets().value

    assert (left_out, cost, sheets) == (0.15, 14, 2)
    assert room == pytest.approx(-(0.04 + 0.5 * 4 / 9))


def test_sheet_on_which_nothing_lies_is_one_piece_of_waste():
    state = make_state((60, 60))
    (number,) = state.open([1])

    node = tree(state, number)

    assert (node.what, mm(node.a), mm(node.b), node.parts) == (-1, 50, 60, [])
    assert state.free_share(number) == 1


# ---- Opening and closing ---------------------------------------------------------------------------------


def test_closed_sheet_gives_its_blanks_back_and_its_number_to_the_next():
    state = three_on_two_sheets()

    state.close([0])

    assert (state.opened, sorted(state.out), state.counts()) == ([1], [0, 1, 3], [0, 1])
    assert state.bin_of.tolist() == [-1, -1, 1, -1]
    assert state.open([1, 1]) == [0, 2]
    assert lying(state) == {1: [(2, 0, 0, False)], 0: [], 2: []}


def test_empty_sheets_alone_are_closed_as_empty():
    state = three_on_two_sheets()
    state.open([0, 0])

    state.close_empty()

    assert state.opened == [0, 1]


@pytest.mark.parametrize(
    ("goal", "out"),
    [
        ((1, 1), [3]),  # as it is
        ((0, 1), [0, 1, 3]),  # the large one is given up
        ((2, 0), [2, 3]),  # the small one is given up, another large one opened
        ((0, 0), [0, 1, 2, 3]),
    ],
)
def test_open_sheets_are_changed_to_a_goal(goal, out):
    state = three_on_two_sheets()

    lay_out(state, goal)

    assert state.counts() == list(goal)
    assert sorted(state.out) == out
    assert sorted(row[0] for rows in lying(state).values() for row in rows) == sorted({0, 1, 2, 3} - set(out))


def test_emptiest_sheet_of_its_kind_is_given_up():
    # 50 x 60 fills its sheet, 50 x 20 fills a third of the other.
    state = make_state((50, 60), (50, 20))
    full, emptier = state.open([1, 1])
    keep(state, full, laid(0, 50, 60))
    keep(state, emptier, split(ACROSS, laid(1, 50, 20), rest(50, 40)))

    lay_out(state, (0, 1))

    assert (state.opened, state.out) == ([full], [1])


# ---- Filling ---------------------------------------------------------------------------------------------


def test_filling_lays_what_finds_room_and_leaves_out_the_rest():
    # 60 x 60 and 40 x 60 fill the sheet; 10 x 10 finds no room any more.
    state = make_state((10, 10), (60, 60), (40, 60))
    (number,) = state.open([0])

    count = state.fill([number], chance())

    assert (count, state.out) == (2, [0])
    assert state.bin_of.tolist() == [-1, number, number]
    assert state.free_share(number) == 0


def test_filling_keeps_what_already_lies_on_a_sheet():
    state = three_on_two_sheets()
    before = lying(state)

    state.fill([0, 1], chance())

    # D, 30 x 30, fits beside B, 40 x 30, or beside C, 50 x 20.
    assert state.out == []
    after = lying(state)
    assert all({row[0] for row in before[number]} <= {row[0] for row in after[number]} for number in before)


def test_filling_nothing_or_with_nothing_changes_nothing():
    state = three_on_two_sheets()

    assert state.fill([], chance()) == 0
    state.close([1])
    state.out = []
    assert state.fill([0], chance()) == 0


# ---- Copies and room -------------------------------------------------------------------------------------


def test_copy_is_independent():
    state = three_on_two_sheets()
    other = state.copy()
    before = deepcopy(state)

    other.fill([0, 1], chance())
    other.close([1])
    other.open([0, 1, 1])
    other.make_room(10_000)

    assert lying(state) == lying(before)
    assert (state.out, state.opened, state.money) == (before.out, before.opened, before.money)
    for name in ("about", "bin_of", "turned", "bins", "bin_sides", "kept_side", "kept", "arena"):
        assert np.array_equal(getattr(state, name), getattr(before, name)), name


def test_copy_has_corners_of_its_own():
    state = cornered()
    other = state.copy()

    other.fill([0], chance())

    assert (state.out, list(state.laid(0))) == ([0, 1], [])
    assert state.about.tolist() == cornered().about.tolist()
    assert other.about.tolist() != state.about.tolist()


def test_plan_changed_leaves_its_copy_alone():
    state = three_on_two_sheets()
    copy = state.copy()

    state.close([0, 1])

    assert lying(copy) == lying(three_on_two_sheets())


def test_making_room_keeps_every_tree_and_does_so_once():
    state = three_on_two_sheets()
    before = [shape(tree(state, number)) for number in state.opened]

    state.make_room(5_000)

    assert [shape(tree(state, number)) for number in state.opened] == before
    assert state.arena[1] - state.arena[0] >= 5_000
    kept = state.kept
    state.make_room(5_000)
    assert state.kept is kept


def test_trees_stay_apart_however_often_room_is_made():
    state = three_on_two_sheets()
    before = [shape(tree(state, number)) for number in state.opened]

    for nodes in (10, 100, 1_000, 10_000):
        state.make_room(nodes)
        state.arena[0] = state.arena[1]  # as if it were used up

    assert [shape(tree(state, number)) for number in state.opened] == before
    starts = sorted((state.bins[n, 0], state.bins[n, 1]) for n in state.opened)
    assert starts[0][0] + starts[0][1] <= starts[1][0]


# ---- Corners ---------------------------------------------------------------------------------------------

# Corners of a host of 60 x 60: large enough for 10 x 8 are the first, 12 x 10, and the last, 8 x 14; the
# second, 20 x 7, is too narrow, the third is nothing.
CORNERED = ((12, 10), (20, 7), (0, 0), (8, 14))
IN_CORNERS = Rules(use_corners=True)


def cornered(rules: Rules = IN_CORNERS) -> State:
    """A host and a blank of 10 x 8 that may turn."""
    pieces = [Piece("host", 60, 60, corners=CORNERED), Piece("guest", 10, 8, may_turn=True)]
    return State.of(grow(pieces, [LARGE], rules), [0, 1])


def test_each_host_has_four_corners_and_those_too_small_hold_nothing():
    state = cornered()

    assert state.corner_count == 4
    assert state.bins[:, KIND].tolist() == [CORNER] * 4
    assert state.bins[:, HOST].tolist() == [0] * 4
    assert state.about[:, CORNERS].tolist() == [0, -1]
    assert [tuple(map(mm, row)) for row in state.bin_sides[:, :2].tolist()] == [
        (12, 10),
        (0, 0),
        (0, 0),
        (8, 14),
    ]


def test_corners_of_one_host_stand_together():
    pieces = [Piece("small", 10, 8), *(Piece(key, 60, 60, corners=CORNERED) for key in "AB")]
    state = State.of(grow(pieces, [LARGE], IN_CORNERS), [0, 1, 2])

    assert state.bins[:, HOST].tolist() == [1, 1, 1, 1, 2, 2, 2, 2]
    assert state.about[:, CORNERS].tolist() == [-1, 0, 4]


@pytest.mark.parametrize(
    "state",
    [
        cornered(Rules()),  # corners are not used
        make_state((60, 60), (10, 8), rules=IN_CORNERS),  # there are none
        State.of(
            grow([Piece("host", 60, 60, corners=((9, 7),) * 4), Piece("g", 10, 8)], [LARGE], IN_CORNERS),
            [0, 1],
        ),  # nothing is small enough
    ],
)
def test_there_are_no_corners_where_none_can_be_used(state):
    assert (state.corner_count, state.about[:, CORNERS].tolist()) == (0, [-1, -1])


def test_kerf_is_lost_in_corners_as_guests_are_grown_by_it():
    # With a kerf of 2 the guest needs 12 x 10, just what the first corner is; 8 x 14 is now too narrow.
    state = cornered(Rules(kerf_mm=2, use_corners=True))

    assert [tuple(map(mm, row)) for row in state.bin_sides[:, :2].tolist()] == [
        (12, 10),
        (0, 0),
        (0, 0),
        (0, 0),
    ]


def test_guests_go_where_their_host_goes():
    state = cornered()
    keep_in_corner(state, 0, 0, split(ALONG, split(ACROSS, laid(1, 10, 8), rest(10, 2)), rest(2, 10)))
    (number,) = state.open([0])
    keep(state, number, split(ALONG, laid(0, 60, 60), rest(40, 60)))

    state.close([number])

    assert state.out == [0]
    assert [blank for blank, *_ in state.laid(0)] == [1]


def test_filling_a_corner_lays_the_guest_in_it():
    # In 12 x 10 it lies turned, 8 x 10, which leaves 4 x 10 in one piece; in 8 x 14 it fits turned alone.
    for corner in (0, 3):
        state = cornered()

        assert state.fill([corner], chance()) == 1
        assert [(blank, mm(x), mm(y), turned) for blank, x, y, turned in state.laid(corner)] == [
            (1, 0, 0, True)
        ]
        assert state.out == [0]


def test_blank_is_not_laid_in_its_own_corner_nor_in_that_of_its_guest():
    # Two equal hosts with corners as large as themselves: one may lie in the other, not both in each other.
    whole = ((30, 30), (0, 0), (0, 0), (0, 0))
    pieces = [Piece(key, 30, 30, corners=whole) for key in "AB"]
    state = State.of(grow(pieces, [LARGE], IN_CORNERS), [0, 1])

    count = state.fill(range(8), chance())

    assert (count, len(state.out)) == (1, 1)
    guest = 1 - state.out[0]
    assert state.host_of(int(state.bin_of[guest])) == state.out[0]


def test_corners_of_a_guest_stay_empty():
    # B lies in a corner of A; its own corner would hold the small one.
    pieces = [
        Piece("A", 80, 60, corners=((40, 30), (0, 0), (0, 0), (0, 0))),
        Piece("B", 40, 30, corners=((10, 8), (0, 0), (0, 0), (0, 0))),
        Piece("small", 10, 8),
    ]
    state = State.of(grow(pieces, [LARGE], IN_CORNERS), [0, 1, 2])
    keep_in_corner(state, 0, 0, laid(1, 40, 30))

    assert state.fill([4], chance()) == 0
    assert state.out == [0, 2]
