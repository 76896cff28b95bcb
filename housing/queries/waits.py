"""What work waits for: steps that come before, and questions that are open."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from django.db.models import Exists, OuterRef, Q, QuerySet

from housing.core.steps import GLUE, LID, STEPS, waits_for
from housing.core.weeks import week_number
from housing.models import Campaign, Hold, Person, Task
from objects.core.words import say

State = Task.State
LID_AFTER_GLUE = STEPS.index(LID) - STEPS.index(GLUE)


@dataclass(frozen=True)
class TaskDue:
    """A task. waits: what has to be done before, in words, with who has it; none if it can be begun."""

    task: Task
    week: int
    is_late: bool
    waits: tuple[str, ...] = ()


def tasks_due(of_box: Mapping[int, Sequence[Task]], today: date) -> dict[int, TaskDue]:
    """What each of some tasks waits for, by its key, told from all tasks and questions of its box.

    of_box: the tasks by the key of their box, each with its housing and campaign fetched.
    """
    siblings: defaultdict[int, dict[str, Task]] = defaultdict(dict)
    for task in Task.objects.filter(housing__in=of_box).select_related("person").order_by("sequence"):
        siblings[task.housing_id][task.step] = task
    holds = open_holds(of_box)
    return {
        task.pk: TaskDue(
            task,
            task.week,
            task.week < week_now(task.housing.campaign, today),
            (*holds.get(housing, ()), *waits_of(task, siblings[housing])),
        )
        for housing, tasks in of_box.items()
        for task in tasks
    }


def week_now(campaign: Campaign | None, today: date) -> int:
    """The week of a campaign's work that a day lies in, 1 where it was not given out by weeks."""
    start = campaign.work_from if campaign else None
    return week_number(start, today) if start else 1


def waits_of(task: Task, siblings: Mapping[str, Task]) -> tuple[str, ...]:
    """What has to be done before a task, in words. siblings: the tasks of its box by step."""
    waited = [siblings[step] for step in waits_for(task.step, siblings) if step in siblings]
    return tuple(
        say("{step}, by {person}", step=one.get_step_display().lower(), person=one.person)
        if one.person
        else say("{step}, which nobody has", step=one.get_step_display().lower())
        for one in waited
        if one.state != State.DONE
    )


def open_holds(housings: Iterable[int]) -> dict[int, tuple[str, ...]]:
    """Open questions of boxes in words, by box."""
    found: defaultdict[int, list[str]] = defaultdict(list)
    for hold in Hold.objects.filter(housing__in=list(housings), answered_at=None):
        found[hold.housing_id].append(f"{hold.get_reason_display().lower()}: {hold.question}")
    return {pk: tuple(words) for pk, words in found.items()}


def may_wait() -> Q:
    """The condition that a step before a task is open, or a question about its box; told by the database, so
    that thousands of tasks need not be looked at one by one."""
    return Q(Exists(_open_before())) | Q(Exists(_questions()))


def waits_for_others(person: Person) -> Q:
    """The condition that a step before a task is open that is not a person's own, or a question."""
    return Q(Exists(_open_before().exclude(person=person))) | Q(Exists(_questions()))


def _open_before() -> QuerySet[Task]:
    # lid and base are folded side by side, though one is listed before the other
    beside = Q(step=GLUE, sequence=OuterRef("sequence") - LID_AFTER_GLUE)
    before = Task.objects.filter(housing=OuterRef("housing"), sequence__lt=OuterRef("sequence"))
    return before.exclude(state=State.DONE).exclude(beside)


def _questions() -> QuerySet[Hold]:
    return Hold.objects.filter(housing=OuterRef("housing"), answered_at=None)
