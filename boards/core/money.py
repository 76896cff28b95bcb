"""Sharing and rounding money so that the parts always add up to the whole."""

from collections.abc import Sequence
from decimal import ROUND_HALF_UP, Decimal

CENT = Decimal("0.01")


def to_cents(amount: Decimal) -> Decimal:
    """Round an amount of money to hundredths of the currency, halves upward."""
    return amount.quantize(CENT, rounding=ROUND_HALF_UP)


def share_out(amount: Decimal, weights: Sequence[float]) -> list[Decimal]:
    """Split an amount in proportion to weights so that the shares add up to it exactly.

    amount: money in whole hundredths. weights: one or more, none negative, not all 0, any unit.
    Returns one share a weight, in hundredths; what rounding leaves over goes to the largest remainders.
    Raises ValueError for no weights, a negative one or only zeros.
    Source: the largest-remainder method of apportionment.
    """
    total = sum(weights)
    if not weights or min(weights) < 0 or total <= 0:
        raise ValueError("Money can only be shared out over weights that are not negative and not all zero.")
    cents = int(amount / CENT)
    exact = [cents * (weight / total) for weight in weights]
    whole = [int(value) for value in exact]
    by_remainder = sorted(range(len(weights)), key=lambda i: (whole[i] - exact[i], i))
    for i in by_remainder[: cents - sum(whole)]:
        whole[i] += 1
    return [value * CENT for value in whole]
