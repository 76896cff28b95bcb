"""Indirect costs: a share of all other money, for rent, heating, accounts and the like."""

from collections.abc import Sequence
from decimal import Decimal

from housing.core.budget.lines import APART, BudgetLine, Section, Target, total
from objects.core.words import noted

KEY = "indirect"


def indirect_line(lines: Sequence[BudgetLine], share: Decimal, currency: str) -> BudgetLine | None:
    """The line of indirect costs, a share of the money of all other lines.

    lines: of one budget; what is given in kind or on hand does not count. share: 0 to 1. Returns None where
    the share is 0 or there is nothing to pay.
    Source: indirect = share of (direct + fringe), as federal grant rules in the USA have it; worked value in
        tests/housing/core/budget/test_indirect.py.
    """
    direct = total(line for line in lines if line.section not in APART | {Section.INDIRECT})
    if not share or not direct:
        return None
    return BudgetLine(
        key=KEY,
        section=Section.INDIRECT,
        what=noted("Indirect costs, {share} %").format(share=f"{share * 100:.2f}".removesuffix(".00")),
        quantity=direct,
        unit=currency,
        price=share,
        computed_from=noted("{share:.2f} % of {money:,.2f} {currency}, all other lines that are paid").format(
            share=share * 100, money=direct, currency=currency
        ),
        target=Target("terms"),
    )
