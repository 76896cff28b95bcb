"""Giving out the work: tasks for every housing of a plan, who does each, and in which week."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import batched
from typing import Any

from django.db.models import QuerySet

from housing.core.assignment import Work, Worker, assign
from housing.core.priority import HUNDREDTHS
from housing.core.steps import SKILL_OF_STEP, STEPS, skills_with, waits_for
from housing.models import Campaign, HousedObject, Housing, Task
from housing.queries.box_facts import boxes_to_measure, facts_of_campaign
from housing.queries.budgets import terms_of
from housing.queries.priority import scores_in
from housing.services.minutes import minutes_of

Step, State = Task.Step, Task.State
OPEN = [Housing.Status.WAITING, Housing.Status.PLANNED, Housing.Status.IN_WORK, Housing.Status.MADE]

# Names of fields with what is to be written into them.
type Values = tuple[tuple[str, Any], ...]
# By step the minutes of a housing, by the standard times alone and as planned.
type Minutes = Mapping[str, tuple[Decimal, Decimal]]


@dataclass(slots=True)
class _Planned:
    """A task as it is stored, or one to be made, whose key is 0 as yet; minutes by the standard times and as
    planned."""

    pk: int
    housing: int
    step: str
    standard: Decimal | None
    minutes: Decimal
    state: str = State.TO_DO
    person: int | None = None
    week: int = 0
    reason: str = ""


@dataclass(frozen=True)
class _Contents:
    """What of a housing's objects matters to whoever works on it."""

    priority: str
    location: str
    is_hazardous: bool
    score: float


def assign_tasks(*, campaign: Campaign) -> list[Task]:
    """Make the tasks of every open housing and give them out; what somebody has begun stays with them.

    Of stored tasks only those are written that change. Returns the new ones.
    """
    open_housings = Housing.objects.filter(campaign=campaign, status__in=OPEN)
    tasks = _stored(open_housings)
    changed = _bring_up_to_date(tasks, _minutes(campaign, open_housings))
    given = [task for _, of_housing in sorted(tasks.items()) for task in of_housing]
    given.sort(key=lambda task: task.state == State.TO_DO)
    moved = _give_out(campaign, given, _contents(open_housings, scores_in(campaign)))
    for values, pks in (changed | moved).items():
        for some in batched(pks, 1000):
            Task.objects.filter(pk__in=some).update(**dict(values))
    return Task.objects.bulk_create(
        (
            Task(
                housing_id=task.housing,
                step=task.step,
                sequence=STEPS.index(task.step) + 1,
                standard_minutes=task.standard,
                planned_minutes=task.minutes,
                person_id=task.person,
                week=task.week,
                reason=task.reason,
            )
            for task in given
            if not task.pk
        ),
        batch_size=500,
    )


def _stored(housings: QuerySet[Housing]) -> defaultdict[int, list[_Planned]]:
    """The tasks that some housings have, in the order of their steps."""
    tasks: defaultdict[int, list[_Planned]] = defaultdict(list)
    rows = Task.objects.filter(housing__in=housings).order_by("housing", "sequence")
    for row in rows.values_list(
        "pk", "housing", "step", "standard_minutes", "planned_minutes", "state", "person", "week", "reason"
    ):
        task = _Planned(*row)
        tasks[task.housing].append(task)
    return tasks


def _minutes(campaign: Campaign, housings: QuerySet[Housing]) -> Iterator[tuple[int, Minutes]]:
    """Housings with the steps to be done and the minutes of each, standard and planned.

    All boxes of the campaign are looked at, since how long one takes depends on those made before it.
    """
    terms = terms_of(campaign)
    made = minutes_of(campaign, terms, facts_of_campaign(campaign)).steps()
    measured = minutes_of(campaign, terms, boxes_to_measure(campaign)).steps()
    for housing in housings.values_list("pk", flat=True):
        key = str(housing)
        only = {Step.MEASURE: measured[key][Step.MEASURE]} if key in measured else {}
        yield (
            housing,
            {
                Step(step): (round(Decimal(standard), 2), round(Decimal(planned), 2))
                for step, (standard, planned) in made.get(key, only).items()
            },
        )


