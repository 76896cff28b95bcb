"""What logged minutes say, drawn toward the prior: textbook formulas, published data, brute force."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from housing.core.labour.posterior import (
    BETWEEN_SD,
    JOB_SD,
    JOB_WORTH,
    PRIOR_SD,
    Estimate,
    Logged,
    by_form,
    by_person,
    by_step,
    corrections,
    data_of,
    drawn_in,
    pooled,
    usable,
    weigh,
)
from tests.examples import few


def job(spent=12.0, form="tray", step="cut", person="1", standard=10.0) -> Logged:
    return Logged(form, step, person, standard, spent)


# ---- The formulas -----------------------------------------------------------------------------------------


def test_prior_and_data_are_weighed_by_their_precisions():
    # Gelman and others, Bayesian Data Analysis, 2.5: mean (m/t2 + y/s2) / (1/t2 + 1/s2), variance the
    # inverse of the sum. Here m 0, t 0.35, y log 2 = 0.693147, s 0.5: 0.693147 x 4 / (8.163265 + 4).
    found = weigh(Estimate(0, 0.35**2), Estimate(math.log(2), 0.25))

    assert found.mean == pytest.approx(0.227948, abs=5e-6)
    assert found.variance == pytest.approx(1 / 12.163265)


# Eight schools: Rubin 1981; Gelman and others, Bayesian Data Analysis, table 5.2. From memory, as are the
# pooled figures of their section 5.5: 7.7 with variance 16.6.
SCHOOLS = [(28, 15), (8, 10), (-3, 16), (7, 11), (-1, 9), (1, 11), (18, 10), (12, 18)]


def test_eight_schools_taken_as_one_are_pooled_as_published():
    found = pooled([Estimate(effect, error**2) for effect, error in SCHOOLS], between_sd=0)

    assert found.mean == pytest.approx(7.7, abs=0.05)
    assert found.variance == pytest.approx(16.6, abs=0.05)


def test_batting_averages_are_drawn_in_as_efron_and_morris_did():
    # Efron and Morris, Stein's paradox in statistics, Scientific American 1977; from memory: 18 players with
    # a mean of .265, each of 45 times at bat, drawn in with c = .212: .400 becomes .294 and .156 .242.
    averages = [0.400, 0.378, 0.356, 0.333, 0.311, 0.311, 0.289, 0.267, 0.244, 0.244]
    averages += [0.222] * 5 + [0.200, 0.178, 0.156]
    own = 0.265 * 0.735 / 45
    between_sd = math.sqrt(own * 0.212 / (1 - 0.212))
    players = [Estimate(average, own) for average in averages]

    centre = pooled(players, between_sd)

    drawn = [drawn_in(player, centre, between_sd).mean for player in (players[0], players[-1])]
    assert [round(centre.mean, 3), *(round(mean, 3) for mean in drawn)] == [0.265, 0.294, 0.242]


@few(30)
@given(
    st.lists(st.tuples(st.floats(-1, 1), st.floats(0.05, 1)), min_size=1, max_size=6),
    st.floats(0.05, 1),
    st.floats(0.05, 1),
)
def test_the_hierarchy_is_what_conditioning_all_at_once_gives(groups, prior_sd, between_sd):
    # Brute force: centre and groups as one normal vector, conditioned on what was observed by matrices.
    number = len(groups)
    y, errors = np.array([one for one, _ in groups]), np.diag([error**2 for _, error in groups])
    covariance = np.full((number + 1, number + 1), prior_sd**2)
    covariance[1:, 1:] += np.eye(number) * between_sd**2
    gain = covariance[:, 1:] @ np.linalg.inv(covariance[1:, 1:] + errors)
    mean, variance = gain @ y, np.diag(covariance - gain @ covariance[1:, :])

    data = [Estimate(one, error**2) for one, error in groups]
    centre = weigh(Estimate(0, prior_sd**2), pooled(data, between_sd))
    found = [centre, *(drawn_in(one, centre, between_sd) for one in data)]

    assert [one.mean for one in found] == pytest.approx(list(mean), abs=1e-9)
    assert [one.variance for one in found] == pytest.approx(list(variance), abs=1e-9)


def test_one_job_is_as_uncertain_as_any_job():
    assert data_of([job(spent=20)]) == Estimate(math.log(2), JOB_SD**2)


def test_alike_jobs_add_up_and_their_own_scatter_counts():
    # Four jobs of 8, 12, 8 and 12 for 10: ratio 1, squares of 0.2 four times: (8 x 0.25 + 0.16) / 11 a job.
    found = data_of([job(spent=8), job(spent=12), job(spent=8), job(spent=12)])

    assert JOB_WORTH == 8
    assert (found.mean, found.variance) == (pytest.approx(0), pytest.approx(2.16 / 11 / 4))


def test_a_long_job_says_more_of_the_sum_than_a_short_one():
    # 90 standard minutes in 90, 10 in 30: 120 for 100
    assert data_of([job(90, standard=90), job(30, standard=10)]).mean == pytest.approx(math.log(1.2))


# ---- What comes of it -------------------------------------------------------------------------------------


def test_skewed_jobs_do_not_make_the_sum_too_low():
    # Minutes of people are skewed: a lognormal with deviation 0.6 whose mean is 1.3 times the standard has a
    # median of only 1.3 exp(-0.18) = 1.086. What is planned has to add up to the mean.
    draw = np.random.default_rng(5)
    ratios = 1.3 * np.exp(draw.normal(-0.18, 0.6, 3000))
    logged = [job(spent=10 * float(ratio)) for ratio in ratios]

    assert by_form(logged)["tray", "cut"].factor == pytest.approx(1.3, rel=0.04)


def test_without_jobs_nothing_is_corrected():
    assert (by_step([]), by_form([]), by_person([]), corrections([])) == ({}, {}, {}, {})


@few(50)
@given(st.lists(st.floats(3, 40), min_size=1, max_size=40))
def test_the_factor_lies_between_prior_and_data(minutes):
    logged = [job(spent=one) for one in minutes]

    for found in (by_step(logged)["cut"], by_form(logged)["tray", "cut"]):
        low, high = sorted((found.prior, found.data))
        assert low - 1e-9 <= found.factor <= high + 1e-9
        assert found.low <= found.factor <= found.high
        assert found.jobs == len(minutes)


def test_many_jobs_speak_for_themselves():
    few_jobs, many = ([job(spent=15)] * number for number in (3, 400))

    assert by_form(few_jobs)["tray", "cut"].factor < by_form(many)["tray", "cut"].factor
    assert by_form(many)["tray", "cut"].factor == pytest.approx(1.5, rel=0.01)


def test_a_form_is_drawn_toward_its_step_and_the_step_toward_one():
    logged = [job(form="tray", spent=15)] * 20 + [job(form="tube", spent=10)]

    steps, forms = by_step(logged), by_form(logged)

    assert 1 < steps["cut"].factor < 1.5
    assert 1 < forms["tube", "cut"].factor < steps["cut"].factor  # its one job took the standard time
    assert forms["tray", "cut"].factor > steps["cut"].factor


def test_many_jobs_of_one_form_do_not_settle_the_step_for_all_others():
    # However many jobs, one form is one draw around the step: log 1.5 x 1/0.04 / (1/0.04 + 1/0.1225).
    steps = by_step([job(spent=15)] * 100_000)

    weight = 1 / BETWEEN_SD**2 / (1 / BETWEEN_SD**2 + 1 / PRIOR_SD**2)
    assert math.log(steps["cut"].factor) == pytest.approx(math.log(1.5) * weight, rel=1e-3)


def test_a_form_never_made_goes_by_the_step():
    logged = [job(spent=15)] * 20

    assert corrections(logged)["", "cut"] == by_step(logged)["cut"].factor


def test_a_person_is_compared_with_what_is_usual_for_the_work():
    logged = [job(person="1", spent=12)] * 20 + [job(person="2", spent=18)] * 20 + [job(person="")]

    people = by_person(logged)

    assert people["1"].factor < 1 < people["2"].factor
    assert list(people) == ["1", "2"]


@pytest.mark.parametrize("spent", [0, -1, 0.5, 100])
def test_slips_of_the_pen_are_not_learned_from(spent):
    # 10 standard minutes: 0.5 and 100 are more than eight times off.
    assert usable([job(spent=spent)]) == []
    assert corrections([job(spent=spent)]) == {}
