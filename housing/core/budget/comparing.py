"""Two budgets beside each other, section by section."""

from dataclasses import dataclass
from decimal import Decimal

from housing.core.budget.lines import APART, SECTION_NAMES, Budget, Section
from objects.core.words import say


@dataclass(frozen=True)
class SectionDifference:
    """Money of one section then and now; name: what readers call it."""

    name: str
    before: Decimal
    now: Decimal
    is_apart: bool = False

    @property
    def change(self) -> Decimal:
        return self.now - self.before


def section_differences(before: Budget, now: Budget) -> list[SectionDifference]:
    """The sections that either budget has, in their order; those shown apart come last."""
    then, today = before.section_totals(), now.section_totals()
    return [
        SectionDifference(
            say(SECTION_NAMES[section]),
            then.get(section, Decimal()),
            today.get(section, Decimal()),
            section in APART,
        )
        for section in Section
        if section in then or section in today
    ]
