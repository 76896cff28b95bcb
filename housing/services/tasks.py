"""Tasks: made for every housing of a plan, given to people, begun and finished."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import batched
from typing import Any

from django.db import transaction
from django.db.models import QuerySet
from django.utils import timezone

from housing.core.assignment import Work, Worker, assign
from housing.core.priority import HUNDREDTHS
from housing.core.steps import SKILL_OF_STEP, STEPS, skills_with, waits_for
from housing.models import Campaign, HousedObject, Housing, Person, Task
from housing.queries.box_facts import boxes_to_measure, facts_of_campaign
from housing.queries.budgets import terms_of
from housing.queries.priority import scores_in
from housing.services.housings import NEXT, move_housing
from housing.services.minutes import minutes_of
from objects.core.refusals import Refusal
from objects.models import CatalogueObject

Step, State = Task.Step, Task.State
OPEN = [Housing.Status.WAITING, Housing.Status.PLANNED, Housing.Status.IN_WORK, Housing.Status.MADE]

# Names of fields with what is to be written into them.
type Values = tuple[tuple[str, Any], ...]
# By step the minutes of a housing, by the standard times alone and as planned.
type Minutes = Mapping[str, tuple[Decimal, Decimal]]

# Where a housing stands once the last of some steps is done.
REACHED = {
    Housing.Status.IN_WORK: (Step.CUT,),
    Housing.Status.MADE: (Step.FETCH, Step.CUT, Step.SCORE, Step.GLUE, Step.LID),
    Housing.Status.HOUSED: (Step.RETURN,),
}


class TaskRefused(Refusal):
    """A task cannot be begun or finished; the message is a sentence for the reader."""


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
    for task, given in zip(of_work, assign(work, workers), strict=True):
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


@transaction.atomic
def start_task(*, task: Task, person: Person | None = None) -> Task:
    """Begin a task; a second click changes nothing, and one somebody else has begun is refused."""
    task = Task.objects.select_for_update().get(pk=task.pk)
    if task.state == State.DONE:
        raise TaskRefused(f"“{task}” is done already.")
    if task.state == State.STARTED:
        if person and task.person_id and task.person_id != person.pk:
            raise TaskRefused(f"{task.person} has begun “{task}” already. Choose another task.")
        return task
    task.state, task.started_at = State.STARTED, timezone.now()
    task.person = person or task.person
    task.save(update_fields=["state", "started_at", "person"])
    return task


@transaction.atomic
def finish_task(*, task: Task, minutes: Decimal | None = None, person: Person | None = None, by=None) -> Task:
    """Finish a task with the minutes it took, and take its box on; a second click changes nothing."""
    # The housing first, as moving it does, so that the two never wait for each other.
    housing = Housing.objects.select_for_update(of=("self",)).get(tasks=task.pk)
    task = Task.objects.select_for_update().get(pk=task.pk)
    if task.state == State.DONE:
        return task
    if minutes is not None and not 0 <= minutes <= 24 * 60:
        raise TaskRefused(f"{minutes} minutes cannot be right. Enter 0 to 1440, or leave it blank.")
    _refuse_too_early(task)
    now = timezone.now()
    task.state, task.done_at = State.DONE, now
    task.started_at = task.started_at or now
    task.spent_minutes = minutes
    task.person = task.person or person
    task.save(update_fields=["state", "done_at", "started_at", "spent_minutes", "person"])
    open_steps = set(housing.tasks.exclude(state=State.DONE).values_list("step", flat=True))
    for reached, steps in REACHED.items():
        if task.step in steps and open_steps.isdisjoint(steps) and reached in NEXT[housing.status]:
            move_housing(housing=housing, status=reached, by=by, note=f"{task.get_step_display()}: done")
            break
    return task


def _refuse_too_early(task: Task) -> None:
    """A step is done after those before it; measuring is done when the sizes are entered."""
    others = {other.step: other for other in Task.objects.filter(housing=task.housing_id)}
    before = [others[step] for step in waits_for(task.step, others)]
    if first := next((other for other in before if other.state != State.DONE), None):
        raise TaskRefused(
            f"“{task}” comes after “{first.get_step_display()}”, which is not done yet. Finish that first."
        )
    unmeasured = CatalogueObject.objects.filter(housing_ties__housing=task.housing_id).exclude(
        size_state=CatalogueObject.SizeState.KNOWN
    )
    if task.step == Step.MEASURE and (thing := unmeasured.first()):
        raise TaskRefused(
            f"{thing.number} has no full size yet. Enter height, width and depth on its page first."
        )
