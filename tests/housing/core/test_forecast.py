"""When the work will be done: beside arithmetic, and beside a linear program that hands the work out."""

import math

import highspy
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from housing.core.forecast import Pace, Worker, forecast, may_be_last, skill_sets, weeks_exactly
from tests.examples import few

SKILLS = ("cut", "fit", "fold")


def worker(*skills: str, minutes=600.0) -> Worker:
    return Worker(frozenset(skills), minutes if isinstance(minutes, list) else [minutes])


def fits_in(weeks: int, minutes: dict[str, float], workers: list[Worker]) -> bool:
    """Whether a linear program finds who does how much of what, week by week; Gale's theorem knows nothing of
    this."""
    program = highspy.Highs()
    program.setOptionValue("output_flag", False)
    columns = {}
    for person, one in enumerate(workers):
        for skill in one.skills & minutes.keys():
            for week in range(weeks):
                columns[person, skill, week] = len(columns)
                program.addVar(0, highspy.kHighsInf)
    for person, one in enumerate(workers):
        for week in range(weeks):
            row = [columns[person, skill, week] for skill in sorted(one.skills & minutes.keys())]
            there = one.minutes[min(week, len(one.minutes) - 1)]
            program.addRow(-highspy.kHighsInf, there, len(row), np.array(row, np.int32), np.ones(len(row)))
    for skill, asked in minutes.items():
        row = [column for (_, of, _), column in columns.items() if of == skill]
        program.addRow(asked, highspy.kHighsInf, len(row), np.array(row, np.int32), np.ones(len(row)))
    program.run()
    return program.getModelStatus() == highspy.HighsModelStatus.kOptimal


@pytest.mark.parametrize(
    ("minutes", "workers", "weeks"),
    [
        ({"cut": 1200}, [worker("cut")], 2),  # 20 hours at 10 a week
        ({"cut": 900}, [worker("cut")], 1.5),
        # Either can cut, one can fit: 1800 of 1200 a week together, but fitting alone takes 2 weeks of 600.
        ({"cut": 600, "fit": 1200}, [worker("cut", "fit"), worker("cut")], 2),
        ({"cut": 1200, "fit": 600}, [worker("cut", "fit"), worker("cut")], 1.5),
        # The first week away, 600 from then on.
        ({"cut": 600}, [worker("cut", minutes=[0.0, 600.0])], 2),
        ({}, [worker("cut")], 0),
        ({"cut": 10}, [worker("fit")], math.inf),
        ({"cut": 10}, [], math.inf),
        # Two weeks' help, then nobody: 600 and 400 of 600 are there, 600 and 700 are not.
        ({"cut": 1000}, [worker("cut", minutes=[600.0, 600.0, 0.0])], 1 + 4 / 6),
        ({"cut": 1300}, [worker("cut", minutes=[600.0, 600.0, 0.0])], math.inf),
    ],
)
def test_weeks_as_planned_are_those_worked_by_hand(minutes, workers, weeks):
    assert weeks_exactly(minutes, workers) == pytest.approx(weeks)


crews = st.lists(
    st.builds(
        Worker,
        st.sets(st.sampled_from(SKILLS), min_size=1).map(frozenset),
        st.lists(st.sampled_from([0.0, 60.0, 120.0, 300.0]), min_size=1, max_size=4).map(
            lambda weeks: [*weeks, 240.0 if len(weeks) > 1 else 0.0]
        ),
    ),
    min_size=1,
    max_size=3,
)
loads = st.fixed_dictionaries({}, optional={skill: st.integers(1, 2000) for skill in SKILLS})


@few(40)
@given(loads, crews)
def test_the_last_week_is_the_first_by_whose_end_the_work_can_be_handed_out(minutes, workers):
    weeks = weeks_exactly(minutes, workers)

    if not minutes:
        assert weeks == 0
    elif math.isinf(weeks):
        assert not fits_in(30, minutes, workers)
    else:
        assert fits_in(math.ceil(weeks - 1e-6), minutes, workers)
        if (before := math.ceil(weeks - 1e-6) - 1) > 0:
            assert not fits_in(before, minutes, workers)


