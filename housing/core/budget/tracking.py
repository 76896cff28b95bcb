"""A campaign under way beside a frozen budget: planned, spent so far, still to come, and what that makes."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from housing.core.budget.lines import APART, SECTION_NAMES, Section
from objects.core.words import say

ZERO = Decimal()


@dataclass(frozen=True)
class TrackedSection:
    """One section, or all that has to be paid; money in hundredths."""

    name: str
    planned: Decimal
    spent: Decimal
    to_come: Decimal

    @property
    def forecast(self) -> Decimal:
        """What it will have cost at the end."""
        return self.spent + self.to_come

    @property
    def over(self) -> Decimal:
        """How much more that is than planned; below 0 where it is less."""
        return self.forecast - self.planned

    @property
    def under(self) -> Decimal:
        """How much less that is than planned."""
        return self.planned - self.forecast


@dataclass(frozen=True)
class Tracking:
    """Sections that have to be paid, their sum, and what is given in kind beside them."""

    sections: tuple[TrackedSection, ...]
    in_all: TrackedSection
    in_kind: TrackedSection | None = None

    @property
    def spent_share(self) -> Decimal | None:
        """Of the money planned, what is spent; None where none was planned."""
        return self.in_all.spent / self.in_all.planned if self.in_all.planned else None


def track(
    planned: Mapping[Section, Decimal],
    spent: Mapping[Section, Decimal],
    to_come: Mapping[Section, Decimal],
) -> Tracking:
    """Lay a frozen budget, what was spent and what is still to come beside each other.

    Each by section, in hundredths; sections of which nothing is known are left out. What is taken of stock
    that is owned already counts for nothing.
    Source: sums; worked by hand in tests/housing/core/budget/test_tracking.py.
    """
    rows = {
        section: TrackedSection(
            say(SECTION_NAMES[section]),
            planned.get(section, ZERO),
            spent.get(section, ZERO),
            to_come.get(section, ZERO),
        )
        for section in Section
        if section in planned or section in spent or section in to_come
    }
    paid = tuple(row for section, row in rows.items() if section not in APART)
    in_all = TrackedSection(
        "In all",
        sum((row.planned for row in paid), ZERO),
        sum((row.spent for row in paid), ZERO),
        sum((row.to_come for row in paid), ZERO),
    )
    return Tracking(paid, in_all, rows.get(Section.IN_KIND))
