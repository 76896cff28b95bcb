"""Minutes in a week beside worked examples and a count day by day."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housing.core.availability import minutes_in_week
from tests.examples import few

MONDAY = date(2026, 12, 7)
days = st.integers(-10, 16).map(lambda later: MONDAY + timedelta(days=later))
spans = st.lists(st.tuples(days, days).map(lambda pair: tuple(sorted(pair))), max_size=4)


# 20 hours over five days are 4 hours, 240 minutes, a day; Monday to Friday alike: common practice, no source.
@pytest.mark.parametrize(
    ("given", "minutes"),
    [
        ({}, 1200),
        ({"away": [(date(2026, 12, 9), date(2026, 12, 9))]}, 960),  # a Wednesday
        ({"away": [(date(2026, 12, 12), date(2026, 12, 13))]}, 1200),  # a weekend
        ({"away": [(date(2026, 12, 1), date(2026, 12, 8))]}, 720),  # until the Tuesday
        ({"away": [(date(2026, 12, 8), date(2026, 12, 9)), (date(2026, 12, 9), date(2026, 12, 10))]}, 480),
        ({"starts_on": date(2026, 12, 10)}, 480),  # Thursday and Friday
        ({"ends_on": date(2026, 12, 7)}, 240),  # the Monday itself
        ({"starts_on": date(2026, 12, 14)}, 0),
        ({"ends_on": date(2026, 12, 6)}, 0),
    ],
)
def test_minutes_are_those_of_the_days_worked(given, minutes):
    assert minutes_in_week(20, MONDAY, **given) == minutes


@few(60)
@given(spans, st.none() | days, st.none() | days)
def test_minutes_are_a_count_of_the_days_that_are_free(away, starts_on, ends_on):
    gone = {first + timedelta(days=day) for first, last in away for day in range((last - first).days + 1)}
    week = {date.fromisocalendar(2026, 50, day) for day in range(1, 6)}  # ISO 8601: week 50 begins 7 December
    free = {day for day in week - gone if (starts_on or day) <= day <= (ends_on or day)}

    assert minutes_in_week(10, MONDAY, away, starts_on, ends_on) == len(free) * 120
