"""Working minutes of people by week, with their days away and their first and last day."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import date, timedelta

from housing.core.availability import minutes_in_week
from housing.core.weeks import DAYS_A_WEEK
from housing.models import Absence, Person


def weekly_minutes(
    people: Iterable[Person],
    monday: date,
    weeks: int,
    *,
    since: date | None = None,
    closed: Sequence[tuple[date, date]] = (),
) -> dict[int, list[float]]:
    """By person, by key, the minutes of so many weeks from a Monday on; one question, however many people.

    since: days before it do not count, where only what is left of a week matters. closed: spans of days on
    which nobody works.
    """
    people = list(people)
    mondays = [monday + timedelta(days=DAYS_A_WEEK * week) for week in range(weeks)]
    away: defaultdict[int, list[tuple[date, date]]] = defaultdict(list)
    end = monday + timedelta(days=DAYS_A_WEEK * weeks)
    absences = Absence.objects.filter(person__in=people, last_day__gte=monday, first_day__lt=end)
    for person, first, last in absences.values_list("person", "first_day", "last_day"):
        away[person].append((first, last))
    return {
        person.pk: [
            minutes_in_week(
                float(person.hours_per_week),
                one,
                [*away[person.pk], *closed],
                _later(person.starts_on, since),
                person.ends_on,
            )
            for one in mondays
        ]
        for person in people
    }


def _later(first: date | None, second: date | None) -> date | None:
    return max((day for day in (first, second) if day), default=None)
