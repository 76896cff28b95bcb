"""What is tried with a forecast: days lost, other hours of people, somebody more; nothing of it is stored."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from copy import copy
from dataclasses import dataclass, field
from datetime import date, timedelta
from decimal import Decimal

from housing.core.availability import WORKING_DAYS, minutes_in_week
from housing.core.forecast import Worker
from housing.core.steps import skills_with
from housing.core.weeks import DAYS_A_WEEK, monday_of
from housing.models import Person
from housing.queries.availability import weekly_minutes

LOOKED_AHEAD = 104  # weeks in which days away count; beyond them every week is like the last of these


@dataclass(frozen=True)
class Changes:
    """What is tried. days_lost: working days on which nobody works, from lost_from on. hours: a week, by
    person, until hours_until. more_hours: of somebody who comes, more_from to more_until. Days that are not
    named, and those that are past, stand for today or for good."""

    days_lost: int = 0
    lost_from: date | None = None
    hours: Mapping[int, Decimal] = field(default_factory=dict)
    hours_until: date | None = None
    more_hours: Decimal = Decimal()
    more_skills: frozenset[str] = frozenset()
    more_from: date | None = None
    more_until: date | None = None

    @property
    def is_any(self) -> bool:
        return bool(self.days_lost or self.hours or self.more_hours)

    def closed(self, today: date) -> list[tuple[date, date]]:
        """The span of the days lost, weekends in it not counted; none where no day is."""
        if not self.days_lost:
            return []
        first = max(self.lost_from or today, today)
        return [(first, working_days_on(first - timedelta(days=1), self.days_lost))]


def workers_of(people: Sequence[Person], today: date, changes: Changes) -> list[Worker]:
    """People with the minutes of each week to come; this week only what is left of it."""
    monday, closed = monday_of(today), changes.closed(today)
    weeks = _weeks(people, today, changes)
    workers = [Worker(skills_with(person.skill_set), _told_once(weeks[person.pk])) for person in people]
    if changes.more_hours:
        hers = [
            minutes_in_week(
                float(changes.more_hours),
                monday + timedelta(days=DAYS_A_WEEK * week),
                closed,
                max(changes.more_from or today, today),
                changes.more_until,
            )
            for week in range(LOOKED_AHEAD)
        ]
        workers.append(Worker(skills_with(changes.more_skills), _told_once(hers)))
    return workers


def _weeks(people: Sequence[Person], today: date, changes: Changes) -> dict[int, list[float]]:
    """Minutes of people by week, with other hours as long as they last; the same two questions for all."""
    monday, closed, until = monday_of(today), changes.closed(today), changes.hours_until
    other = [copy(person) for person in people if person.pk in changes.hours]
    for person in other:
        person.hours_per_week = changes.hours[person.pk]
        person.ends_on = min((day for day in (person.ends_on, until) if day), default=None)
    after = [copy(person) for person in people if until or person.pk not in changes.hours]
    for person in after:
        if until and person.pk in changes.hours:
            begins = until + timedelta(days=1)
            person.starts_on = max(begins, person.starts_on or begins)
    found: defaultdict[int, list[float]] = defaultdict(lambda: [0.0] * LOOKED_AHEAD)
    for some in (other, after):
        minutes = weekly_minutes(some, monday, LOOKED_AHEAD, since=today, closed=closed)
        for pk, weeks in minutes.items():
            found[pk] = [one + more for one, more in zip(found[pk], weeks, strict=True)]
    return found


def _told_once(weeks: list[float]) -> list[float]:
    """Weeks without those at the end that are like the one before."""
    while len(weeks) > 2 and weeks[-1] == weeks[-2]:
        weeks = weeks[:-1]
    return weeks


def working_days_on(day: date, days: int) -> date:
    """The day that lies so many days of Monday to Friday after another."""
    while days > 0:
        day += timedelta(days=1)
        days -= day.weekday() < WORKING_DAYS
    return day
