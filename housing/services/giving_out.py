"""Giving out the work: tasks for every housing of a plan, who does each, and in which week."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from decimal import Decimal
from itertools import batched

from django.db import transaction
from django.utils import timezone

from housing.core.assignment import Assigned, assign
from housing.core.budget.facts import BoxFacts
from housing.core.steps import OF_SHEETS, STEPS
from housing.core.weeks import monday_of
from housing.models import Campaign, Housing, PlannedSheet, Task
from housing.queries.box_facts import boxes_to_measure, facts_of_campaign
from housing.queries.budgets import terms_of
from housing.queries.giving_out import first_day_of_work, taking_part, workers_of
from housing.queries.open_work import OPEN, OpenTask, OpenWork, SheetsOfBoxes, stored_tasks
from housing.services.minutes import minutes_of
from objects.core.words import noted

Step, State = Task.Step, Task.State
LONGEST_REASON = 300
BY_HAND = "Given "  # by hand, and to nobody by hand: what such reasons, kept in English, begin with
# What giving out may change of a stored task.
CHANGED = ["standard_minutes", "planned_minutes", "person", "week", "reason", "sheet", "is_fixed"]

# By step the minutes of a housing, by the standard times alone and as planned.
type Minutes = Mapping[str, tuple[Decimal, Decimal]]


@transaction.atomic
def assign_tasks(*, campaign: Campaign, today: date | None = None) -> list[Task]:
    """Make the tasks of every open housing and give them out; what somebody has begun or was given by hand
    stays with them.

    Weeks are counted from the Monday of the day from which there is work. Of stored tasks and sheets only
    those are written that change. Returns the new tasks.
    """
    facts = facts_of_campaign(campaign)
    tasks = stored_tasks(campaign, lock=True)
    _bring_up_to_date(tasks, _minutes(campaign, facts))
    still_open = [task for _, of_box in sorted(tasks.items()) for task in of_box if task.state != State.DONE]
    work = OpenWork(campaign, still_open, facts)
    since = first_day_of_work(campaign, today or timezone.localdate())
    given = assign(work.work, workers_of(taking_part(campaign), since)).assigned
    for task, answer in zip(work.tasks, given, strict=True):
        _take_over(task, answer, work.sheets)
    _store(task for task in work.tasks if task.pk and task.is_changed)
    _store_sheets(campaign, work)
    _count_weeks_from(campaign, monday_of(since))
    return Task.objects.bulk_create((_stored(task) for task in work.tasks if not task.pk), batch_size=500)


def _minutes(campaign: Campaign, facts: list[BoxFacts]) -> Iterator[tuple[int, Minutes]]:
    """Housings with the steps to be done and the minutes of each, standard and planned.

    All boxes of the campaign are looked at, since how long one takes depends on those made before it.
    """
    terms = terms_of(campaign)
    made = minutes_of(campaign, terms, facts).steps()
    measured = minutes_of(campaign, terms, boxes_to_measure(campaign)).steps()
    housings = Housing.objects.filter(campaign=campaign, status__in=OPEN)
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
    tasks: defaultdict[int, list[OpenTask]], minutes: Iterable[tuple[int, Minutes]]
) -> None:
    """Give housings the tasks they need; what somebody has begun stays. Deletes those needed no longer."""
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
                    task.is_changed = True
                stays.append(task)
        has = {task.step for task in stays}
        stays += [OpenTask(0, housing, step, *both) for step, both in wanted.items() if step not in has]
        tasks[housing] = sorted(stays, key=lambda task: STEPS.index(task.step))
    for some in batched(stale, 1000):
        Task.objects.filter(pk__in=some).delete()


def _take_over(task: OpenTask, answer: Assigned, sheets: SheetsOfBoxes) -> None:
    """Write what was answered into a task; one that was begun keeps its person and its reason."""
    person = int(answer.worker_key) if answer.worker_key else None
    was = task.person, task.week, task.reason, task.sheet, task.is_fixed
    task.week, task.sheet = answer.week, sheets.first(task.housing)
    if task.state == State.TO_DO:
        by_hand = ""
        if task.is_fixed:
            by_hand = (
                task.reason.partition(";")[0] if task.reason.startswith(BY_HAND) else noted("Given by hand")
            )
            # whoever had it is gone
            task.is_fixed = task.person is not None or not person
        task.reason = _reason(by_hand if task.is_fixed else "", answer.reason)
        task.person = person
    if was != (task.person, task.week, task.reason, task.sheet, task.is_fixed):
        task.is_changed = True


def _reason(by_hand: str, reason: str) -> str:
    """Who gave a task by hand, and then why in this week; or all that the planner says."""
    if by_hand:
        _, found, why = reason.partition("; ")
        reason = f"{by_hand}; {why}" if found else f"{by_hand.removesuffix('.')}."
    return reason[:LONGEST_REASON]


def _stored(task: OpenTask) -> Task:
    return Task(
        pk=task.pk or None,
        housing_id=task.housing,
        step=task.step,
        sequence=STEPS.index(task.step) + 1,
        standard_minutes=task.standard,
        planned_minutes=task.minutes,
        person_id=task.person,
        week=task.week,
        reason=task.reason,
        sheet_id=task.sheet,
        is_fixed=task.is_fixed,
    )


def _store(tasks: Iterable[OpenTask]) -> None:
    """Write changed tasks, which are locked and so there: many at a time, as new rows would be."""
    Task.objects.bulk_create(
        [_stored(task) for task in tasks],
        batch_size=500,
        update_conflicts=True,
        unique_fields=["id"],
        update_fields=CHANGED,
    )


def _store_sheets(campaign: Campaign, work: OpenWork) -> None:
    """Say of each uncut sheet who cuts it in which week, as its tasks say.

    Where it has none, because its boxes are fetched with their first sheets: as most of these, and in the
    first of their weeks.
    """
    own: defaultdict[int, list[OpenTask]] = defaultdict(list)
    others: defaultdict[int, list[OpenTask]] = defaultdict(list)
    for task in work.tasks:
        if task.step in OF_SHEETS:
            for place, sheet in enumerate(work.sheets.of_box.get(task.housing, ())):
                (others if place else own)[sheet].append(task)
    moved: defaultdict[tuple[int | None, int], list[int]] = defaultdict(list)
    sheets = PlannedSheet.objects.filter(plan__campaign=campaign, cut_at=None)
    for pk, person, week in sheets.order_by("position").values_list("pk", "person", "week"):
        of_sheet = own.get(pk) or others.get(pk)
        if of_sheet:
            (who, _), *_ = Counter(task.person for task in of_sheet).most_common(1)
            when = min(task.week for task in of_sheet)
            if (person, week) != (who, when):
                moved[who, when].append(pk)
    for (who, when), pks in moved.items():
        for some in batched(pks, 1000):
            PlannedSheet.objects.filter(pk__in=some).update(person=who, week=when)


def _count_weeks_from(campaign: Campaign, monday: date) -> None:
    if campaign.work_from != monday:
        campaign.work_from = monday
        Campaign.objects.filter(pk=campaign.pk).update(work_from=monday)
