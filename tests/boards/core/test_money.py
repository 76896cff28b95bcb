"""Money is rounded once and shared without loss."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boards.core.money import share_out, to_cents


@pytest.mark.parametrize(
    ("amount", "rounded"),
    [
        ("2.344", "2.34"),
        ("2.345", "2.35"),  # halves go up, not to the even neighbour
        ("2.355", "2.36"),
        ("0", "0.00"),
    ],
)
def test_amount_is_rounded_to_hundredths(amount, rounded):
    assert str(to_cents(Decimal(amount))) == rounded


@pytest.mark.parametrize(
    ("amount", "weights", "shares"),
    [
        ("10.00", [1, 1], ["5.00", "5.00"]),
        # By hand: 3.33 each leaves one hundredth; the remainders are equal, so the first has it.
        ("10.00", [1, 1, 1], ["3.34", "3.33", "3.33"]),
        # By hand: exact 1.666 and 3.333 and 5.0; the largest remainder is the first's.
        ("10.00", [1, 2, 3], ["1.67", "3.33", "5.00"]),
        ("0.01", [1, 3], ["0.00", "0.01"]),  # one hundredth goes where most of it belongs
        ("7.77", [0, 5], ["0.00", "7.77"]),  # nothing for a weight of nothing
        ("0.00", [1, 2], ["0.00", "0.00"]),
    ],
)
def test_amount_is_shared_by_largest_remainders(amount, weights, shares):
    assert [str(share) for share in share_out(Decimal(amount), weights)] == shares


@given(
    st.decimals(0, 10**7, places=2),
    st.lists(st.floats(0, 1e9), min_size=1, max_size=40).filter(lambda weights: sum(weights) > 1e-6),
)
def test_shares_add_up_and_lie_within_a_hundredth_of_their_due(amount, weights):
    shares = share_out(amount, weights)

    assert sum(shares) == amount
    for share, weight in zip(shares, weights, strict=True):
        assert abs(float(share) - float(amount) * weight / sum(weights)) < 0.01 + 1e-6


@pytest.mark.parametrize("weights", [[], [0, 0], [1, -1], [2, -1]])
def test_weights_that_say_nothing_are_refused(weights):
    with pytest.raises(ValueError, match="not negative and not all zero"):
        share_out(Decimal("1.00"), weights)
