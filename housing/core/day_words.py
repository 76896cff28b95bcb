"""Spans of days in words, as lists and pictures name them."""

from datetime import date, timedelta

from housing.core.weeks import DAYS_A_WEEK, first_day
from objects.core.words import noted, say

WORKING_DAYS = 5  # Monday to Friday; common practice, no source
MONTHS = (
    noted("Jan"), noted("Feb"), noted("Mar"), noted("Apr"), noted("May"), noted("Jun"),
    noted("Jul"), noted("Aug"), noted("Sep"), noted("Oct"), noted("Nov"), noted("Dec"),
)  # fmt: skip


def day_in_words(day: date, with_year: bool = True) -> str:
    """One day: "2 Dec 2026", without its year "2 Dec"."""
    month = say(MONTHS[day.month - 1])
    return f"{day.day} {month} {day.year}" if with_year else f"{day.day} {month}"


def days_in_words(first: date, last: date, with_year: bool = True) -> str:
    """A span of days with both its ends: "2 to 4 Dec 2026", "30 Nov to 4 Dec 2026", one day "2 Dec 2026".

    with_year: whether the year is named, both where they differ; without, as heads of narrow columns need it.
    Raises ValueError when the last day lies before the first.
    """
    if last < first:
        raise ValueError(f"The last day, {last}, lies before the first, {first}.")
    end = day_in_words(last, with_year)
    if first == last:
        return end
    if with_year and first.year != last.year:
        begin = day_in_words(first)
    elif first.month == last.month:
        begin = str(first.day)
    else:
        begin = day_in_words(first, with_year=False)
    return say("{first} to {last}", first=begin, last=end)


def working_days(first: date, last: date) -> int:
    """How many days from Monday to Friday a span has, both ends in it; 0 where it ends before it begins."""
    whole, rest = divmod(max((last - first).days + 1, 0), DAYS_A_WEEK)
    start = first.weekday()
    return whole * WORKING_DAYS + sum((start + day) % DAYS_A_WEEK < WORKING_DAYS for day in range(rest))


def week_days(work_from: date | None, week: int, with_year: bool = True) -> str:
    """The days of a week of the work, Monday to Friday: "14 to 18 Dec 2026"; nothing without the start."""
    if work_from is None:
        return ""
    monday = first_day(work_from, week)
    return days_in_words(monday, monday + timedelta(days=WORKING_DAYS - 1), with_year)


def week_in_words(work_from: date | None, week: int, with_year: bool = True) -> str:
    """A week of the work with its days from Monday to Friday: "Week 3, 14 to 18 Dec 2026".

    work_from: a day of week 1; without it only the number is known.
    """
    if work_from is None:
        return say("Week {week}", week=week)
    return say("Week {week}, {days}", week=week, days=week_days(work_from, week, with_year))
