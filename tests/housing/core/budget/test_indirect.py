"""Indirect costs are a share of all other money."""

from decimal import Decimal

from housing.core.budget.indirect import indirect_line
from housing.core.budget.lines import Section
from tests.housing.core.budget.lines import make_line


def test_they_are_a_share_of_pay_and_on_costs():
    # Worked value of the trade: 40 h x 24 = 960; fringe 28 % makes 1228.80; indirect 15 % makes 1413.12.
    labour = make_line(Section.LABOUR, "24", quantity=Decimal(40), factor=Decimal("1.28"))

    indirect = indirect_line([labour], Decimal("0.15"), "USD")

    assert labour.amount == Decimal("1228.80")
    assert labour.amount + indirect.amount == Decimal("1413.12")


def test_what_is_given_or_on_hand_bears_none():
    lines = [
        make_line(Section.BOARD, "100"),
        make_line(Section.IN_KIND, "500"),
        make_line(Section.ON_HAND, "70"),
    ]

    assert indirect_line(lines, Decimal("0.1"), "USD").amount == 10


def test_there_is_no_line_without_a_share_or_without_money():
    assert indirect_line([make_line(Section.BOARD, "100")], Decimal(0), "USD") is None
    assert indirect_line([make_line(Section.IN_KIND, "100")], Decimal("0.15"), "USD") is None
