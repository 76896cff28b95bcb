"""The simulation against closed forms: sums and products of independent causes."""

from math import sqrt

import numpy as np
import pytest

from housing.core.budget.causes import BOX, Cause, element_causes, with_ranges
from housing.core.budget.ranges import ThreePoint
from housing.core.budget.simulation import CostLine, Simulation, SimulationInput, simulate
from housing.core.labour.elements import ELEMENTS

CERTAIN = ThreePoint(1, 1, 1)
TRIALS = 20_000


def question(boxes=1, scatter=CERTAIN, lines=(), labour=("pace",), minutes=60.0, **ranges) -> SimulationInput:
    """Boxes that each take `minutes` of one element at 1 a minute; all causes certain but those given."""
    work = np.zeros((boxes, len(ELEMENTS)))
    work[:, 0] = minutes
    causes = {key: Cause(key, key, "", CERTAIN) for key in (*element_causes(), *with_ranges({}))}
    causes |= {key: Cause(key, key, "", value) for key, value in ranges.items()}
    return SimulationInput(
        minutes=work,
        cost_per_minute=np.ones(len(ELEMENTS)),
        box_scatter=scatter,
        element_causes=element_causes(),
        labour_causes=labour,
        hour_causes=("pace",),
        lines=lines,
        causes=causes,
    )


def test_without_any_range_it_is_the_sum():
    found = simulate(question(boxes=3, lines=[CostLine(100, ("board_prices",))]), trials=200)

    assert (found.base, found.mean, found.sd) == (280, pytest.approx(280), pytest.approx(0, abs=1e-4))
    assert found.quantiles == pytest.approx([280] * 99)
    assert found.drivers == ()


def test_boxes_that_scatter_by_themselves_add_up_as_the_square_root():
    scatter = ThreePoint(0.5, 1, 2.5)

    found = simulate(question(boxes=400, scatter=scatter), trials=TRIALS)

    # Sum of n independent boxes: mean n m, variance n v. Five standard errors of mean and deviation.
    sd = 60 * sqrt(400 * scatter.variance)
    assert found.mean == pytest.approx(60 * 400 * scatter.mean, abs=5 * sd / sqrt(TRIALS))
    assert found.sd == pytest.approx(sd, rel=5 / sqrt(2 * TRIALS))


def test_what_all_share_does_not_even_out():
    pace = ThreePoint(0.8, 1, 1.8)

    found = simulate(question(boxes=400, pace=pace), trials=TRIALS)

    # All boxes slower together: the deviation is 400 times that of one box, not 20 times.
    sd = 60 * 400 * sqrt(pace.variance)
    assert found.mean == pytest.approx(60 * 400 * pace.mean, abs=5 * sd / sqrt(TRIALS))
    assert found.sd == pytest.approx(sd, rel=0.03)


def test_the_product_of_independent_causes_has_the_variance_of_products():
    price, spoiled = ThreePoint(0.9, 1, 1.5), ThreePoint(1, 1, 1.3)
    lines = [CostLine(1000, ("board_prices", "spoilage"))]

    found = simulate(question(boxes=0, lines=lines, board_prices=price, spoilage=spoiled), trials=TRIALS)

    # Var(XY) = Vx Vy + Vx my^2 + Vy mx^2 (Goodman, Journal of the American Statistical Association 55, 1960).
    variance = (
        price.variance * spoiled.variance
        + price.variance * spoiled.mean**2
        + spoiled.variance * price.mean**2
    )
    sd = 1000 * sqrt(variance)
    assert found.mean == pytest.approx(1000 * price.mean * spoiled.mean, abs=5 * sd / sqrt(TRIALS))
    assert found.sd == pytest.approx(sd, rel=0.03)


def test_two_lines_with_one_cause_move_together_and_with_two_apart():
    price = ThreePoint(0.5, 1, 1.5)
    together = [CostLine(100, ("board_prices",)), CostLine(100, ("board_prices",))]
    apart = [CostLine(100, ("board_prices",)), CostLine(100, ("goods_prices",))]

    one, two = (
        simulate(question(boxes=0, lines=lines, board_prices=price, goods_prices=price), trials=TRIALS).sd
        for lines in (together, apart)
    )

    assert one == pytest.approx(200 * sqrt(price.variance), rel=0.03)
    assert two == pytest.approx(100 * sqrt(2 * price.variance), rel=0.03)


