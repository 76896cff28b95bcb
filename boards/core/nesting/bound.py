"""What no cutting plan can do better than."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from boards.core.money import CENT
from boards.core.nesting.shapes import Piece, Rules, Sheet, usable


@dataclass(frozen=True)
class Bound:
    """Least cost and least number of sheets of any valid plan."""

    cost: Decimal
    sheets: int


def bound(pieces: Sequence[Piece], sheets: Sequence[Sheet], rules: Rules) -> Bound:
    """Lower bounds of cost and sheets by area.

    pieces: those that fit a sheet, mm. sheets: sizes with price and stock. rules: kerf and trim, mm.
    Returns the cost in hundredths and a whole number of sheets; both 0 for no pieces.
    Source: every piece and every trimmed sheet grown by one kerf keeps a valid plan free of overlaps, so the
        areas bound it; filling the cheapest area first within its stock bounds the cost (continuous relaxation).
    """
    need = sum((p.along_mm + rules.kerf_mm) * (p.across_mm + rules.kerf_mm) for p in pieces)
    areas = [((a + rules.kerf_mm) * (b + rules.kerf_mm), s) for s in sheets for a, b in [usable(s, rules)]]
    areas = [(area, sheet) for area, sheet in areas if area > 0]
    count, _ = _fill(need, sorted(areas, key=lambda item: -item[0]))
    _, cost = _fill(need, sorted(areas, key=lambda item: float(item[1].price) / item[0]))
    return Bound(
        cost=Decimal(repr(round(cost, 6))).quantize(CENT, rounding=ROUND_CEILING),
        sheets=math.ceil(round(count, 9)),
    )


def _fill(need: float, areas: list[tuple[float, Sheet]]) -> tuple[float, float]:
    count = cost = 0.0
    for area, sheet in areas:
        if need <= 0:
            break
        taken = need / area if sheet.stock is None else min(need / area, sheet.stock)
        count, cost, need = count + taken, cost + taken * float(sheet.price), need - taken * area
    return count, cost
