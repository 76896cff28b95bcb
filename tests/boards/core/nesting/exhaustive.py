"""Least cost of a handful of blanks by trying everything; shares no code with the nesting."""

from decimal import Decimal
from itertools import combinations

from boards.core.nesting import Piece, Rules, Sheet

Box = tuple[float, float]
# What sums of binary fractions may miss by.
NOISE_MM = 1e-6


def least_cost(pieces: list[Piece], sheets: list[Sheet], rules: Rules) -> Decimal | None:
    """Money for the cheapest set of sheets from which all blanks can be cut edge to edge; None if impossible.

    Stock is taken to be unlimited. Every layout with such cuts is two smaller ones side by side or one beyond
    the other, so the smallest rectangles that hold a set of blanks follow from those of its parts.
    """
    boxes: dict[frozenset[int], set[Box]] = {}
    costs: dict[frozenset[int], Decimal | None] = {frozenset(): Decimal(0)}
    everything = range(len(pieces))
    for size in range(1, len(pieces) + 1):
        for chosen in map(frozenset, combinations(everything, size)):
            boxes[chosen] = holding_boxes(chosen, pieces, boxes, rules.kerf_mm)
            costs[chosen] = cheapest(chosen, boxes, costs, sheets, rules.trim_mm)
    return costs[frozenset(everything)]


def holding_boxes(
    chosen: frozenset[int], pieces: list[Piece], boxes: dict[frozenset[int], set[Box]], kerf: float
) -> set[Box]:
    """The rectangles, none larger than another both ways, from which a set of blanks can just be cut."""
    if len(chosen) == 1:
        piece = pieces[min(chosen)]
        straight = (piece.along_mm, piece.across_mm)
        return {straight, straight[::-1]} if piece.may_turn else {straight}
    found = set()
    for part in parts_of(chosen):
        for a, b in boxes[part]:
            for p, q in boxes[chosen - part]:
                found |= {(a + kerf + p, max(b, q)), (max(a, p), b + kerf + q)}
    return {box for box in found if not any(o != box and o[0] <= box[0] and o[1] <= box[1] for o in found)}


def cheapest(
    chosen: frozenset[int],
    boxes: dict[frozenset[int], set[Box]],
    costs: dict[frozenset[int], Decimal | None],
    sheets: list[Sheet],
    trim: float,
) -> Decimal | None:
    """Least money for a set of blanks: on one sheet, or some on one sheet and the rest elsewhere."""
    prices = [
        sheet.price
        for sheet in sheets
        if any(
            a <= sheet.along_mm - 2 * trim + NOISE_MM and b <= sheet.across_mm - 2 * trim + NOISE_MM
            for a, b in boxes[chosen]
        )
    ]
    for part in parts_of(chosen):
        one, other = costs[part], costs[chosen - part]
        if one is not None and other is not None:
            prices.append(one + other)
    return min(prices, default=None)


def parts_of(chosen: frozenset[int]) -> list[frozenset[int]]:
    """Every part of a set that holds its least member, itself excepted: each way of halving it once."""
    first, *others = sorted(chosen)
    return [frozenset((first, *rest)) for size in range(len(others)) for rest in combinations(others, size)]
