"""The contingency reaches up to the chosen figure and never takes anything away."""

from decimal import Decimal

import pytest

from housing.core.budget.contingency import contingency


@pytest.mark.parametrize(
    ("figure", "money", "expected"),
    [
        (1200.0, "1000", "200.00"),
        (1000.125, "1000", "0.13"),  # halves upward
        (1000.0, "1000", "0.00"),  # just enough
        (900.0, "1000", "0.00"),  # the money is beyond the figure already
    ],
)
def test_it_is_what_is_missing_to_the_figure(figure, money, expected):
    assert contingency(figure, Decimal(money)) == Decimal(expected)
