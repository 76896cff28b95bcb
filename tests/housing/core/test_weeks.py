"""Weeks of the work beside the calendar of the standard library."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housing.core.weeks import first_day, monday_of, week_number

days = st.dates(date(2000, 1, 1), date(2100, 1, 1))


@given(days)
def test_a_week_begins_on_its_monday(day):
    year, week, _ = day.isocalendar()  # ISO 8601

    assert monday_of(day) == date.fromisocalendar(year, week, 1)


@given(days, st.integers(0, 3000))
def test_the_week_of_a_day_begins_at_most_six_days_before_it(begun, later):
    day = begun + timedelta(days=later)

    number = week_number(begun, day)

    assert 0 <= (day - first_day(begun, number)).days < 7


@pytest.mark.parametrize(
    ("day", "number"),
    [(date(2027, 3, 3), 1), (date(2027, 3, 7), 1), (date(2027, 3, 8), 2), (date(2027, 2, 1), 1)],
)
def test_weeks_are_counted_from_the_one_in_which_work_was_given_out(day, number):
    assert week_number(date(2027, 3, 3), day) == number  # a Wednesday
