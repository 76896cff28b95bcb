"""Contingency: what is added to the money so that it is enough in so many of 100 cases."""

from decimal import Decimal

from boards.core.money import to_cents


def contingency(figure: float, money: Decimal) -> Decimal:
    """What is missing to a figure of the range, never below 0.

    figure: money not exceeded in the chosen share of cases. money: to be paid as the lines have it. Returns
    hundredths.
    Source: subtraction; that a contingency is a chosen quantile less the base figure is common practice of
        cost engineering, no source.
    """
    return max(to_cents(Decimal(repr(figure)) - money), Decimal("0.00"))
