"""Weeks of the work: each begins on a Monday and is counted from the one in which work was given out."""

from datetime import date, timedelta

DAYS_A_WEEK = 7


def monday_of(day: date) -> date:
    """The Monday of the week that a day lies in. Source: ISO 8601, whose weeks begin on Monday."""
    return day - timedelta(days=day.weekday())


def week_number(work_from: date, day: date) -> int:
    """Which week a day lies in, 1 for the week of `work_from`; days before it count as week 1."""
    return max((monday_of(day) - monday_of(work_from)).days // DAYS_A_WEEK, 0) + 1


def first_day(work_from: date, week: int) -> date:
    """The Monday of a week counted from 1."""
    return monday_of(work_from) + timedelta(days=DAYS_A_WEEK * (week - 1))
