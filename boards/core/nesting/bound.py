"""The least money and the fewest sheets any layout can do with, whoever makes it."""

import math
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import partial
from typing import Any

import numpy as np
import numpy.typing as npt

from boards.core.nesting.shapes import Piece, Rules, Sheet

# What a valid layout may miss by; taking sides this much shorter keeps the bound below all of them.
TOLERANCE_MM = 0.001
ROUNDING = 1e-6
MOST_STEPS = 4
MOST_THRESHOLDS = 8
STEP = 1.02

Numbers = npt.NDArray[Any]
ShareRule = Callable[[Numbers], Numbers]


@dataclass(frozen=True)
class Bound:
    """Least money and fewest sheets for all blanks that fit some sheet, if the stock holds them."""

    cost: Decimal
    sheets: int


@dataclass(frozen=True)
class Room:
    """Usable sides of a sheet, mm grown by the kerf, its price and its stock (infinite if unlimited)."""

    a: float
    b: float
    price: Decimal
    stock: float


def bound(pieces: Sequence[Piece], sheets: Sequence[Sheet], rules: Rules) -> Bound:
    """Lower bounds that hold for every valid layout in which no blank is left out for want of stock.

    pieces, sheets: sides in mm; blanks that fit no sheet in stock are not counted. rules: kerf, trim in mm,
    whether corners are used and batches kept apart.
    Returns money and a number of sheets. Sizes grow by one kerf, since that gap lies between neighbours.
    Source: area balance with the cheapest area used first, or with each blank at the rate of the cheapest
    sheet
        that holds it, rounded up to a sum that whole sheets can cost;
        for sheets also dual feasible functions, S. Fekete and J. Schepers, Math. Methods of Operations
        Research 2004 (from memory), taken at the smaller value where a blank may turn. Where corners are used
        the area that they could hold at most is taken off, and the functions count only blanks too large for
        every corner.
    """
    if not rules.mix_batches:
        batches = [[p for p in pieces if p.batch == batch] for batch in {piece.batch for piece in pieces}]
        each = [bound(batch, sheets, replace(rules, mix_batches=True)) for batch in batches]
        return Bound(sum((one.cost for one in each), Decimal(0)), sum(one.sheets for one in each))
    kerf = rules.kerf_mm
    rooms = [
        Room(
            sheet.along_mm - 2 * rules.trim_mm + kerf,
            sheet.across_mm - 2 * rules.trim_mm + kerf,
            sheet.price,
            math.inf if sheet.stock is None else sheet.stock,
        )
        for sheet in sheets
        if sheet.stock != 0
    ]
    sides = np.array([(p.along_mm + kerf, p.across_mm + kerf) for p in pieces], float).reshape(-1, 2)
    may_turn = np.array([piece.may_turn for piece in pieces], bool)
    held = np.array([fits(sides, may_turn, room.a, room.b) for room in rooms]).reshape(
        len(rooms), len(pieces)
    )
    rooms = [room for room, blanks in zip(rooms, held, strict=True) if blanks.any()]
    held = held[held.any(axis=1)]
    fitting = held.any(axis=0)
    if not fitting.any():
        return Bound(Decimal(0), 0)
    sides, may_turn = sides[fitting], may_turn[fitting]
    areas, large = sides.prod(axis=1), np.ones(len(sides), bool)
    area, off = float(areas.sum()), 0.0
    rates = np.array([float(room.price) / (room.a * room.b) for room in rooms])
    cheapest = np.where(held[:, fitting], rates[:, None], math.inf).min(axis=0)
    if rules.use_corners:
        corners = distinct_corners(piece for piece, is_one in zip(pieces, fitting, strict=True) if is_one)
        # A host that is turned takes its corners along, so any blank may come to lie either way in them.
        either_way, hosted = np.full(len(sides), may_turn.any()), 0.0
        for (a, b), count in corners.items():
            guests = fits(sides, either_way, a, b)
            large &= ~guests
            hosted += count * most_in_a_corner(a * b, areas[guests])
        off = min(hosted, float(areas[~large].sum()))
    fewest = max(fewest_by_area(area - off, rooms), fewest_by_shares(sides[large], may_turn[large], rooms))
    by_blank = float((areas * cheapest).sum()) - off * float(cheapest[~large].max(initial=0.0))
    costs = (
        in_steps(least_cost(area - off, rooms), rooms),
        in_steps(by_blank, rooms),
        fewest * min(room.price for room in rooms),
    )
    return Bound(max(costs), fewest)


def fits(sides: Numbers, may_turn: Numbers, a: float, b: float) -> Numbers:
    """Which blanks alone fit a room, the noise of binary fractions aside."""
    along, across = sides[:, 0] - ROUNDING, sides[:, 1] - ROUNDING
    return ((along <= a) & (across <= b)) | (may_turn & (across <= a) & (along <= b))