def _bring_up_to_date(
    tasks: defaultdict[int, list[_Planned]], minutes: Iterable[tuple[int, Minutes]]
) -> dict[Values, list[int]]:
    """Give housings the tasks they need; what somebody has begun stays. Deletes those needed no longer.

    Returns what is to be stored, each with the tasks.
    """
    changed: defaultdict[Values, list[int]] = defaultdict(list)
    stale: list[int] = []
    for housing, wanted in minutes:
        stays = []
        for task in tasks[housing]:
            if task.state != State.TO_DO:
                stays.append(task)
            elif task.step not in wanted:
                stale.append(task.pk)
            else:
                if (task.standard, task.minutes) != wanted[task.step]:
                    task.standard, task.minutes = wanted[task.step]
                    values = ("standard_minutes", task.standard), ("planned_minutes", task.minutes)
                    changed[values].append(task.pk)
                stays.append(task)
        has = {task.step for task in stays}
        stays += [_Planned(0, housing, step, *both) for step, both in wanted.items() if step not in has]
        tasks[housing] = sorted(stays, key=lambda task: STEPS.index(task.step))
    for some in batched(stale, 1000):
        Task.objects.filter(pk__in=some).delete()
    return changed


def _contents(housings: QuerySet[Housing], scores: Mapping[int, int]) -> dict[int, _Contents]:
    """What of the objects of some housings matters: the first one's place, the most urgent one's priority.

    scores: of objects, in hundredths.
    """
    contents: dict[int, _Contents] = {}
    ties = HousedObject.objects.filter(housing__in=housings).order_by("housing", "position")
    for housing, thing, priority, hazards, path in ties.values_list(
        "housing", "object", "object__priority", "object__hazards", "object__location__path"
    ):
        first = contents.get(housing)
        contents[housing] = _Contents(
            min(priority, first.priority) if first else priority,
            first.location if first else path or "",
            bool(hazards) or bool(first and first.is_hazardous),
            max(scores.get(thing, 0) / HUNDREDTHS, first.score if first else 0.0),
        )
    return contents


def _give_out(
    campaign: Campaign, tasks: Iterable[_Planned], contents: Mapping[int, _Contents]
) -> dict[Values, list[int]]:
    """Say who does what in which week. Returns what is to be stored, each with the tasks."""
    workers = [
        Worker(
            key=str(person.pk),
            minutes_per_week=float(person.hours_per_week) * 60,
            skills=skills_with(person.skill_set),
            may_handle_hazards=person.handles_hazards,
        )
        for person in campaign.people.filter(is_active=True)
    ]
    work, of_work = [], []
    there: defaultdict[int, list[str]] = defaultdict(list)
    for task in tasks:
        if task.state != State.DONE:
            work.append(_work(task, contents[task.housing], there[task.housing]))
            of_work.append(task)
            there[task.housing].append(task.step)
    moved: defaultdict[Values, list[int]] = defaultdict(list)
    for task, given in zip(of_work, assign(work, workers).assigned, strict=True):
        if task.state != State.TO_DO:
            if task.week != given.week:
                moved[(("week", given.week),)].append(task.pk)
            continue
        person = int(given.worker_key) if given.worker_key else None
        if (task.person, task.week, task.reason) != (person, given.week, given.reason):
            task.person, task.week, task.reason = person, given.week, given.reason
            if task.pk:
                values = ("person", person), ("week", given.week), ("reason", given.reason)
                moved[values].append(task.pk)
    return moved


def _work(task: _Planned, contents: _Contents, there: Sequence[str]) -> Work:
    return Work(
        key=f"{task.housing}:{task.step}",
        skill=SKILL_OF_STEP[task.step],
        minutes=float(task.minutes),
        priority=contents.priority,
        location=contents.location,
        is_hazardous=contents.is_hazardous,
        after=tuple(f"{task.housing}:{step}" for step in waits_for(task.step, there)),
        kept_with=str(task.person) if task.state == State.STARTED and task.person else None,
        score=contents.score,
    )
