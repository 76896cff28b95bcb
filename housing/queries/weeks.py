"""The work of a campaign by person and week: hours to do against hours there are, and what makes them up."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from django.db.models import Count, Max, Min, Sum

from housing.core.assignment import Schedule
from housing.core.day_words import week_in_words
from housing.core.drawing.week_chart import WeekBar
from housing.core.steps import STEPS
from housing.core.weeks import first_day, week_number
from housing.models import Campaign, Person, Task
from housing.queries.availability import weekly_minutes
from housing.queries.campaigns import open_tasks
from objects.core.words import say, say_count

WEEKS_SHOWN = 8
MINUTES = 60
STEP_NAMES = dict(Task.Step.choices)


@dataclass
class Cell:
    """One person's week. Minutes of open tasks and of working time; steps: how many tasks of each."""

    week: int
    there: float = 0.0
    is_over: bool = False
    minutes: float = 0.0
    tasks: int = 0
    boxes: int = 0
    steps: dict[str, int] = field(default_factory=dict)

    @property
    def hours(self) -> float:
        return self.minutes / MINUTES

    @property
    def hours_there(self) -> float:
        return self.there / MINUTES

    @property
    def bar(self) -> WeekBar:
        return WeekBar(self.hours, self.hours_there, is_over=self.is_over)

    @property
    def kinds(self) -> str:
        """What there is to do: "cut 6, fold and glue 4"."""
        return ", ".join(
            f"{STEP_NAMES[step].lower()} {self.steps[step]}" for step in STEPS if step in self.steps
        )


@dataclass
class PersonWeeks:
    """A person's weeks in the order shown, and all the work that is open for her in any week."""

    person: Person
    cells: list[Cell]
    tasks: int = 0
    hours: float = 0.0


@dataclass(frozen=True)
class Window:
    """The weeks shown, first to last, of those there are; today_week: this week, None before the first."""

    first: int
    last: int
    of: int
    today_week: int | None

    @property
    def numbers(self) -> range:
        return range(self.first, self.last + 1)

    @property
    def earlier(self) -> int | None:
        """The first week of the page before."""
        return max(self.first - WEEKS_SHOWN, 1) if self.first > 1 else None

    @property
    def later(self) -> int | None:
        """The first week of the page after."""
        return self.last + 1 if self.last < self.of else None


@dataclass(frozen=True)
class WorkWeeks:
    """The table of people and weeks; sums: of all people by week."""

    window: Window
    rows: list[PersonWeeks]
    sums: list[Cell]


def window_of(campaign: Campaign, today: date, first: int | None = None) -> Window:
    """Which weeks to show: those asked for, else those from this week on."""
    ends = open_tasks(campaign).aggregate(last=Max("week"))["last"] or 1
    begun = campaign.work_from is not None and campaign.work_from <= today
    today_week = week_number(campaign.work_from, today) if begun else None
    first = min(max(first or today_week or 1, 1), ends)
    return Window(first, min(first + WEEKS_SHOWN - 1, ends), ends, today_week)


def work_weeks(campaign: Campaign, window: Window, today: date) -> WorkWeeks:
    """Everybody who takes part or has open work, with hours to do and hours there are in each week shown.

    Of days before today no hours are left.
    """
    shown = open_tasks(campaign).exclude(person=None)
    totals = {
        row["person"]: row
        for row in shown.order_by()
        .values("person")
        .annotate(tasks=Count("pk"), minutes=Sum("planned_minutes"))
    }
    taking_part = set(campaign.people.filter(is_active=True).values_list("pk", flat=True))
    people = list(Person.objects.filter(pk__in=taking_part | set(totals)).order_by("name"))
    there = _minutes_there(campaign, people, window, today)
    cells = {
        (person.pk, week): Cell(week, minutes, week < (window.today_week or 0))
        for person in people
        for week, minutes in zip(window.numbers, there[person.pk], strict=True)
    }
    within = shown.filter(week__range=(window.first, window.last)).order_by()
    for row in within.values("person", "week", "step").annotate(
        tasks=Count("pk"), minutes=Sum("planned_minutes")
    ):
        cell = cells[row["person"], row["week"]]
        cell.tasks += row["tasks"]
        cell.minutes += float(row["minutes"])
        cell.steps[row["step"]] = row["tasks"]
    for person, week, boxes in within.values_list("person", "week").annotate(Count("housing", distinct=True)):
        cells[person, week].boxes = boxes
    rows = [
        PersonWeeks(
            person,
            [cells[person.pk, week] for week in window.numbers],
            totals[person.pk]["tasks"] if person.pk in totals else 0,
            float(totals[person.pk]["minutes"]) / MINUTES if person.pk in totals else 0.0,
        )
        for person in people
    ]
    return WorkWeeks(window, rows, _sums(rows, within, window))


def _minutes_there(
    campaign: Campaign, people: Sequence[Person], window: Window, today: date
) -> Mapping[int, list[float]]:
    """Working minutes of people in the weeks shown; undated weeks have the usual hours."""
    weeks = len(window.numbers)
    if campaign.work_from is None:
        return {person.pk: [float(person.hours_per_week) * MINUTES] * weeks for person in people}
    return weekly_minutes(people, first_day(campaign.work_from, window.first), weeks, since=today)


