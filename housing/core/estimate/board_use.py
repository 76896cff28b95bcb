"""What each housing pays for board: the sheets actually cut, shared over the blanks on them."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from boards.core.money import share_out, to_cents
from objects.core.refusals import Refusal


class EstimateRefused(Refusal):
    """An estimate cannot be made from what was given; the message says which part of it."""


@dataclass(frozen=True)
class SheetUse:
    """A sheet that is cut up: its price, and the housing and gross area in mm2 of each blank on it."""

    sheet_key: str
    price: Decimal
    blanks: tuple[tuple[str, float], ...]


def board_costs(sheets: Sequence[SheetUse]) -> dict[str, Decimal]:
    """What each housing pays for board, offcuts and kerfs included.

    sheets: every sheet that is cut, with its blanks. Returns money by housing, in hundredths; together it is
    the price of the sheets exactly.
    Raises EstimateRefused for a sheet that carries no blank, since nobody would pay for it.
    Source: sharing in proportion to gross area is assumed: a blank takes its whole rectangle out of a sheet,
        and what is left over was bought for all of them.
    """
    costs: defaultdict[str, Decimal] = defaultdict(Decimal)
    for sheet in sheets:
        if not sheet.blanks:
            raise EstimateRefused(f"Sheet {sheet.sheet_key} carries no blank, so nobody pays for it.")
        shares = share_out(to_cents(sheet.price), [area_mm2 for _, area_mm2 in sheet.blanks])
        for (housing_key, _), share in zip(sheet.blanks, shares, strict=True):
            costs[housing_key] += share
    return dict(costs)


def board_areas_mm2(sheets: Sequence[SheetUse]) -> dict[str, float]:
    """Gross area of each housing's blanks, mm2 by housing."""
    areas: defaultdict[str, float] = defaultdict(float)
    for sheet in sheets:
        for housing_key, area_mm2 in sheet.blanks:
            areas[housing_key] += area_mm2
    return dict(areas)
