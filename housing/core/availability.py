"""How long somebody can work in a week: not on days away, nor before the first day or after the last."""

from collections.abc import Sequence
from datetime import date, timedelta

WORKING_DAYS = 5  # Monday to Friday alike; common practice, no source
MINUTES_PER_HOUR = 60


def minutes_in_week(
    hours_per_week: float,
    monday: date,
    away: Sequence[tuple[date, date]] = (),
    starts_on: date | None = None,
    ends_on: date | None = None,
) -> float:
    """Minutes that a person has in the week of a Monday.

    hours_per_week: shared evenly over Monday to Friday. away: spans of days, both ends in them; they may
    overlap. starts_on, ends_on: first and last day of work, None where there is none.
    Returns minutes, 0 or more.
    """
    days = (monday + timedelta(days=day) for day in range(WORKING_DAYS))
    there = sum(
        (starts_on is None or day >= starts_on)
        and (ends_on is None or day <= ends_on)
        and not any(first <= day <= last for first, last in away)
        for day in days
    )
    return hours_per_week * MINUTES_PER_HOUR * there / WORKING_DAYS
