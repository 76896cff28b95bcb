"""How work goes against what was planned for it, in the usual terms of earned value."""

from dataclasses import dataclass
from decimal import Decimal

from boards.core.money import to_cents

ZERO = Decimal()


@dataclass(frozen=True)
class EarnedValue:
    """Work at one moment; all in money.

    budget: planned for all of the work (BAC). earned: planned for what is done of it (EV). spent: what that
    really took (AC). planned: planned to be done by now (PV), None where nothing says when.
    Figures that would be divided by 0 are None.
    Source: the definitions of the Project Management Institute's guide, as textbooks give them; worked
        examples with their source in tests/housing/core/budget/test_earned_value.py.
    """

    budget: Decimal
    earned: Decimal
    spent: Decimal
    planned: Decimal | None = None

    @property
    def cost_variance(self) -> Decimal:
        """CV = EV - AC; below 0 where the work done took more than was planned for it."""
        return self.earned - self.spent

    @property
    def schedule_variance(self) -> Decimal | None:
        """SV = EV - PV; below 0 where less is done than was planned by now."""
        return None if self.planned is None else self.earned - self.planned

    @property
    def cost_index(self) -> Decimal | None:
        """CPI = EV / AC: work done for each unit of money spent."""
        return self.earned / self.spent if self.spent else None

    @property
    def schedule_index(self) -> Decimal | None:
        """SPI = EV / PV: work done for each that was planned by now."""
        return self.earned / self.planned if self.planned else None

    @property
    def forecast_as_so_far(self) -> Decimal | None:
        """EAC = BAC / CPI: the rest goes as it went so far; hundredths."""
        return to_cents(self.budget / self.cost_index) if self.cost_index else None

    @property
    def forecast_as_planned(self) -> Decimal:
        """EAC = AC + BAC - EV: the rest goes as planned."""
        return self.spent + self.budget - self.earned

    @property
    def variance_at_completion(self) -> Decimal | None:
        """VAC = BAC - EAC with the rest as it went so far; below 0 where it will cost more."""
        return None if self.forecast_as_so_far is None else self.budget - self.forecast_as_so_far

    @property
    def index_to_complete(self) -> Decimal | None:
        """TCPI = (BAC - EV) / (BAC - AC): how the rest has to go for the budget to be enough."""
        left = self.budget - self.spent
        return (self.budget - self.earned) / left if left > 0 else None


def earned_of(budget: Decimal, done: Decimal, everything: Decimal) -> Decimal:
    """Planned money of the work that is done, hundredths. done, everything: planned minutes."""
    return to_cents(budget * done / everything) if everything else ZERO
