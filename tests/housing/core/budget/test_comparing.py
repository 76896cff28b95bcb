"""Two budgets beside each other."""

from decimal import Decimal

from housing.core.budget.comparing import section_differences
from housing.core.budget.lines import Budget, Section
from tests.housing.core.budget.lines import make_line


def test_each_section_of_either_is_compared():
    before = Budget("EUR", (make_line(Section.BOARD, "10"), make_line(Section.IN_KIND, "5")))
    now = Budget("EUR", (make_line(Section.BOARD, "12"), make_line(Section.LABOUR, "30")))

    rows = section_differences(before, now)

    assert [(row.name, row.before, row.now, row.change, row.is_apart) for row in rows] == [
        ("Board", Decimal(10), Decimal(12), Decimal(2), False),
        ("Labour", Decimal(0), Decimal(30), Decimal(30), False),
        ("Given in kind", Decimal(5), Decimal(0), Decimal(-5), True),
    ]
