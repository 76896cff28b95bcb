"""What a person finds at the bench: what runs, the next sheet, the boxes on it, and what else is due."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from django.db.models import BooleanField, ExpressionWrapper, Min, Prefetch, Q, QuerySet
from django.utils import timezone

from housing.core.steps import OF_SHEETS
from housing.core.weeks import first_day, week_number
from housing.models import BenchEntry, HousedObject, Housing, Person, PlannedSheet, Task, WorkSpell
from housing.queries.periods import Period
from housing.queries.sheets_due import SheetDue, sheets_due
from housing.queries.waits import TaskDue, may_wait, tasks_due, waits_for_others
from objects.core.words import noted, say

State = Task.State
IN_ORDER = "week", "sheet__position", "housing", "sequence"
SHOWN_BOXES, SHOWN_AWAY = 24, 60  # what is due first; the work list shows all
AWAY_FROM_BENCH = frozenset({"measure", "return"})
NOWHERE = noted("No place known")


@dataclass(frozen=True)
class Running:
    """What the person's clock runs at, since when."""

    what: Task | PlannedSheet
    since: datetime
    minutes: int

    @property
    def is_sheet(self) -> bool:
        return isinstance(self.what, PlannedSheet)


@dataclass(frozen=True)
class BoxDue:
    """A box with the person's steps of it, in working order."""

    housing: Housing
    tasks: tuple[TaskDue, ...]

    @property
    def next(self) -> TaskDue:
        return self.tasks[0]

    @property
    def can_begin(self) -> bool:
        return not self.next.waits


@dataclass(frozen=True)
class BenchDay:
    """A day at the bench. ahead: whether all of this week is done and what is shown is of the weeks to come.

    places: tasks away from the bench that can be begun, by where they are done. waiting: boxes that wait for
    what others have to do, or for an answer. more: how many more boxes are due than are shown.
    """

    person: Person
    today: date
    running: Running | None
    sheets: Sequence[SheetDue]
    boxes: Sequence[BoxDue]
    places: Sequence[tuple[str, Sequence[TaskDue]]]
    waiting: Sequence[BoxDue]
    done: Sequence[BenchEntry] = ()
    minutes_done: Decimal = Decimal()
    ahead: bool = False
    more: int = 0

    @property
    def is_empty(self) -> bool:
        return not (self.sheets or self.boxes or self.places or self.waiting)


@dataclass(frozen=True)
class _Chosen:
    """Boxes to be shown, by key, in working order. ready: with a step that can be begun at the bench.
    waiting: for others. away: with a step elsewhere. more: how many are left out."""

    ready: Sequence[int]
    waiting: Sequence[int]
    away: Sequence[int]
    more: int


def bench_day(person: Person, today: date) -> BenchDay:
    """What is to be done by a person by the end of the week, in working order; if all is done, what follows.

    Thousands of tasks may be due: which boxes are shown is told from keys alone.
    """
    due, ahead = _due(person, today)
    chosen = _choose(due, person)
    of_box: defaultdict[int, list[Task]] = defaultdict(list)
    for task in _with_boxes(due.filter(housing__in={*chosen.ready, *chosen.waiting, *chosen.away})):
        of_box[task.housing_id].append(task)
    dues = tasks_due(of_box, today)
    boxes, waiting, places = [], [], defaultdict(list)
    for housing, tasks in of_box.items():
        away = [dues[task.pk] for task in tasks if task.step in AWAY_FROM_BENCH]
        if housing in chosen.away:
            places[_place(tasks[0].housing)] += [one for one in away if not one.waits]
        if housing in chosen.ready or housing in chosen.waiting:
            at_bench = [dues[task.pk] for task in tasks if _is_at_bench(task.step, task.sheet_id)]
            box = BoxDue(tasks[0].housing, tuple(at_bench or away))
            (boxes if box.can_begin else waiting).append(box)
    done = _done_on(person, today)
    return BenchDay(
        person=person,
        today=today,
        running=_running(person),
        sheets=sheets_due(person, today, ahead=ahead),
        boxes=boxes,
        places=sorted(places.items()),
        waiting=waiting,
        done=done,
        minutes_done=sum((entry.minutes for entry in done if entry.minutes), Decimal()),
        ahead=ahead,
        more=chosen.more,
    )


