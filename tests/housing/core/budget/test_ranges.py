"""Three-point figures against worked PERT values and numpy's beta generator."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from housing.core.budget.ranges import RangeRefused, ThreePoint
from tests.examples import few

RANGE = st.tuples(*[st.floats(0.1, 10)] * 3).map(sorted).filter(lambda r: r[2] - r[0] > 0.01)


def test_the_mean_and_deviation_of_pert():
    # Worked by hand: a 20, m 30, b 60: (20 + 120 + 60) / 6 = 33.33; (60 - 20) / 6 = 6.67.
    figures = ThreePoint(20, 30, 60)

    assert figures.mean == pytest.approx(33.33, abs=0.005)
    assert figures.pert_variance**0.5 == pytest.approx(6.67, abs=0.005)


def test_a_hundred_boxes_add_up_as_pert_says():
    # Worked by hand: 100 boxes 3333 min, sd 66.7; one-sided 95 %: 3333 + 1.645 x 66.7 = 3443.
    one = ThreePoint(20, 30, 60)
    mean, sd = 100 * one.mean, (100 * one.pert_variance) ** 0.5

    assert (mean, sd, mean + 1.645 * sd) == (
        pytest.approx(3333.3, abs=0.1), pytest.approx(66.7, abs=0.05), pytest.approx(3443, abs=0.1),
    )  # fmt: skip


def test_the_variance_of_a_symmetric_range_is_that_of_its_beta_distribution():
    # Beta(3, 3) between 0 and 6: variance 6^2 x 3 x 3 / (6^2 x 7) = 9 / 7, by the textbook formula.
    figures = ThreePoint(0, 3, 6)

    assert figures.shapes == (3, 3)
    assert figures.variance == pytest.approx(9 / 7)


def test_draws_have_mean_and_variance_of_the_range():
    figures, number = ThreePoint(1, 2, 8), 200_000

    drawn = figures.draw(np.random.default_rng(5), number)

    # Five standard errors of a mean of so many draws.
    assert drawn.mean() == pytest.approx(figures.mean, abs=5 * (figures.variance / number) ** 0.5)
    assert drawn.var() == pytest.approx(figures.variance, rel=0.02)


@few(25)
@given(RANGE)
def test_the_table_has_mean_variance_and_bounds_of_the_range(points):
    figures = ThreePoint(*points)

    table = figures.table()

    assert table.mean() == pytest.approx(figures.mean)
    assert table.var() == pytest.approx(figures.variance, rel=1e-6)
    width = figures.high - figures.low
    assert figures.low - 0.01 * width <= table.min() <= table.max() <= figures.high + 0.01 * width


@pytest.mark.parametrize("points", [(1, 2, 8), (0.6, 0.95, 2.2), (1, 1, 1.4), (0, 5, 5)])
def test_the_table_is_the_distribution_that_numpy_draws(points):
    figures = ThreePoint(*points)
    drawn = np.sort(figures.draw(np.random.default_rng(2), 400_000))

    quantiles = np.quantile(figures.table(), [0.05, 0.25, 0.5, 0.75, 0.95])

    width = figures.high - figures.low
    assert quantiles == pytest.approx(np.quantile(drawn, [0.05, 0.25, 0.5, 0.75, 0.95]), abs=0.005 * width)


def test_a_certain_figure_is_always_itself():
    figures = ThreePoint(3, 3, 3)

    assert set(figures.draw(np.random.default_rng(1), 9)) == set(figures.table()) == {3}


@pytest.mark.parametrize("points", [(2, 1, 3), (1, 4, 3), (3, 2, 1)])
def test_figures_out_of_order_are_refused(points):
    with pytest.raises(RangeRefused, match="not in order"):
        ThreePoint(*points)
