"""Learning curves against the tables that textbooks of cost estimating print."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from housing.core.labour.learning import LearningRefused, Model, exponent, total_factor, unit_factors
from tests.examples import few


# b = log2 of the rate: by definition; 85 % is -0.23447 (log 0.85 / log 2).
@pytest.mark.parametrize(("rate", "b"), [(0.8, -0.32193), (0.85, -0.23447), (0.9, -0.15200), (1, 0)])
def test_the_exponent_is_the_binary_logarithm_of_the_rate(rate, b):
    assert exponent(rate) == pytest.approx(b, abs=5e-6)


# Unit times and sums of the unit model as operations-management textbooks tabulate them (80, 85 and 90 %);
# worked again by summing n^b.
@pytest.mark.parametrize(
    ("number", "rate", "unit", "total"),
    [
        (2, 0.80, 0.8000, 1.800), (4, 0.80, 0.6400, 3.142), (5, 0.80, 0.5956, 3.738),
        (10, 0.80, 0.4765, 6.315), (20, 0.80, 0.3812, 10.485), (100, 0.80, 0.2271, 32.651),
        (2, 0.85, 0.8500, 1.850), (4, 0.85, 0.7225, 3.345), (10, 0.85, 0.5828, 7.116),
        (100, 0.85, 0.3397, 43.754),
        (2, 0.90, 0.9000, 1.900), (5, 0.90, 0.7830, 4.339), (20, 0.90, 0.6342, 14.608),
        (100, 0.90, 0.4966, 58.141),
    ],
)  # fmt: skip
def test_the_unit_model_gives_the_tabulated_times(number, rate, unit, total):
    assert unit_factors(np.array([number]), rate, Model.UNIT)[0] == pytest.approx(unit, abs=5e-5)
    assert total_factor(number, rate, Model.UNIT) == pytest.approx(total, abs=5e-4)


def test_ten_boxes_from_sixty_minutes_at_85_percent():
    # By hand: Crawford 60 x 7.116 = 427.0; Wright 60 x 10 x 10^-0.23447 = 600 x 0.58279 = 349.7.
    assert 60 * total_factor(10, 0.85, Model.UNIT) == pytest.approx(427.0, abs=0.05)
    assert 60 * total_factor(10, 0.85, Model.AVERAGE) == pytest.approx(349.7, abs=0.05)


def test_the_tenth_box_alone_takes_less_than_the_average_of_ten():
    # By hand: 10^0.76553 - 9^0.76553 = 5.8279 - 5.3763 = 0.4516, where the average is 0.5828 (Wright 1936).
    assert unit_factors(np.array([10]), 0.85, Model.AVERAGE)[0] == pytest.approx(0.4516, abs=5e-5)


@few(50)
@given(st.integers(1, 300), st.floats(0.5, 1), st.sampled_from(Model))
def test_the_boxes_add_up_to_the_total(number, rate, model):
    singly = unit_factors(np.arange(1, number + 1), rate, model).sum()

    assert singly == pytest.approx(total_factor(number, rate, model))


@few(50)
@given(st.integers(1, 500), st.floats(0.5, 1))
def test_doubling_lowers_what_the_model_says_by_the_rate(number, rate):
    units = unit_factors(np.array([number, 2 * number]), rate, Model.UNIT)
    averages = [total_factor(n, rate, Model.AVERAGE) / n for n in (number, 2 * number)]

    assert units[1] / units[0] == pytest.approx(rate)
    assert averages[1] / averages[0] == pytest.approx(rate)


def test_without_learning_every_box_takes_the_same():
    assert list(unit_factors(np.array([1, 7, 90]), 0.8, Model.NONE)) == [1, 1, 1]


@pytest.mark.parametrize("rate", [0.49, 1.01, -1])
def test_a_rate_that_is_none_is_refused(rate):
    with pytest.raises(LearningRefused, match="not between 0.5 and 1"):
        exponent(rate)


def test_there_is_no_box_before_the_first():
    with pytest.raises(LearningRefused, match="counted from 1"):
        unit_factors(np.array([0]), 0.9, Model.UNIT)
