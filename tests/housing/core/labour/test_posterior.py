"""What logged minutes say, drawn toward the prior: formulas of textbooks, worked by hand."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housing.core.labour.posterior import (
    JOB_SD,
    PRIOR_SD,
    Logged,
    by_form,
    by_person,
    by_step,
    corrections,
    posterior,
    spoiled_share,
    usable,
)
from tests.examples import few


def job(spent=12.0, form="tray", step="cut", person="1", standard=10.0) -> Logged:
    return Logged(form, step, person, standard, spent)


def test_without_jobs_the_prior_stays():
    found = posterior([])

    assert (found.factor, found.data, found.jobs) == (1, None, 0)
    assert found.low < 1 < found.high


def test_prior_and_data_are_weighed_by_their_precisions():
    # Gelman and others, Bayesian Data Analysis, 2.5: one observation y of known variance s2, prior N(m, t2):
    # mean (m/t2 + y/s2) / (1/t2 + 1/s2). Here m 0, t 0.35, y log 2 = 0.693147, s 0.5:
    # 0.693147 x 4 / (8.163265 + 4) = 0.227948.
    assert (PRIOR_SD, JOB_SD) == (0.35, 0.5)

    assert math.log(posterior([math.log(2)]).factor) == pytest.approx(0.227948, abs=5e-6)


def test_the_posterior_variance_is_the_inverse_of_the_precisions():
    # As above, of four jobs: precision 1/0.35^2 + 4/0.5^2 = 24.163; deviation 0.20343; nine cases of ten lie
    # within 1.6449 of these.
    found = posterior([0.0] * 4)

    assert math.log(found.high) == pytest.approx(1.6449 * 0.20343, abs=1e-4)
    assert found.low == pytest.approx(1 / found.high)


@few(50)
@given(st.lists(st.floats(-1.5, 1.5), min_size=1, max_size=40))
def test_the_factor_lies_between_prior_and_data(ratios):
    found = posterior(ratios)

    low, high = sorted((found.prior, found.data))
    assert low - 1e-9 <= found.factor <= high + 1e-9
    assert found.low <= found.factor <= found.high


def test_many_jobs_speak_for_themselves():
    few_jobs, many = posterior([0.4] * 2 + [0.5]), posterior([0.4, 0.5] * 200)

    assert few_jobs.factor < many.factor
    assert many.factor == pytest.approx(math.exp(0.45), rel=0.01)


def test_a_form_is_drawn_toward_its_step_and_the_step_toward_one():
    logged = [job(form="tray", spent=15) for _ in range(20)] + [job(form="tube", spent=10)]

    steps, forms = by_step(logged), by_form(logged)

    assert 1 < steps["cut"].factor < 1.5
    assert 1 < forms["tube", "cut"].factor < steps["cut"].factor  # its one job took the standard time
    assert forms["tray", "cut"].factor > steps["cut"].factor


def test_a_form_never_made_goes_by_the_step():
    logged = [job(spent=15) for _ in range(20)]

    assert corrections(logged)["", "cut"] == by_step(logged)["cut"].factor


def test_a_person_is_compared_with_what_is_usual_for_the_work():
    logged = [job(person="1", spent=12) for _ in range(20)] + [job(person="2", spent=18) for _ in range(20)]

    people = by_person(logged)

    assert people["1"].factor < 1 < people["2"].factor


@pytest.mark.parametrize("spent", [0, -1, 0.5, 100])
def test_slips_of_the_pen_are_not_learned_from(spent):
    # 10 standard minutes: 0.5 and 100 are more than eight times off.
    assert usable([job(spent=spent)]) == []
    assert corrections([job(spent=spent)]) == {}


def test_spoiled_sheets_move_the_stated_share():
    # Beta(3, 97) and 10 spoiled of 100: (3 + 10) / 200 = 6.5 %.
    assert spoiled_share(0.03, 100, cut=90, spoiled=10) == pytest.approx(0.065)
    assert spoiled_share(0.03, 100, cut=0, spoiled=0) == pytest.approx(0.03)