def most_in_a_corner(corner: float, guests: Numbers) -> float:
    """Area that blanks in one corner take up at most, from their number and the largest of them.

    corner: its area. guests: areas of the blanks that fit it alone.
    """
    if not len(guests):
        return 0.0
    most = math.floor(corner / float(guests.min()) + ROUNDING)
    return min(corner, most * float(guests.max()))


def distinct_corners(pieces: Iterable[Piece]) -> Counter[tuple[float, float]]:
    """The sizes of all waste corners, rounded up, and how many there are."""
    found: Counter[tuple[float, float]] = Counter()
    for piece in pieces:
        for a, b in piece.corners:
            if a > 0 and b > 0:
                found[coarse(a), coarse(b)] += 1
    return found


def coarse(length_mm: float) -> float:
    """A length rounded up in steps of 2 %, so that few sizes of corners are told apart."""
    return STEP ** math.ceil(math.log(length_mm) / math.log(STEP))


def fewest_by_area(area: float, rooms: Sequence[Room]) -> int:
    """Sheets needed if area were all that counted, the largest used first."""
    count = 0.0
    for room in sorted(rooms, key=lambda room: -room.a * room.b):
        used = min(room.stock, area / (room.a * room.b))
        count, area = count + used, area - used * room.a * room.b
    return math.ceil(count - ROUNDING)


def least_cost(area: float, rooms: Sequence[Room]) -> float:
    """Money needed if area were all that counted, the cheapest used first."""
    cost = 0.0
    for room in sorted(rooms, key=lambda room: float(room.price) / (room.a * room.b)):
        used = min(room.stock, area / (room.a * room.b))
        cost, area = cost + used * float(room.price), area - used * room.a * room.b
    return cost


def in_steps(cost: float, rooms: Sequence[Room]) -> Decimal:
    """The least sum of prices that is no lower."""
    step = common_step([room.price for room in rooms])
    return step * math.ceil(cost / float(step) - ROUNDING) if step else Decimal(0)


def common_step(prices: Sequence[Decimal]) -> Decimal:
    """The largest amount of which every price is a whole multiple; 0 if all are 0."""
    places = max(0, *(-int(price.as_tuple().exponent) for price in prices))
    return Decimal(math.gcd(*(int(price.scaleb(places)) for price in prices))).scaleb(-places)


def fewest_by_shares(sides: Numbers, may_turn: Numbers, rooms: Sequence[Room]) -> int:
    """Sheets needed when each side counts with the share of a sheet that it really keeps others from using.

    The sheet is as long as the longest and as wide as the widest, so that the bound holds for a mix of sizes.
    A blank that fits both ways counts with whichever way takes less.
    """
    if not len(sides):
        return 0
    a, b = max(room.a for room in rooms), max(room.b for room in rooms)
    straight = np.maximum(0.0, sides - TOLERANCE_MM) / (a, b)
    turned = np.maximum(0.0, sides[:, ::-1] - TOLERANCE_MM) / (a, b)
    first = np.where((straight <= 1).all(axis=1)[:, None], straight, turned)
    last = np.where(((turned <= 1).all(axis=1) & may_turn)[:, None], turned, straight)
    rules = share_rules(np.unique(np.concatenate([first, last])))
    along = [(rule(first[:, 0]), rule(last[:, 0])) for rule in rules]
    across = [(rule(first[:, 1]), rule(last[:, 1])) for rule in rules]
    most = max(float(np.minimum(x[0] * y[0], x[1] * y[1]).sum()) for x in along for y in across)
    return math.ceil(most - ROUNDING)


def share_rules(shares: Numbers) -> list[ShareRule]:
    """Functions under which shares that add up to 1 at most still do so.

    shares: those that occur, ascending; some of the smaller ones serve as thresholds.
    """
    small = shares[(shares > 0) & (shares <= 0.5)]
    every = max(1, len(small) // MOST_THRESHOLDS)
    steps = [partial(stepped, steps=steps) for steps in range(1, MOST_STEPS + 1)]
    return [np.asarray, *steps, *(partial(cleared, threshold=float(share)) for share in small[::every])]


def stepped(shares: Numbers, steps: int) -> Numbers:
    """Shares rounded down in so many steps, kept as they are where they are whole multiples."""
    times = shares * (steps + 1)
    is_whole = np.abs(times - np.round(times)) < ROUNDING
    return np.where(is_whole, shares, np.floor(times) / steps)


def cleared(shares: Numbers, threshold: float) -> Numbers:
    """0 for shares up to a threshold, and 1 for those that leave room for none but such."""
    kept = np.where(shares > threshold + ROUNDING, shares, 0.0)
    return np.where(shares > 1 - threshold + ROUNDING, 1.0, kept)
