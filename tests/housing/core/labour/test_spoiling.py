"""The share of sheets spoiled: closed forms, a published posterior, and limiting cases."""

import pytest

from housing.core.labour.spoiling import spoiling


def chance(odds: float) -> float:
    return odds / (1 + odds)


def test_spoiled_sheets_move_the_stated_share():
    # 3 on 100 stated, 10 on 90 happened: 13 spoiled on 190 good ones
    assert spoiling(0.03, cut=90, spoiled=10).share == pytest.approx(13 / 190)
    assert spoiling(0.03, cut=0, spoiled=0).share == pytest.approx(0.03)


def test_a_published_posterior_is_met():
    # Gelman and others, Bayesian Data Analysis, 2.4, from memory: 437 girls of 980 births, uniform prior:
    # beta(438, 544), mean .446, deviation .016; nine cases of ten lie within 1.645 deviations.
    found = spoiling(0, cut=0, spoiled=438, worth=544)

    assert chance(found.share) == pytest.approx(0.446, abs=5e-4)
    assert (chance(found.low), chance(found.high)) == (
        pytest.approx(0.446 - 1.645 * 0.016, abs=1e-3),
        pytest.approx(0.446 + 1.645 * 0.016, abs=1e-3),
    )


@pytest.mark.parametrize("good", [1, 3, 40])
def test_one_spoiled_sheet_follows_the_closed_form(good):
    # beta(1, n): P(chance < x) = 1 - (1 - x)^n
    found = spoiling(0, cut=0, spoiled=1, worth=good)

    assert chance(found.low) == pytest.approx(1 - 0.95 ** (1 / good), rel=1e-3)
    assert chance(found.high) == pytest.approx(1 - 0.05 ** (1 / good), rel=1e-3)


@pytest.mark.parametrize("stated", [1e-4, 0.5])
def test_the_share_is_found_for_very_little_and_very_much(stated):
    found = spoiling(stated, cut=100_000, spoiled=0)

    assert 0 <= found.low <= found.high < stated
    assert 0 < found.share < stated


def test_nothing_stated_and_nothing_spoiled_is_nothing():
    assert spoiling(0, cut=50, spoiled=0).high == 0
