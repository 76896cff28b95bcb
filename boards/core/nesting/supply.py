"""The sheets that may still be cut up, and the rules for which of them comes next."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from decimal import Decimal

from boards.core.nesting.job import Blank, Kind

# Which of the sheets that would hold a blank is opened for it.
OpeningRule = Callable[[list[Kind]], Kind]


@dataclass
class Supply:
    """The sheets that may still be opened, and how the next one is chosen.

    left: how many of each kind, by its index. budget: money that may still be spent, None for any amount.
    """

    left: list[float]
    choose: OpeningRule
    budget: Decimal | None = None

    def take(self, kinds: Iterable[Kind], blank: Blank) -> Kind | None:
        """Open a sheet that holds the blank; None if there is none."""
        fitting = [
            kind
            for kind in kinds
            if self.left[kind.index] > 0
            and (self.budget is None or kind.price <= self.budget)
            and kind.holds(blank)
        ]
        if not fitting:
            return None
        kind = self.choose(fitting)
        self.left[kind.index] -= 1
        if self.budget is not None:
            self.budget -= kind.price
        return kind


def cheapest_area(fitting: list[Kind]) -> Kind:
    """The least money for its area; of equals the largest."""
    return min(fitting, key=lambda kind: (float(kind.price) / kind.area, -kind.area))


def cheapest_small(fitting: list[Kind]) -> Kind:
    """The least money for its area; of equals, such as offcuts that cost nothing, the smallest."""
    return min(fitting, key=lambda kind: (float(kind.price) / kind.area, kind.area))


def lowest_price(fitting: list[Kind]) -> Kind:
    """The least money; of equals the smallest."""
    return min(fitting, key=lambda kind: (kind.price, kind.area))


def largest(fitting: list[Kind]) -> Kind:
    """The greatest area; of equals the cheapest."""
    return min(fitting, key=lambda kind: (-kind.area, kind.price))


OPENING_RULES: tuple[OpeningRule, ...] = (cheapest_area, cheapest_small, lowest_price, largest)
