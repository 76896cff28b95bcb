"""Which ways a blank may lie, and where it is best laid."""

from inspect import signature

import numpy as np
import pytest

from boards.core.nesting import Piece, Rules
from boards.core.nesting.compiled.places import GUESTS_OF, HELD_OF, best_place, recount, ways_in, worth
from boards.core.nesting.compiled.trees import GUESTS, HELD, LINKS, take_up
from boards.core.nesting.job import grow
from boards.core.nesting.state import State
from tests.boards.core.nesting.by_hand import ACROSS, ALONG, keep, keep_in_corner, laid, rest, split
from tests.boards.core.nesting.made import make_sheet

NOT_AT_ALL, STRAIGHT, TURNED, BOTH = 0, 1, 2, 3
QUARTERS = ((30, 30),) * 4
HOST, OTHER, FREE, FIXED = range(4)  # two hosts, a blank that may turn, one that may not


def four_blanks() -> State:
    """Two hosts of 60 x 60 that may turn, and two blanks of 20 x 10, on one empty sheet (number 8)."""
    pieces = [
        Piece("host", 60, 60, True, QUARTERS),
        Piece("other", 60, 60, True, QUARTERS),
        Piece("free", 20, 10, True),
        Piece("fixed", 20, 10),
    ]
    state = State.of(grow(pieces, [make_sheet(100, 60)], Rules(use_corners=True)), range(4))
    state.open([0])
    return state


def call(function, **known):
    """Call a compiled function that takes many arrays, each by its name."""
    return function(*(known[name] for name in signature(function.py_func).parameters))


def arrays(state: State) -> dict:
    """What is known of a plan, by the names the compiled functions give it; no host is on the workbench."""
    return {**vars(state), "is_host": np.zeros(state.job.count, np.bool_)}


def ways(state: State, blank: int, number: int) -> int:
    """The ways a blank may lie in a bin: the corners of the host are 0 to 3, those of the other 4 to 7."""
    known = arrays(state)
    if 0 <= number < state.corner_count:
        known["is_host"][state.host_of(number)] = True
    return int(call(ways_in, **known, blank=blank, bin_number=number))


@pytest.mark.parametrize(("blank", "expected"), [(HOST, BOTH), (FREE, BOTH), (FIXED, STRAIGHT)])
def test_blank_lies_on_a_sheet_as_its_flutes_allow(blank, expected):
    assert ways(four_blanks(), blank, 8) == expected


@pytest.mark.parametrize(
    ("is_turned", "blank", "expected"),
    [
        # A corner keeps its host's axes: in that of a turned host a blank lies turned to lie straight.
        (False, FREE, BOTH),
        (True, FREE, BOTH),
        (False, FIXED, STRAIGHT),
        (True, FIXED, TURNED),
        (False, HOST, NOT_AT_ALL),  # in its own corner
        (True, OTHER, BOTH),
    ],
)
def test_blank_lies_in_a_corner_as_its_flutes_allow_on_the_sheet(is_turned, blank, expected):
    state = four_blanks()
    state.turned[HOST] = is_turned

    assert ways(state, blank, 2) == expected


@pytest.mark.parametrize(("is_turned", "expected"), [(False, STRAIGHT), (True, TURNED)])
def test_host_with_a_guest_of_fixed_flutes_stays_as_it_lies(is_turned, expected):
    state = four_blanks()
    state.turned[HOST] = is_turned
    a, b = (10, 20) if is_turned else (20, 10)
    strip = split(ACROSS, laid(FIXED, a, b, turned=is_turned), rest(a, 30 - b))
    keep_in_corner(state, HOST, 0, split(ALONG, strip, rest(30 - a, 30)))

    assert ways(state, HOST, 8) == expected


def test_host_with_guests_that_may_turn_may_turn_too_but_is_nobodys_guest():
    state = four_blanks()
    strip = split(ACROSS, laid(FREE, 20, 10), rest(20, 20))
    keep_in_corner(state, HOST, 0, split(ALONG, strip, rest(10, 30)))

    assert (ways(state, HOST, 8), ways(state, HOST, 4)) == (BOTH, NOT_AT_ALL)


def test_guests_are_counted_by_corner_and_by_host():
    state = four_blanks()
    for corner, blank in ((0, FREE), (3, FIXED)):
        strip = split(ACROSS, laid(blank, 20, 10), rest(20, 20))
        keep(state, corner, split(ALONG, strip, rest(10, 30)))
        bench = {
            "side": np.zeros((9, 2)),
            "link": np.zeros((9, LINKS), np.int64),
            "stack": np.zeros(9, np.int64),
        }
        lists = {"waste": np.zeros(9, np.int64), "tops": np.zeros(3, np.int64)}
        root = call(take_up, **arrays(state), **bench, **lists, number=corner)

        for _ in range(2):  # counting twice makes no more of them
            call(recount, **arrays(state), **bench, number=corner, root=root)

    assert state.bins[[0, 3]][:, [GUESTS, HELD]].tolist() == [[1, 0], [1, 1]]
    assert state.about[HOST, [GUESTS_OF, HELD_OF]].tolist() == [2, 1]


# ---- Where -----------------------------------------------------------------------------------------------


def test_waste_in_one_piece_is_worth_more_than_in_two():
    assert worth(16.0) == pytest.approx(32)  # 16 to the power 1.25 is 2 to the power 5
    assert worth(16.0) > worth(8.0) + worth(8.0)


@pytest.mark.parametrize(
    ("room", "expected"),
    [
        # A blank of 20 x 10 that may not turn.
        # Across first leaves 80 x 12 = 960 and 20 x 2; along first leaves 100 x 2 = 200 and 80 x 10 = 800.
        ((100, 12), (0, 0)),
        # Across first leaves 2 x 60 = 120 and 20 x 50 = 1000; along first 22 x 50 = 1100 and 2 x 10.
        ((22, 60), (1, 0)),
        ((19.9, 60), None),
        ((100, 9.9), None),
    ],
)
def test_best_first_cut_leaves_the_waste_in_the_largest_piece(room, expected):
    pieces = [Piece("A", 20, 10)]
    state = State.of(grow(pieces, [make_sheet(*room), make_sheet(200, 200, key="T")], Rules()), [0])
    state.open([0])
    bench = {
        "side": np.zeros((9, 2)),
        "link": np.zeros((9, LINKS), np.int64),
        "waste": np.zeros(9, np.int64),
        "tops": np.zeros(3, np.int64),
        "found": np.full(3, -1),
        "chance": np.array([1], np.uint64),
    }
    call(take_up, **arrays(state), **bench, number=0)

    is_found = call(best_place, **arrays(state), **bench, blank=0, blink=0.0)

    assert is_found == (expected is not None)
    assert tuple(bench["found"]) == ((0, *expected) if expected else (-1, -1, -1))
