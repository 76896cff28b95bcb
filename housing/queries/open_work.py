"""The open tasks of a campaign as work to be given out, with what decides who does them and when."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from django.db.models import QuerySet

from housing.core.assignment import Work
from housing.core.budget.facts import BoxFacts
from housing.core.difficulty import ORDINARY, difficulty
from housing.core.priority import HUNDREDTHS
from housing.core.steps import GLUE, LID, MEASURE, OF_SHEETS, RETURN, SCORE, SKILL_OF_STEP, waits_for
from housing.models import Campaign, Hold, HousedObject, Housing, PlannedBlank, Task
from housing.queries.box_facts import facts_of_campaign
from housing.queries.priority import scores_in
from housing.queries.sheets import sheets_at_bench
from objects.core.words import noted
from objects.speaking import in_language

State = Task.State
OPEN = [Housing.Status.WAITING, Housing.Status.PLANNED, Housing.Status.IN_WORK, Housing.Status.MADE]
# Steps that are harder the harder the form is; assumed, the others are the same work for every form.
BY_FORM = frozenset({SCORE, GLUE, LID})
# Steps done where the objects are, and so by place; the others by sheet.
BY_PLACE = frozenset({MEASURE, RETURN})
TO_NOBODY = noted("Given to nobody by hand")


@dataclass(slots=True)
class OpenTask:
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
    is_fixed: bool = False
    sheet: int | None = None
    is_changed: bool = False


@dataclass(frozen=True)
class _Contents:
    """What of a housing's objects matters to whoever works on it."""

    priority: str
    location: str
    is_hazardous: bool
    score: float


@dataclass(frozen=True)
class SheetsOfBoxes:
    """By box the sheets of the plan that its blanks lie on, in their order; positions: of each sheet."""

    of_box: Mapping[int, Sequence[int]]
    positions: Mapping[int, int]

    @classmethod
    def of(cls, campaign: Campaign) -> "SheetsOfBoxes":
        of_box: defaultdict[int, list[int]] = defaultdict(list)
        positions = {}
        rows = PlannedBlank.objects.filter(sheet__plan__campaign=campaign).order_by("sheet__position", "pk")
        for housing, sheet, position in rows.values_list("blank__housing", "sheet", "sheet__position"):
            if sheet not in of_box[housing]:
                of_box[housing].append(sheet)
            positions[sheet] = position
        return cls(of_box, positions)

    def first(self, housing: int) -> int | None:
        """The first sheet that a blank of a box lies on."""
        return next(iter(self.of_box.get(housing, ())), None)