def test_a_symmetric_cost_is_exceeded_half_the_time():
    found = simulate(question(boxes=0, lines=[CostLine(100, ("freight",))], freight=ThreePoint(0, 1, 2)))

    # Beta(3, 3): the middle is 1 and the 80 % point 0.6731 of the width (from the incomplete beta function
    # x^3 (10 - 15 x + 6 x^2) = 0.8, solved by bisection).
    assert found.at(50) == pytest.approx(100, abs=1.5)
    assert found.at(80) == pytest.approx(200 * 0.6731, abs=2)


def test_pay_moves_money_and_pace_moves_hours_too():
    wages = ThreePoint(1, 1.5, 2)

    found = simulate(question(boxes=2, labour=("pace", "wages"), wages=wages), trials=1000)

    assert found.mean == pytest.approx(180, rel=0.02)  # 2 x 60 x 1.5
    assert found.hours_at(50) == pytest.approx(2)


def test_what_moves_several_elements_moves_them_together():
    slower = ThreePoint(0.5, 1, 2.5)
    plain = question(minutes=0, learning=slower)
    plain.minutes[0, :3] = 60, 30, 10

    moved = SimulationInput(**{**vars(plain), "group_causes": {"learning": (0, 1)}})
    found = simulate(moved, trials=TRIALS)

    # The first two elements take 90 minutes between them, whatever the cause is; the third stays at 10.
    assert found.mean == pytest.approx(10 + 90 * slower.mean, abs=5 * 90 * sqrt(slower.variance / TRIALS))
    assert found.sd == pytest.approx(90 * sqrt(slower.variance), rel=0.03)
    assert found.hours_at(50) == pytest.approx(found.at(50) / 60)
    assert [driver.key for driver in found.drivers] == ["learning"]


def test_cases_within_an_amount_are_counted_from_the_quantiles():
    found = simulate(question(boxes=0, lines=[CostLine(100, ("freight",))], freight=ThreePoint(0, 1, 2)))

    # Beta(3, 3) is symmetric: half of the cases lie below the middle; nothing below 0, nothing above 200.
    assert found.cases_within(100) == pytest.approx(50, abs=2)
    assert found.cases_within(found.at(80)) == 80
    assert (found.cases_within(0), found.cases_within(200)) == (0, 99)


def test_indirect_costs_follow_all_others():
    plain = question(boxes=2)

    found = simulate(SimulationInput(**{**vars(plain), "indirect_share": 0.15}), trials=100)

    assert found.base == pytest.approx(found.mean) == pytest.approx(120 * 1.15)


def test_the_input_that_matters_most_comes_first():
    lines = [CostLine(1000, ("board_prices",)), CostLine(1000, ("freight",))]
    ranges = {"board_prices": ThreePoint(0.9, 1, 1.1), "freight": ThreePoint(0.5, 1, 1.5)}

    drivers = simulate(question(boxes=0, lines=lines, **ranges)).drivers

    assert [driver.key for driver in drivers] == ["freight", "board_prices"]
    # Ranges 5 times as wide have 25 times the variance: 25 / 26 of the whole.
    assert drivers[0].share == pytest.approx(25 / 26, abs=0.02)
    assert drivers[0].low < 2000 < drivers[0].high


def test_boxes_one_by_one_are_a_driver_too():
    drivers = simulate(question(boxes=4, scatter=ThreePoint(0.5, 1, 2))).drivers

    assert [driver.key for driver in drivers] == [BOX]
    assert drivers[0].share == pytest.approx(1, abs=1e-3)


def test_the_same_seed_gives_the_same_and_another_nearly_so():
    asked = question(boxes=50, scatter=ThreePoint(0.5, 1, 2), pace=ThreePoint(0.8, 1, 1.4))

    first, again, other = (simulate(asked, seed=seed) for seed in (3, 3, 4))

    assert first == again
    assert other != first
    assert other.at(80) == pytest.approx(first.at(80), rel=0.02)


def test_quantiles_rise_and_the_histogram_counts_every_trial():
    found = simulate(question(boxes=5, scatter=ThreePoint(0.5, 1, 2)), trials=1000)

    assert list(found.quantiles) == sorted(found.quantiles)
    assert sum(found.counts) == 1000
    assert len(found.edges) == len(found.counts) + 1


def test_it_can_be_kept_as_json():
    found = simulate(question(boxes=5, scatter=ThreePoint(0.5, 1, 2)), trials=100)

    assert Simulation.from_json(found.to_json()) == found
