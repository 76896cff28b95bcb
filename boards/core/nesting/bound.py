"""The least money and the fewest sheets any layout can do with, whoever makes it."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import partial
from operator import mul

from boards.core.nesting.shapes import Piece, Rules, Sheet

# What a valid layout may miss by; taking sides this much shorter keeps the bound below all of them.
TOLERANCE_MM = 0.001
ROUNDING = 1e-6
MOST_STEPS = 4
MOST_THRESHOLDS = 8

ShareRule = Callable[[float], float]
Blank = tuple[float, float, bool]


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

    pieces, sheets: sides in mm; blanks that fit no sheet in stock are not counted. rules: kerf, trim in mm.
    Returns money and a number of sheets. Sizes grow by one kerf, since that gap lies between neighbours.
    Source: area balance with the cheapest area used first, rounded up to a sum that whole sheets can cost;
        for sheets also dual feasible functions, S. Fekete and J. Schepers, Math. Methods of Operations
        Research 2004 (from memory), taken at the smaller value where a blank may turn.
    """
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
    grown = [(piece.along_mm + kerf, piece.across_mm + kerf, piece.may_turn) for piece in pieces]
    blanks = [blank for blank in grown if any(fits(blank, room) for room in rooms)]
    rooms = [room for room in rooms if any(fits(blank, room) for blank in blanks)]
    if not blanks:
        return Bound(Decimal(0), 0)
    area = sum(a * b for a, b, _ in blanks)
    fewest = max(fewest_by_area(area, rooms), fewest_by_shares(blanks, rooms))
    return Bound(max(least_cost(area, rooms), fewest * min(room.price for room in rooms)), fewest)


def fits(blank: Blank, room: Room) -> bool:
    """Whether a blank alone fits, the noise of binary fractions aside."""
    a, b, may_turn = blank[0] - ROUNDING, blank[1] - ROUNDING, blank[2]
    return (a <= room.a and b <= room.b) or (may_turn and b <= room.a and a <= room.b)


def fewest_by_area(area: float, rooms: Sequence[Room]) -> int:
    """Sheets needed if area were all that counted, the largest used first."""
    count = 0.0
    for room in sorted(rooms, key=lambda room: -room.a * room.b):
        used = min(room.stock, area / (room.a * room.b))
        count, area = count + used, area - used * room.a * room.b
    return math.ceil(count - ROUNDING)


def least_cost(area: float, rooms: Sequence[Room]) -> Decimal:
    """Money needed if area were all that counted, the cheapest used first, in steps that prices allow."""
    cost = 0.0
    for room in sorted(rooms, key=lambda room: float(room.price) / (room.a * room.b)):
        used = min(room.stock, area / (room.a * room.b))
        cost, area = cost + used * float(room.price), area - used * room.a * room.b
    step = common_step([room.price for room in rooms])
    return step * math.ceil(cost / float(step) - ROUNDING) if step else Decimal(0)


def common_step(prices: Sequence[Decimal]) -> Decimal:
    """The largest amount of which every price is a whole multiple; 0 if all are 0."""
    places = max(0, *(-int(price.as_tuple().exponent) for price in prices))
    return Decimal(math.gcd(*(int(price.scaleb(places)) for price in prices))).scaleb(-places)


def fewest_by_shares(blanks: Sequence[Blank], rooms: Sequence[Room]) -> int:
    """Sheets needed when each side counts with the share of a sheet that it really keeps others from using.

    The sheet is as long as the longest and as wide as the widest, so that the bound holds for a mix of sizes.
    A blank that fits both ways counts with whichever way takes less.
    """
    a, b = max(room.a for room in rooms), max(room.b for room in rooms)
    ways = [ways_to_lie(blank, a, b) for blank in blanks]
    columns = list(zip(*ways, strict=True))
    rules = share_rules(sorted(set(columns[0] + columns[1])))
    taken = [[[rule(share) for share in column] for column in columns] for rule in rules]
    most: float = max(
        sum(map(min, map(mul, along[0], across[1]), map(mul, along[2], across[3])))
        for along in taken
        for across in taken
    )
    return math.ceil(most - ROUNDING)


def ways_to_lie(blank: Blank, a: float, b: float) -> tuple[float, float, float, float]:
    """Shares of a sheet's two sides that a blank takes up in its first and in its last way of lying."""
    sides = [blank[:2], blank[1::-1]] if blank[2] else [blank[:2]]
    shares = [(max(0.0, p - TOLERANCE_MM) / a, max(0.0, q - TOLERANCE_MM) / b) for p, q in sides]
    fitting = [pair for pair in shares if max(pair) <= 1]
    return (*fitting[0], *fitting[-1])


def share_rules(shares: Sequence[float]) -> list[ShareRule]:
    """Functions under which shares that add up to 1 at most still do so.

    shares: those that occur, ascending; some of the smaller ones serve as thresholds.
    """
    small = [share for share in shares if 0 < share <= 0.5]
    every = max(1, len(small) // MOST_THRESHOLDS)
    steps = [partial(stepped, steps=steps) for steps in range(1, MOST_STEPS + 1)]
    return [float, *steps, *(partial(cleared, threshold=share) for share in small[::every])]


def stepped(share: float, steps: int) -> float:
    """A share rounded down in so many steps, kept as it is where it is a whole multiple."""
    whole = round(share * (steps + 1))
    if abs(share * (steps + 1) - whole) < ROUNDING:
        return share
    return math.floor(share * (steps + 1)) / steps


def cleared(share: float, threshold: float) -> float:
    """0 for shares up to a threshold, and 1 for those that leave room for none but such."""
    if share > 1 - threshold + ROUNDING:
        return 1.0
    return share if share > threshold + ROUNDING else 0.0