def _due(person: Person, today: date) -> tuple[QuerySet[Task], bool]:
    """Tasks of the weeks up to now of every campaign, and those begun; where there are none, those of the
    next week with work. Second, whether they are of weeks to come."""
    tasks = (
        Task.objects.filter(person=person)
        .exclude(state=State.DONE)
        .exclude(housing__status=Housing.Status.DROPPED)
    )
    campaigns = list(
        tasks.order_by()
        .values_list("housing__campaign", "housing__campaign__work_from")
        .annotate(first=Min("week"))
    )
    if not campaigns:
        return tasks.none(), False
    until = {pk: week_number(start, today) if start else 1 for pk, start, _ in campaigns}
    ahead = all(first > until[pk] for pk, _, first in campaigns)
    condition = Q(state=State.STARTED)
    if ahead:
        mondays = {pk: first_day(start or today, first) for pk, start, first in campaigns}
        for pk, _, first in campaigns:
            if mondays[pk] == min(mondays.values()):
                condition |= Q(housing__campaign=pk, week=first)
    else:
        for pk, week in until.items():
            condition |= Q(housing__campaign=pk, week__lte=week)
    return tasks.filter(condition), ahead


def _choose(due: QuerySet[Task], person: Person) -> _Chosen:
    """Which boxes with tasks that are due are shown."""
    rows = due.annotate(
        may_wait=ExpressionWrapper(may_wait(), BooleanField()),
        for_others=ExpressionWrapper(waits_for_others(person), BooleanField()),
    ).order_by(*IN_ORDER)
    next_step: dict[int, tuple[bool, bool]] = {}
    away: dict[int, None] = {}
    away_waits: dict[int, None] = {}
    for housing, step, sheet, waits, for_others in rows.values_list(
        "housing", "step", "sheet", "may_wait", "for_others"
    ):
        if _is_at_bench(step, sheet):
            next_step.setdefault(housing, (waits, for_others))
        elif step in AWAY_FROM_BENCH and not waits:
            away[housing] = None
        elif step in AWAY_FROM_BENCH and for_others:
            away_waits[housing] = None
    ready = [housing for housing, (waits, _) in next_step.items() if not waits]
    waiting = [housing for housing, (waits, for_others) in next_step.items() if waits and for_others]
    waiting += [housing for housing in away_waits if housing not in next_step and housing not in away]
    return _Chosen(
        ready=ready[:SHOWN_BOXES],
        waiting=waiting[:SHOWN_BOXES],
        away=[*away][:SHOWN_AWAY],
        more=max(len(ready) - SHOWN_BOXES, 0)
        + max(len(waiting) - SHOWN_BOXES, 0)
        + max(len(away) - SHOWN_AWAY, 0),
    )


def _is_at_bench(step: str, sheet: int | None) -> bool:
    """Whether a step is done at the bench and box by box; a box that lies on no sheet is cut by itself."""
    return step not in AWAY_FROM_BENCH and (step not in OF_SHEETS or sheet is None)


def _with_boxes(tasks: QuerySet[Task]) -> QuerySet[Task]:
    ties = HousedObject.objects.filter(is_live=True).select_related("object__location")
    boxes = tasks.select_related("housing__campaign", "sheet")
    return boxes.prefetch_related(Prefetch("housing__contents", ties)).order_by(*IN_ORDER)


def _place(housing: Housing) -> str:
    places = [tie.object.location.path for tie in housing.contents.all() if tie.object.location]
    return places[0] if places else say(NOWHERE)


def _running(person: Person) -> Running | None:
    spell = (
        WorkSpell.objects.filter(person=person, ended_at=None)
        .select_related("task__housing", "sheet__plan__campaign")
        .first()
    )
    if spell is None:
        return None
    minutes = max(int((timezone.now() - spell.started_at).total_seconds() // 60), 0)
    return Running(spell.task or spell.sheet, spell.started_at, minutes)


def _done_on(person: Person, day: date) -> list[BenchEntry]:
    """What a person finished on a day and did not take back, the last first."""
    return list(
        BenchEntry.objects.filter(
            Period(day, day).of("at"),
            person=person,
            what__in=[BenchEntry.What.DONE, BenchEntry.What.SHEET_CUT, BenchEntry.What.HOUSED],
            undone_by=None,
        ).select_related("task__housing", "sheet", "housing")
    )
