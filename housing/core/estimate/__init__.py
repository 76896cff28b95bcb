"""What a plan costs: board, glue, padding and labour of each housing. The one way in is estimate()."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from boards.core.money import to_cents
from housing.core.clearances import MM2_PER_M2
from housing.core.estimate.board_use import EstimateRefused, SheetUse, board_areas_mm2, board_costs
from housing.core.budget.glue import GlueFigures
from housing.core.estimate.labour import BenchWork, LabourFigures
from housing.core.estimate.lines import EstimateLine, Totals, add_up, rollup
from housing.core.estimate.padding import lined_area_m2

__all__ = [
    "BenchWork",
    "Estimate",
    "EstimateLine",
    "EstimateRefused",
    "GlueFigures",
    "HousingWork",
    "LabourFigures",
    "Rates",
    "SheetUse",
    "Totals",
    "estimate",
    "lined_area_m2",
    "rollup",
]

G_PER_KG = 1000
MINUTES_PER_HOUR = 60


@dataclass(frozen=True)
class HousingWork:
    """What one housing takes apart from board.

    minutes: by step. glue_g: g. padding_m2: lining, m2. padding_price_m2: money a square metre of lining.
    """

    key: str
    design_key: str
    board_key: str
    minutes: Mapping[str, float]
    glue_g: float
    padding_m2: float = 0.0
    padding_price_m2: Decimal = Decimal()


@dataclass(frozen=True)
class Rates:
    """Prices that hold for a whole campaign."""

    labour_per_hour: Decimal
    glue_per_kg: Decimal
    currency: str


@dataclass(frozen=True)
class Estimate:
    """The lines of an estimate, one a housing, in one currency."""

    lines: tuple[EstimateLine, ...]
    currency: str

    def totals(self) -> Totals:
        """Sums over all lines."""
        return add_up(self.lines)


def estimate(housings: Sequence[HousingWork], sheets: Sequence[SheetUse], rates: Rates) -> Estimate:
    """Board, glue, padding and labour of every housing.

    housings: work and materials, keys all different. sheets: every sheet that is cut, with its blanks.
    rates: money an hour and a kilogram. Returns one line a housing, in their order, money in hundredths; the
    board column adds up to the price of the sheets.
    Raises EstimateRefused for a housing listed twice, an empty sheet, or a blank of no listed housing.
    Source: sums; worked by hand in tests/housing/core/estimate/test_estimate.py.
    """
    costs, areas = board_costs(sheets), board_areas_mm2(sheets)
    _refuse_mismatch([housing.key for housing in housings], costs)
    return Estimate(
        lines=tuple(
            EstimateLine(
                key=housing.key,
                design_key=housing.design_key,
                board_key=housing.board_key,
                board_m2=areas.get(housing.key, 0.0) / MM2_PER_M2,
                board=costs.get(housing.key, Decimal()),
                glue_g=housing.glue_g,
                glue=_money(housing.glue_g / G_PER_KG, rates.glue_per_kg),
                padding_m2=housing.padding_m2,
                padding=_money(housing.padding_m2, housing.padding_price_m2),
                labour_minutes=sum(housing.minutes.values()),
                labour=_money(sum(housing.minutes.values()) / MINUTES_PER_HOUR, rates.labour_per_hour),
            )
            for housing in housings
        ),
        currency=rates.currency,
    )


def _refuse_mismatch(keys: Sequence[str], costs: Mapping[str, Decimal]) -> None:
    known = set(keys)
    if len(known) < len(keys):
        twice = next(key for key in keys if keys.count(key) > 1)
        raise EstimateRefused(f"Housing {twice} is listed twice, so it would be paid for twice.")
    strangers = sorted(set(costs) - known)
    if strangers:
        raise EstimateRefused(f"A sheet carries a blank of housing {strangers[0]}, which is not listed.")


def _money(quantity: float, price: Decimal) -> Decimal:
    return to_cents(Decimal(repr(quantity)) * price)
