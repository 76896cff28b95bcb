"""Lines and boxes of a budget for tests: each function takes what matters and supplies the rest."""

from decimal import Decimal

from housing.core.budget.facts import BoxFacts
from housing.core.budget.lines import BudgetLine, Section, Target


def make_line(section: Section, amount: str = "0", **given) -> BudgetLine:
    """A line of one unit at a price."""
    return BudgetLine(
        **{
            "key": section.value,
            "section": section,
            "what": "Something",
            "quantity": Decimal(1),
            "unit": "piece",
            "price": Decimal(amount),
            "computed_from": "entered for a test",
            "target": Target("plan"),
            **given,
        }
    )


def make_box(key: str = "1", **given) -> BoxFacts:
    return BoxFacts(**{"key": key, "form": "tray", "design": "Tray", "board": "B", **given})
