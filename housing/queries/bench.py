"""What a person finds at the bench: what runs, the next sheet, the boxes on it, and what else is due."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from decimal import Decimal

from django.db.models import Count, Prefetch, Q, QuerySet
from django.utils import timezone

from boards.queries import sheet_sizes_in_stock
from housing.core.steps import OF_SHEETS, STEPS, waits_for
from housing.core.weeks import week_number
from housing.models import BenchEntry, Hold, HousedObject, Housing, Person, PlannedSheet, Task, WorkSpell
from housing.queries.sheets import issued_among

State = Task.State
SHOWN_SHEETS, SHOWN_BOXES = 6, 24  # what is due first; the work list shows all
AWAY_FROM_BENCH = {"measure", "return"}
NOWHERE = "No place known"


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
class SheetDue:
    """A sheet to cut.

    minutes: planned for fetching and cutting what lies on it. in_stock: sheets of its size, None for an
    offcut. is_issued: it lies at the bench already. holds: why it must wait, if it must.
    """

    sheet: PlannedSheet
    boxes: int
    minutes: Decimal
    week: int
    is_late: bool
    is_issued: bool
    in_stock: int | None
    holds: tuple[str, ...] = ()

    @property
    def lacks_board(self) -> bool:
        return self.in_stock == 0 and not self.is_issued


@dataclass(frozen=True)
class TaskDue:
    """A task of the person's. waits: what has to be done before, in words, with who has it; none if it can
    be begun."""

    task: Task
    week: int
    is_late: bool
    waits: tuple[str, ...] = ()


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

    places: tasks away from the bench, by where they are done. waiting: boxes whose next step is somebody
    else's or rests. more: open tasks that are due and not shown.
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


@dataclass
class _Due:
    tasks: list[Task] = field(default_factory=list)
    ahead: bool = False


def bench_day(person: Person, today: date) -> BenchDay:
    """What a person has to do by the end of the week, in working order; once that is done, what follows."""
    due = _due(person, today)
    of_box: defaultdict[int, list[Task]] = defaultdict(list)
    for task in due.tasks:
        of_box[task.housing_id].append(task)
    dues = _dues(of_box, today)
    sheets = _sheets(person, today, ahead=due.ahead)
    boxes, waiting, places = [], [], defaultdict(list)
    for tasks in of_box.values():
        bench = [dues[t.pk] for t in tasks if t.step not in OF_SHEETS and t.step not in AWAY_FROM_BENCH]
        for task in tasks:
            if task.step in AWAY_FROM_BENCH and not dues[task.pk].waits:
                places[_place(tasks[0].housing)].append(dues[task.pk])
        if bench:
            box = BoxDue(tasks[0].housing, tuple(bench))
            (boxes if box.can_begin else waiting).append(box)
    done = _done_on(person, today)
    return BenchDay(
        person=person,
        today=today,
        running=_running(person),
        sheets=sheets,
        boxes=boxes[:SHOWN_BOXES],
        places=sorted(places.items()),
        waiting=waiting[:SHOWN_BOXES],
        done=done,
        minutes_done=sum((entry.minutes for entry in done if entry.minutes), Decimal()),
        ahead=due.ahead,
        more=max(len(boxes) - SHOWN_BOXES, 0) + max(len(waiting) - SHOWN_BOXES, 0),
    )


def week_now(task_or_sheet_campaign, today: date) -> int:
    """The week of a campaign's work that a day lies in, 1 where it was not given out by weeks."""
    start = task_or_sheet_campaign.work_from if task_or_sheet_campaign else None
    return week_number(start, today) if start else 1


def _open_tasks(person: Person) -> QuerySet[Task]:
    return (
        Task.objects.filter(person=person)
        .exclude(state=State.DONE)
        .exclude(housing__status=Housing.Status.DROPPED)
    )


def _due(person: Person, today: date) -> _Due:
    """Tasks of the weeks up to now of every campaign; if there are none, of the next week with work."""
    begun = _open_tasks(person).values_list("housing__campaign", "housing__campaign__work_from")
    weeks = {pk: week_number(start, today) if start else 1 for pk, start in begun.order_by().distinct()}
    until = Q()
    for pk, week in weeks.items():
        until |= Q(housing__campaign=pk, week__lte=week)
    if not weeks:
        return _Due()
    tasks = _with_boxes(_open_tasks(person).filter(until))
    if tasks:
        return _Due(tasks)
    first = _open_tasks(person).order_by("week").values_list("week", flat=True).first()
    return _Due(_with_boxes(_open_tasks(person).filter(week=first)), ahead=True)


def _with_boxes(tasks: QuerySet[Task]) -> list[Task]:
    return list(
        tasks.select_related("housing__campaign", "sheet")
        .prefetch_related(_contents("housing__contents"))
        .order_by("week", "sheet__position", "housing", "sequence")
    )


def _contents(name: str) -> Prefetch:
    ties = HousedObject.objects.filter(is_live=True).select_related("object__location")
    return Prefetch(name, ties)


def _place(housing: Housing) -> str:
    places = [tie.object.location.path for tie in housing.contents.all() if tie.object.location]
    return places[0] if places else NOWHERE


def _dues(of_box: Mapping[int, Sequence[Task]], today: date) -> dict[int, TaskDue]:
    """What each task waits for, told from all tasks and questions of its box."""
    siblings: defaultdict[int, dict[str, Task]] = defaultdict(dict)
    for task in Task.objects.filter(housing__in=of_box).select_related("person").order_by("sequence"):
        siblings[task.housing_id][task.step] = task
    holds = open_holds(of_box)
    dues = {}
    for housing, tasks in of_box.items():
        for task in tasks:
            week = week_now(task.housing.campaign, today)
            dues[task.pk] = TaskDue(
                task,
                task.week,
                task.week < week,
                (*holds.get(housing, ()), *waits_of(task, siblings[housing])),
            )
    return dues