def test_every_set_of_skills_is_looked_at():
    assert len(skill_sets(SKILLS)) == 2**3 - 1


def test_the_middle_of_the_trials_is_about_the_plan_and_the_range_holds_it():
    found = forecast({"cut": 6000}, [worker("cut")])

    # 10 weeks and two boxes in a hundred made again; the median of a lognormal factor is 1
    assert found.middle == pytest.approx(10.2, rel=0.03)
    assert found.low < 10 < found.high
    # Nine in ten: z = 1.2816, deviation of the logarithm 0.25 and a little for attendance.
    assert math.log(found.high / found.middle) == pytest.approx(1.2816 * 0.25, rel=0.12)


def test_minutes_that_took_longer_move_the_end_and_narrow_the_range():
    slow = Pace(planned=6000, spent=9000, jobs=100, finished=30)

    before, after = forecast({"cut": 6000}, [worker("cut")]), forecast({"cut": 6000}, [worker("cut")], slow)

    # prior 1 / 0.0625 = 16, data 100 / 0.25 = 400: log 1.5 x 400 / 416 = 0.3899, a factor of 1.477
    assert slow.factor == (pytest.approx(0.3899, abs=1e-4), pytest.approx(416**-0.5))
    assert after.middle / before.middle == pytest.approx(1.477, rel=0.03)
    assert after.high / after.low < before.high / before.low


def test_hours_that_nobody_works_move_the_end_too():
    # 4 weeks of the plan's own hours and 4 weeks in which half were worked: (4 + 2) / 8
    absent = Pace(worked_share=0.5, weeks_seen=4)

    assert absent.attended == 0.75
    assert forecast({"cut": 6000}, [worker("cut")], absent).middle == pytest.approx(10.2 / 0.75, rel=0.03)


def end_of(share: list[float], attended: list[float]) -> float:
    """When a set of skills ends in one trial, week by week."""
    done = 0.0
    for week, (there, worked) in enumerate(zip(share, attended, strict=True)):
        if done + there * worked >= 1:
            return week + (1 - done) / (there * worked)
        done += there * worked
    return math.inf


by_week = st.lists(st.sampled_from([0.0, 0.25, 0.5, 1.0]), min_size=4, max_size=4)


@few(60)
@given(st.lists(by_week, min_size=1, max_size=7), st.lists(st.floats(0, 2), min_size=4, max_size=4))
def test_sets_of_skills_that_are_not_drawn_are_never_the_last(shares, attended):
    drawn = may_be_last([np.array(share) for share in shares])

    assert max(end_of(shares[place], attended) for place in drawn) == pytest.approx(
        max(end_of(share, attended) for share in shares)
    )


def test_what_holds_it_up_is_named():
    crew = [worker("cut", "fold", minutes=1200.0), worker("fit", minutes=60.0)]

    late = forecast({"cut": 1200, "fold": 1200, "fit": 600}, crew).late

    assert (late.skills, late.minutes, late.weekly) == ({"fit"}, 600, 60)


def test_work_that_nobody_can_do_never_ends_and_says_which():
    found = forecast({"cut": 600, "fit": 60}, [worker("cut")])

    assert not found.ends
    assert found.late.skills == {"fit"}


def test_no_work_is_done():
    assert forecast({}, []).high == 0


def test_the_same_question_gets_the_same_answer():
    first, second = (forecast({"cut": 6000}, [worker("cut")]) for _ in range(2))

    assert first == second


def test_hours_a_week_are_told_without_a_first_week_of_which_little_is_left():
    found = forecast({"cut": 2400}, [worker("cut", minutes=[0.0, 600.0])])

    assert found.late.weekly == 600


def test_minutes_below_nothing_are_refused():
    with pytest.raises(ValueError, match="cannot be below 0"):
        forecast({"cut": -1}, [worker("cut")])