def _sums(rows: Iterable[PersonWeeks], within, window: Window) -> list[Cell]:
    """Of all people by week; a box that two people work on in a week counts once."""
    boxes = dict(within.values_list("week").annotate(Count("housing", distinct=True)))
    this = window.today_week or 0
    sums = [Cell(week, is_over=week < this, boxes=boxes.get(week, 0)) for week in window.numbers]
    for row in rows:
        for total, cell in zip(sums, row.cells, strict=True):
            total.there += cell.there
            total.minutes += cell.minutes
            total.tasks += cell.tasks
            for step, number in cell.steps.items():
                total.steps[step] = total.steps.get(step, 0) + number
    return sums


def unassigned(campaign: Campaign) -> list[dict]:
    """Open tasks nobody has, by step and reason."""
    rows = (
        open_tasks(campaign)
        .filter(person=None)
        .order_by("step", "reason")
        .values("step", "reason")
        .annotate(number=Count("pk"), minutes=Sum("planned_minutes"))
    )
    return [{**row, "label": STEP_NAMES[row["step"]], "hours": row["minutes"] / MINUTES} for row in rows]


def standing_in_words(schedule: Schedule) -> str:
    """How much later than the best the end may be, by the lower bound of it."""
    if not schedule.last_week:
        return say("Nobody has any of the work.")
    weeks = schedule.last_week - schedule.least_week
    if weeks <= 0:
        return say("No way of giving it out ends earlier.")
    return say_count(
        "No way of giving it out ends before week {least}, so this one ends at most {count} week "
        "({share:.0f}%) later "
        "than the best.",
        "No way of giving it out ends before week {least}, so this one ends at most {count} weeks "
        "({share:.0f}%) "
        "later than the best.",
        weeks,
        least=schedule.least_week,
        share=100 * schedule.gap,
    )


def left_over(campaign: Campaign, window: Window) -> dict | None:
    """Open tasks of weeks that are over: how many, and of which weeks on; None where there are none."""
    if not window.today_week or window.today_week == 1:
        return None
    tasks = open_tasks(campaign).exclude(person=None).filter(week__lt=window.today_week)
    found = tasks.aggregate(number=Count("pk"), first=Min("week"))
    return found if found["number"] else None


# ---- What changed ------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Placing:
    """Who has each open task, by box and step, and in which week, counted from a day."""

    work_from: date | None
    of_task: dict[tuple[int, str], tuple[int | None, int]]

    def when(self, key: tuple[int, str]) -> date | int:
        """The Monday of a task's week; its number where weeks have no dates."""
        week = self.of_task[key][1]
        return first_day(self.work_from, week) if self.work_from else week

    @property
    def ends(self) -> date | int:
        """The last week, as when() tells it."""
        return max(self.when(key) for key in self.of_task)

    @property
    def end(self) -> str:
        """The last week in words."""
        words = week_in_words(self.work_from, max(week for _, week in self.of_task.values()))
        return f"{words[0].lower()}{words[1:]}"


def placing_of(campaign: Campaign) -> Placing:
    """How the open work of a campaign is given out, to be compared with what comes of a change."""
    rows = open_tasks(campaign).order_by().values_list("housing", "step", "person", "week")
    of_task = {(housing, step): (person, week) for housing, step, person, week in rows}
    return Placing(campaign.work_from, of_task)


def changes_since(before: Placing, campaign: Campaign) -> str:
    """Two sentences: how much moved since then, and when all ends now."""
    now = placing_of(campaign)
    both = now.of_task.keys() & before.of_task.keys()
    to_others = {key for key in both if before.of_task[key][0] != now.of_task[key][0]}
    weeks = sum(before.when(key) != now.when(key) for key in both - to_others)
    said = []
    if new := len(now.of_task.keys() - both):
        said.append(say_count("{count:,} task is new", "{count:,} tasks are new", new))
    if gone := len(before.of_task.keys() - both):
        said.append(
            say_count("{count:,} task is needed no longer", "{count:,} tasks are needed no longer", gone)
        )
    if number := len(to_others):
        said.append(
            say_count(
                "{count:,} task moved to somebody else", "{count:,} tasks moved to somebody else", number
            )
        )
    if weeks:
        said.append(
            say_count("{count:,} task moved to another week", "{count:,} tasks moved to another week", weeks)
        )
    told = "; ".join(said) or say("Nothing moved")
    return f"{told[0].upper()}{told[1:]}. {_ending(before, now)}"


def _ending(before: Placing, now: Placing) -> str:
    """When all is done now, and when it was to be before."""
    if not now.of_task:
        return say("No work is open.")
    if not before.of_task:
        return say("All ends in {end}.", end=now.end)
    if before.ends == now.ends:
        return say("All ends in {end}, as before.", end=now.end)
    return say("All ends in {end}; before, in {then}.", end=now.end, then=before.end)