def waits_of(task: Task, siblings: Mapping[str, Task]) -> tuple[str, ...]:
    """What has to be done before a task, in words. siblings: the tasks of its box by step."""
    waited = [siblings[step] for step in waits_for(task.step, siblings) if step in siblings]
    return tuple(
        f"{one.get_step_display().lower()}{f', by {one.person}' if one.person else ', which nobody has'}"
        for one in waited
        if one.state != State.DONE
    )


def open_holds(housings: Iterable[int]) -> dict[int, tuple[str, ...]]:
    """Open questions of boxes in words, by box."""
    found: defaultdict[int, list[str]] = defaultdict(list)
    for hold in Hold.objects.filter(housing__in=list(housings), answered_at=None):
        found[hold.housing_id].append(f"{hold.get_reason_display().lower()}: {hold.question}")
    return {pk: tuple(words) for pk, words in found.items()}


def _sheets(person: Person, today: date, *, ahead: bool) -> list[SheetDue]:
    """Uncut sheets that the person cuts, the first due first; those at the bench already before all."""
    uncut = (
        PlannedSheet.objects.filter(person=person, cut_at=None)
        .select_related("plan__campaign", "board", "sheet_size", "offcut")
        .annotate(boxes=Count("placements__blank__housing", distinct=True))
        .order_by("week", "position")
    )
    due = [sheet for sheet in uncut if ahead or sheet.week <= week_now(sheet.plan.campaign, today)]
    issued = issued_among(sheet.pk for sheet in due)
    due.sort(key=lambda sheet: (sheet.pk not in issued, sheet.week, sheet.position))
    due = due[:SHOWN_SHEETS]
    stock = dict(
        sheet_sizes_in_stock()
        .filter(pk__in=[sheet.sheet_size_id for sheet in due])
        .values_list("pk", "in_stock")
    )
    minutes: defaultdict[int, Decimal] = defaultdict(Decimal)
    for sheet, planned in (
        Task.objects.filter(sheet__in=due, step__in=OF_SHEETS)
        .exclude(state=State.DONE)
        .values_list("sheet", "planned_minutes")
    ):
        minutes[sheet] += planned
    held = _held_sheets(due)
    return [
        SheetDue(
            sheet,
            sheet.boxes,
            minutes[sheet.pk],
            sheet.week,
            sheet.week < week_now(sheet.plan.campaign, today),
            sheet.pk in issued,
            None if sheet.offcut_id else stock.get(sheet.sheet_size_id, 0),
            tuple(held.get(sheet.pk, ())),
        )
        for sheet in due
    ]


def _held_sheets(sheets: Sequence[PlannedSheet]) -> dict[int, list[str]]:
    """Open questions of the boxes on some sheets, by sheet."""
    found: defaultdict[int, list[str]] = defaultdict(list)
    rows = Hold.objects.filter(answered_at=None, housing__blanks__placements__sheet__in=sheets)
    rows = rows.order_by("housing", "pk").values_list(
        "housing__blanks__placements__sheet", "housing", "reason", "question"
    )
    for sheet, housing, reason, question in rows.distinct():
        words = f"Box {housing:04d} waits {Hold.Reason(reason).label.lower()}: {question}"
        found[sheet].append(words)
    return found


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
    start = timezone.make_aware(datetime.combine(day, datetime.min.time()))
    return list(
        BenchEntry.objects.filter(
            person=person,
            what__in=[BenchEntry.What.DONE, BenchEntry.What.SHEET_CUT, BenchEntry.What.HOUSED],
            undone_by=None,
            at__gte=start,
            at__lt=start + timedelta(days=1),
        ).select_related("task__housing", "sheet", "housing")
    )


# ---- One box, one sheet ----------------------------------------------------------------------------------


@dataclass(frozen=True)
class BoxAtBench:
    """One box with all its steps. next: the first that is open, None once all is done."""

    housing: Housing
    tasks: Sequence[TaskDue]
    holds: Sequence[Hold]
    entries: Sequence[BenchEntry]

    @property
    def next(self) -> TaskDue | None:
        return next((due for due in self.tasks if due.task.state != State.DONE), None)

    def next_for(self, person: Person | None) -> TaskDue | None:
        """The first open step of a person's, or of anybody's where they have none."""
        own = [due for due in self.tasks if due.task.state != State.DONE and due.task.person == person]
        return own[0] if own else self.next


def box_at_bench(housing: Housing, today: date) -> BoxAtBench:
    """All that the page of one box at the bench shows besides its drawings."""
    tasks = list(housing.tasks.select_related("person", "sheet", "housing__campaign").order_by("sequence"))
    dues = _dues({housing.pk: tasks}, today) if tasks else {}
    return BoxAtBench(
        housing,
        [dues[task.pk] for task in sorted(tasks, key=lambda task: STEPS.index(task.step))],
        list(housing.holds.filter(answered_at=None).select_related("asked_by")),
        list(housing.bench_entries.select_related("person", "by", "task", "sheet", "undone_by")[:30]),
    )


def boxes_of_sheet(sheet: PlannedSheet) -> list[Housing]:
    """The boxes with a blank on a sheet, in the order of their numbers, each with its contents."""
    boxes = Housing.objects.filter(blanks__placements__sheet=sheet).distinct().order_by("pk")
    return list(boxes.prefetch_related(_contents("contents"), "tasks"))
