"""Spans of days in words, and working days beside a published rule for them."""

from datetime import date, timedelta

import numpy as np
import pytest
from dateutil.rrule import DAILY, FR, MO, TH, TU, WE, rrule
from hypothesis import given
from hypothesis import strategies as st

from housing.core.day_words import days_in_words, week_in_words, working_days
from tests.examples import few

days = st.dates(date(2020, 1, 1), date(2035, 1, 1))


@pytest.mark.parametrize(
    ("first", "last", "words"),
    [
        (date(2026, 12, 2), date(2026, 12, 2), "2 Dec 2026"),
        (date(2026, 12, 2), date(2026, 12, 4), "2 to 4 Dec 2026"),
        (date(2026, 11, 30), date(2026, 12, 4), "30 Nov to 4 Dec 2026"),
        (date(2026, 12, 28), date(2027, 1, 1), "28 Dec 2026 to 1 Jan 2027"),
    ],
)
def test_a_span_names_months_and_years_where_they_differ(first, last, words):
    assert days_in_words(first, last) == words


def test_heads_of_narrow_columns_name_no_year():
    assert days_in_words(date(2026, 12, 2), date(2026, 12, 4), with_year=False) == "2 to 4 Dec"
    assert days_in_words(date(2026, 12, 28), date(2027, 1, 1), with_year=False) == "28 Dec to 1 Jan"


def test_a_span_that_ends_before_it_begins_is_refused():
    with pytest.raises(ValueError, match="lies before the first"):
        days_in_words(date(2026, 12, 4), date(2026, 12, 2))


@few(60)
@given(days, st.integers(0, 60))
def test_working_days_are_those_of_other_calendars(first, more):
    last = first + timedelta(days=more)

    ours = working_days(first, last)

    by_rule = rrule(DAILY, byweekday=(MO, TU, WE, TH, FR), dtstart=first, until=last)  # RFC 5545, by dateutil
    assert ours == len(list(by_rule)) == np.busday_count(first, last + timedelta(days=1))


def test_no_days_are_none():
    assert working_days(date(2026, 12, 4), date(2026, 12, 2)) == 0


@few(40)
@given(days, st.integers(1, 200))
def test_a_week_is_named_with_the_days_of_its_iso_week(work_from, week):
    year, number, _ = (work_from + timedelta(weeks=week - 1)).isocalendar()  # ISO 8601
    monday, friday = (date.fromisocalendar(year, number, day) for day in (1, 5))

    assert week_in_words(work_from, week) == f"Week {week}, {days_in_words(monday, friday)}"


def test_a_week_without_a_date_has_its_number_only():
    assert week_in_words(None, 3) == "Week 3"
