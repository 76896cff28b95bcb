"""An earlier plan taken up again: its sheets stay as they are, as far as their blanks are still asked for."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from boards.core.nesting.compiled.places import BOTH_WAYS, CORNERS, GUESTS_OF, HELD_OF, WAYS
from boards.core.nesting.compiled.trees import GUESTS, HELD, SPLIT, WASTE
from boards.core.nesting.job import units
from boards.core.nesting.shapes import CutSheet, Piece, Placement, Rules, Sheet
from boards.core.nesting.state import Node, State

# What a rectangle may stick out of its room, in units: positions are kept to a ten thousandth of a mm.
LOOSE = 40.0


@dataclass(frozen=True)
class Lying:
    """A blank as it lies: its index, whether turned, and its rectangle grown by the kerf, in units."""

    blank: int
    turned: bool
    x: float
    y: float
    a: float
    b: float


def take_up_earlier(
    state: State, earlier: Sequence[CutSheet], pieces: Sequence[Piece], sheets: Sequence[Sheet], rules: Rules
) -> dict[int, CutSheet | None]:
    """Lay blanks as they lay on an earlier plan's sheets, in a state without sheets.

    A blank that is no longer asked for, or in another size, leaves its place free; so does one whose flutes
    would now lie against the rules. Sheets no longer offered, and those that cannot be cut edge to edge, are
    passed over. Returns the sheets opened, each with the earlier one if all its blanks lie as they did.
    """
    index = {piece.key: number for number, piece in enumerate(pieces)}
    kinds = {sheet.key: number for number, sheet in enumerate(sheets)}
    waiting = set(state.out)
    opened: dict[int, CutSheet | None] = {}
    for sheet in earlier:
        kind = kinds.get(sheet.sheet_key)
        if kind is None or state.counts()[kind] >= state.job.kinds[kind].stock:
            continue
        lying = {
            placed.key: here
            for placed in sheet.placements
            if placed.host is None and (here := lying_blank(placed, index, pieces, rules, waiting))
        }
        room = state.job.kinds[kind]
        root = rebuilt(list(lying.values()), 0.0, 0.0, room.a, room.b) if lying else None
        if root is None:
            continue
        (number,) = state.open([kind])
        state.write(number, root)
        waiting -= {here.blank for here in lying.values()}
        laid = len(lying)
        if state.corner_count:
            laid += take_up_guests(state, sheet, lying, index, pieces, rules, waiting)
        opened[number] = sheet if laid == len(sheet.placements) else None
    state.out = [blank for blank in state.out if blank in waiting]
    return opened


def lying_blank(
    placed: Placement, index: Mapping[str, int], pieces: Sequence[Piece], rules: Rules, waiting: set[int]
) -> Lying | None:
    """Where a blank lies on the sheet less its trim; None if it may not or need not lie there."""
    blank = index.get(placed.key)
    if blank is None or blank not in waiting:
        return None
    piece = pieces[blank]
    sides = (piece.along_mm, piece.across_mm)
    if placed.turned:
        sides = sides[::-1]
    if (placed.turned and not piece.may_turn) or not same_sides(sides, placed):
        return None
    x, y = (units(at - rules.trim_mm) for at in (placed.x_mm, placed.y_mm))
    a, b = (units(side + rules.kerf_mm) for side in sides)
    return Lying(blank, placed.turned, x, y, a, b)


def same_sides(sides: tuple[float, float], placed: Placement) -> bool:
    """Whether a blank still has the size in which it was laid."""
    return abs(sides[0] - placed.along_mm) < 1e-3 and abs(sides[1] - placed.across_mm) < 1e-3


def rebuilt(lying: list[Lying], x: float, y: float, a: float, b: float, way: int = 0) -> Node | None:
    """A tree of cuts that sets blanks free in a room of these sides; None if there is none."""
    if not lying:
        return Node(WASTE, 0, 0.0, 0.0, a, b, [])
    for axis in (way, 1 - way):
        parts = parted(lying, axis, (x, y)[axis], (a, b)[axis])
        if parts is None:
            return None
        groups, rest = parts
        if len(groups) == 1 and not rest:
            continue
        nodes = []
        for group, start, length in groups:
            room = (start, y, length, b) if axis == 0 else (x, start, a, length)
            node = rebuilt(group, *room, 1 - axis)
            if node is None:
                return None
            nodes.append(node)
        if rest:
            nodes.append(Node(WASTE, 0, 0.0, 0.0, *((rest, b) if axis == 0 else (a, rest)), []))
        return Node(SPLIT, axis, 0.0, 0.0, a, b, nodes)
    if len(lying) > 1:
        return None
    return Node(lying[0].blank, int(lying[0].turned), 0.0, 0.0, a, b, [])


def parted(
    lying: list[Lying], axis: int, start: float, length: float
) -> tuple[list[tuple[list[Lying], float, float]], float] | None:
    """Blanks in groups one after the other along an axis, each with its start and length, and what is left.

    None if they need more than the length.
    """
    ordered = sorted(lying, key=lambda here: (here.x, here.y)[axis])
    groups: list[tuple[list[Lying], float, float]] = []
    for here in ordered:
        low, side = ((here.x, here.a), (here.y, here.b))[axis]
        if groups and low < groups[-1][1] + groups[-1][2] - LOOSE:
            group, first, long = groups[-1]
            groups[-1] = [*group, here], first, max(long, low + side - first)
        else:
            groups.append(([here], low, side))
    rest = length - sum(long for _, _, long in groups)
    if groups[0][1] < start - LOOSE or rest < -LOOSE * len(groups):
        return None
    if rest < 0 or (len(groups) == 1 and rest < LOOSE):
        group, first, long = groups[-1]
        groups[-1] = group, first, long + rest
        rest = 0.0
    return groups, rest


def take_up_guests(
    state: State, sheet: CutSheet, hosts: Mapping[str, Lying], index: Mapping[str, int],
    pieces: Sequence[Piece], rules: Rules, waiting: set[int],
) -> int:  # fmt: skip
    """Lay the guests of an earlier sheet in their corners, as far as still possible; returns how many."""
    laid = 0
    placed_hosts = {placed.key: placed for placed in sheet.placements if placed.key in hosts}
    rooms: dict[int, list[Lying]] = {}
    for placed in sheet.placements:
        host = placed_hosts.get(placed.host or "")
        here = lying_blank(placed, index, pieces, rules, waiting) if host else None
        first = int(state.about[hosts[placed.host or ""].blank, CORNERS]) if host else -1
        if host is None or here is None or first < 0:
            continue
        is_right = placed.x_mm + placed.along_mm / 2 > host.x_mm + host.along_mm / 2
        is_far = placed.y_mm + placed.across_mm / 2 > host.y_mm + host.across_mm / 2
        if host.turned:
            is_right, is_far = is_far, not is_right
        rooms.setdefault(first + 2 * is_far + is_right, []).append(here)
    for number, guests in rooms.items():
        a, b = (float(side) for side in state.bin_sides[number, :2])
        is_turned = bool(state.turned[state.host_of(number)])
        if is_turned:
            a, b = b, a
        x, y = min(here.x for here in guests), min(here.y for here in guests)
        root = rebuilt(guests, x, y, a, b)
        if root is None or a <= 0:
            continue
        if is_turned:
            root.transpose()
        state.write(number, root)
        host_blank = state.host_of(number)
        held = sum(state.about[here.blank, WAYS] != BOTH_WAYS for here in guests)
        state.bins[number, GUESTS], state.bins[number, HELD] = len(guests), held
        state.about[host_blank, GUESTS_OF] += len(guests)
        state.about[host_blank, HELD_OF] += held
        waiting.difference_update(here.blank for here in guests)
        laid += len(guests)
    return laid
