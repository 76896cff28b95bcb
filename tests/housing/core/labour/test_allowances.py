"""Allowances in both of their forms."""

import pytest

from housing.core.labour.allowances import AllowanceOf, AllowanceRefused, allowance_factor


def test_thirty_minutes_with_fifteen_percent():
    # Konz and Johnson, Work Design: 30 x 1.15 = 34.5 of the work; 30 / 0.85 = 35.29 of the shift.
    assert 30 * allowance_factor(0.15, AllowanceOf.WORK) == pytest.approx(34.5)
    assert 30 * allowance_factor(0.15, AllowanceOf.SHIFT) == pytest.approx(35.29, abs=0.005)


@pytest.mark.parametrize("share", [-0.01, 1, 1.5])
def test_an_allowance_that_is_none_is_refused(share):
    with pytest.raises(AllowanceRefused, match="not between 0 and 100 %"):
        allowance_factor(share, AllowanceOf.WORK)