class OpenWork:
    """The open tasks of a campaign as work to be given out, in the order of `tasks`.

    facts: of its boxes; worked out where they are not given.
    """

    def __init__(
        self, campaign: Campaign, tasks: Iterable[OpenTask], facts: Iterable[BoxFacts] | None = None
    ) -> None:
        housings = Housing.objects.filter(campaign=campaign, status__in=OPEN)
        self.tasks = sorted(tasks, key=lambda task: task.state == State.TO_DO)
        self.sheets = SheetsOfBoxes.of(campaign)
        self._contents = _contents(housings, scores_in(campaign))
        self._hard = {box.key: difficulty(box) for box in facts or facts_of_campaign(campaign)}
        self._rests = _rests(housings)
        at_bench = sheets_at_bench(campaign)
        self._at_bench = {sheet.pk: str(sheet.person_id) for sheet in at_bench if sheet.person_id}
        self._steps: defaultdict[int, list[str]] = defaultdict(list)
        self._cut_of: dict[int, str] = {}  # of each sheet one of the tasks with which it is cut
        moving: defaultdict[int, set[int]] = defaultdict(set)
        for task in self.tasks:
            self._steps[task.housing].append(task.step)
            if task.step in OF_SHEETS and (sheet := self.sheets.first(task.housing)):
                self._cut_of[sheet] = key_of(task)
                moving[sheet].add(task.housing)
        # a sheet rests only where all that is cut from it does
        self._resting_sheets = {sheet for sheet, boxes in moving.items() if boxes <= self._rests.keys()}
        self.work = [self._work(task) for task in self.tasks]

    def _work(self, task: OpenTask) -> Work:
        contents, sheet = self._contents[task.housing], self.sheets.first(task.housing)
        after = [f"{task.housing}:{step}" for step in waits_for(task.step, self._steps[task.housing])]
        if task.step == SCORE:
            others = self.sheets.of_box.get(task.housing, ())[1:]
            after += [self._cut_of[one] for one in others if one in self._cut_of]
        is_cut_by_sheet = task.step in OF_SHEETS and sheet is not None
        rests = self._rests.get(task.housing, "")
        if is_cut_by_sheet and sheet not in self._resting_sheets:
            rests = ""
        return Work(
            key=key_of(task),
            skill=SKILL_OF_STEP[task.step],
            minutes=float(task.minutes),
            priority=contents.priority,
            location=contents.location,
            is_hazardous=contents.is_hazardous,
            after=tuple(dict.fromkeys(after)),
            kept_with=self._kept_with(task, sheet),
            score=contents.score,
            bundle=f"sheet {sheet}" if is_cut_by_sheet else "",
            group=self._group(task, sheet, contents),
            fixed_to=_fixed_to(task),
            difficulty=self._hard.get(str(task.housing), ORDINARY) if task.step in BY_FORM else ORDINARY,
            not_before=2 if rests and task.state == State.TO_DO else 1,
            rests=rests if task.state == State.TO_DO else "",
        )

    def _kept_with(self, task: OpenTask, sheet: int | None) -> str | None:
        if task.state == State.STARTED:
            return str(task.person) if task.person else None
        return self._at_bench.get(sheet or 0) if task.step in OF_SHEETS else None

    def _group(self, task: OpenTask, sheet: int | None, contents: _Contents) -> str:
        if sheet is not None and task.step not in BY_PLACE:
            return (
                ""
                if task.step in OF_SHEETS
                else noted("of sheet {positions}").format(positions=self.sheets.positions[sheet])
            )
        return noted("at {location}").format(location=contents.location) if contents.location else ""


def key_of(task: OpenTask) -> str:
    return f"{task.housing}:{task.step}"


def _fixed_to(task: OpenTask) -> str | None:
    if not task.is_fixed:
        return None
    # whoever it was given to may be gone since; then it is as if nobody had given it
    return str(task.person) if task.person else "" if task.reason.startswith(TO_NOBODY) else None


def stored_tasks(campaign: Campaign, *, lock: bool = False) -> defaultdict[int, list[OpenTask]]:
    """By open box its tasks, done ones too, in the order of their steps. lock: keep them from others."""
    tasks: defaultdict[int, list[OpenTask]] = defaultdict(list)
    rows = Task.objects.filter(housing__campaign=campaign, housing__status__in=OPEN)
    if lock:
        rows = rows.select_for_update(of=("self",))
    for row in rows.order_by("housing", "sequence"):
        tasks[row.housing_id].append(
            OpenTask(
                row.pk, row.housing_id, row.step, row.standard_minutes, row.planned_minutes, row.state,
                row.person_id, row.week, row.reason, row.is_fixed, row.sheet_id,
            )
        )  # fmt: skip
    return tasks


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


@in_language("en")
def _rests(housings: QuerySet[Housing]) -> dict[int, str]:
    """Boxes with an open question, each with what it waits for in words: English, as reasons keep it."""
    holds = Hold.objects.filter(housing__in=housings, answered_at=None).order_by("-asked_at", "-pk")
    names = dict(Hold.Reason.choices)
    return {
        housing: noted("as the box waits {names}").format(names=names[reason].lower())
        for housing, reason in holds.values_list("housing", "reason")
    }
