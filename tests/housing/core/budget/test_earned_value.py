"""Earned value: the definitions on worked examples that textbooks give."""

from decimal import Decimal

import pytest

from housing.core.budget.earned_value import EarnedValue, earned_of


def value(budget, earned, spent, planned=None) -> EarnedValue:
    planned = None if planned is None else Decimal(planned)
    return EarnedValue(Decimal(budget), Decimal(earned), Decimal(spent), planned)


def test_the_rest_as_planned():
    # Phillips, PMP Project Management Professional Study Guide, figure 7-13: BAC 500,000, EV 100,000,
    # AC 127,000: EAC 527,000.
    assert value(500_000, 100_000, 127_000).forecast_as_planned == 527_000


def test_the_rest_as_it_went_so_far():
    # The same, the example after figure 7-13: BAC 500,000, EV 150,000, AC 162,000: CPI .93. He goes on
    # with the rounded index to 538,344; unrounded, 500,000 / (150 / 162) is 540,000.
    work = value(500_000, 150_000, 162_000)

    assert round(work.cost_index, 2) == Decimal("0.93")
    assert work.spent + (work.budget - work.earned) / Decimal("0.93") == pytest.approx(
        Decimal(538_344), abs=1
    )
    assert work.forecast_as_so_far == 540_000
    assert work.variance_at_completion == -40_000


def test_behind_in_time_and_money():
    # A published exercise of ten houses of 1,000 each in ten weeks: after four weeks PV 4,000, EV 3,000,
    # AC 4,000: SV -1,000, SPI 0.75; CV and CPI follow likewise.
    work = value(10_000, 3_000, 4_000, 4_000)

    assert (work.schedule_variance, work.schedule_index) == (-1_000, Decimal("0.75"))
    assert (work.cost_variance, work.cost_index) == (-1_000, Decimal("0.75"))
    # by hand: 7,000 of work is left for 6,000 of money
    assert work.index_to_complete == Decimal(7_000) / Decimal(6_000)


def test_before_anything_is_done_there_are_no_indices():
    work = value(1_000, 0, 0)

    assert (work.cost_index, work.schedule_index, work.forecast_as_so_far) == (None, None, None)
    assert (work.forecast_as_planned, work.index_to_complete) == (1_000, 1)


def test_money_overspent_leaves_nothing_to_complete_with():
    assert value(1_000, 500, 1_000).index_to_complete is None


def test_work_is_earned_by_its_planned_minutes():
    # by hand: 1,000 × 90 of 240 minutes
    assert earned_of(Decimal(1_000), Decimal(90), Decimal(240)) == 375
    assert earned_of(Decimal(1_000), Decimal(0), Decimal(0)) == 0
