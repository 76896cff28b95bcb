"""Trees of cuts made by hand, all lengths in mm and grown by one kerf, and put on sheets and in corners."""

from boards.core.nesting import Piece, Rules, Sheet
from boards.core.nesting.compiled.places import CORNERS, GUESTS_OF, HELD_OF
from boards.core.nesting.compiled.trees import GUESTS, HELD, SPLIT, WASTE
from boards.core.nesting.job import grow, units
from boards.core.nesting.state import Node, State

ALONG, ACROSS = 0, 1


def laid(blank: int, along_mm: float, across_mm: float, turned: bool = False) -> Node:
    """A blank, its sides as it lies."""
    return Node(blank, int(turned), 0.0, 0.0, units(along_mm), units(across_mm), [])


def rest(along_mm: float, across_mm: float) -> Node:
    """Waste."""
    return Node(WASTE, 0, 0.0, 0.0, units(along_mm), units(across_mm), [])


def split(way: int, *parts: Node) -> Node:
    """What parts side by side were cut from: along x (ALONG) or along y (ACROSS)."""
    a = sum(part.a for part in parts) if way == ALONG else parts[0].a
    b = parts[0].b if way == ALONG else sum(part.b for part in parts)
    return Node(SPLIT, way, 0.0, 0.0, a, b, list(parts))


def state_of(pieces: list[Piece], sheet: Sheet, rules: Rules, root: Node) -> State:
    """A plan of one sheet, cut as the tree says."""
    state = State.of(grow(pieces, [sheet], rules), range(len(pieces)))
    (number,) = state.open([0])
    keep(state, number, root)
    return state


def keep_in_corner(state: State, host: int, corner: int, root: Node) -> int:
    """Put a tree in a corner of a host, in the host's own axes; returns the number of the corner."""
    number = int(state.about[host, CORNERS]) + corner
    guests = keep(state, number, root)
    held = sum(not state.job.may_turn[guest] for guest in guests)
    state.bins[number, GUESTS], state.bins[number, HELD] = len(guests), held
    state.about[host, GUESTS_OF] += len(guests)
    state.about[host, HELD_OF] += held
    return number


def keep(state: State, number: int, root: Node) -> list[int]:
    """Put a tree on a sheet; returns its blanks."""
    assert (root.a, root.b) == tuple(state.bin_sides[number, :2]), "the tree is not as large as its sheet"
    state.write(number, root)
    blanks = state.blanks_of(number)
    state.out = [blank for blank in state.out if blank not in blanks]
    return blanks
