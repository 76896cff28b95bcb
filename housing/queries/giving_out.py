"""How work is given out: from which day, to whom, and how good the way is in which it stands."""

from collections.abc import Iterable
from datetime import date, timedelta

from django.db.models import QuerySet
from django.utils import timezone

from housing.core.assignment import Schedule, Worker, standing
from housing.core.steps import skills_with
from housing.core.weeks import DAYS_A_WEEK, monday_of
from housing.models import Absence, Campaign, Person, Task
from housing.queries.availability import weekly_minutes
from housing.queries.open_work import OpenWork, key_of, stored_tasks

State = Task.State
SATURDAY = 5
MOST_WEEKS = 520  # of days away that are looked at: ten years


def first_day_of_work(campaign: Campaign, today: date) -> date:
    """The day from which work is given out: today or the campaign's first day; not on a weekend."""
    day = max(campaign.starts_on or today, today)
    return monday_of(day) + timedelta(days=DAYS_A_WEEK) if day.weekday() >= SATURDAY else day


def taking_part(campaign: Campaign) -> QuerySet[Person]:
    """The people to whom the work of a campaign is given."""
    return campaign.people.filter(is_active=True)


def workers_of(people: Iterable[Person], since: date) -> list[Worker]:
    """People with the minutes they have by week from the Monday of a day on.

    Of the first week only what is left from that day on. The last week is one that all later ones are like.
    """
    people = list(people)
    monday = monday_of(since)
    ends = Absence.objects.filter(person__in=people, last_day__gte=since).values_list("last_day", flat=True)
    days = [*ends, *(day for one in people for day in (one.starts_on, one.ends_on) if day)]
    weeks = (max([since, *days]) - monday).days // DAYS_A_WEEK + 2
    minutes = weekly_minutes(people, monday, min(weeks, MOST_WEEKS), since=since)
    return [
        Worker(
            key=str(person.pk),
            minutes_per_week=float(person.hours_per_week) * 60,
            skills=skills_with(person.skill_set),
            may_handle_hazards=person.handles_hazards,
            minutes_by_week=minutes[person.pk],
            training=person.training,
            name=person.name,
        )
        for person in people
    ]


def last_schedule(campaign: Campaign, today: date | None = None) -> Schedule:
    """How the open work stands as it was given out, beside the week that no way could do better than.

    Weeks are counted from Campaign.work_from, hours from the day work would be given out again.
    """
    today = today or timezone.localdate()
    since = campaign.work_from or first_day_of_work(campaign, today)
    tasks = [
        task for of_box in stored_tasks(campaign).values() for task in of_box if task.state != State.DONE
    ]
    work = OpenWork(campaign, tasks)
    given = {
        key_of(task): (str(task.person) if task.person else None, max(task.week, 1)) for task in work.tasks
    }
    return standing(work.work, workers_of(taking_part(campaign), since), given)
