"""Spans of days in words, as lists and pictures name them."""

from datetime import date, timedelta

from housing.core.weeks import DAYS_A_WEEK, first_day

WORKING_DAYS = 5  # Monday to Friday; common practice, no source


def days_in_words(first: date, last: date, with_year: bool = True) -> str:
    """A span of days with both its ends: "2 to 4 Dec 2026", "30 Nov to 4 Dec 2026", one day "2 Dec 2026".

    with_year: whether the year is named, both where they differ; without, as heads of narrow columns need it.
    Raises ValueError when the last day lies before the first.
    """
    if last < first:
        raise ValueError(f"The last day, {last}, lies before the first, {first}.")
    end = f"{last.day} {last:%b}" + (f" {last.year}" if with_year else "")
    if first == last:
        return end
    if with_year and first.year != last.year:
        return f"{first.day} {first:%b} {first.year} to {end}"
    return f"{first.day}{'' if first.month == last.month else f' {first:%b}'} to {end}"


def working_days(first: date, last: date) -> int:
    """How many days from Monday to Friday a span has, both ends in it; 0 where it ends before it begins."""
    whole, rest = divmod(max((last - first).days + 1, 0), DAYS_A_WEEK)
    start = first.weekday()
    return whole * WORKING_DAYS + sum((start + day) % DAYS_A_WEEK < WORKING_DAYS for day in range(rest))


def week_in_words(work_from: date | None, week: int, with_year: bool = True) -> str:
    """A week of the work with its days from Monday to Friday: "Week 3, 14 to 18 Dec 2026".

    work_from: a day of week 1; without it only the number is known.
    """
    if work_from is None:
        return f"Week {week}"
    monday = first_day(work_from, week)
    friday = monday + timedelta(days=WORKING_DAYS - 1)
    return f"Week {week}, {days_in_words(monday, friday, with_year)}"
