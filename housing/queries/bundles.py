"""What people have in one week, in bundles that belong together: by sheet, then by where the objects are."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from itertools import groupby

from django.db.models import QuerySet

from housing.core.steps import OF_SHEETS, STEPS, waits_for
from housing.models import Campaign, HousedObject, Person, PlannedSheet, Task
from housing.queries.campaigns import open_tasks

NOWHERE = "No location"
STEP_NAMES = dict(Task.Step.choices)
DONE = Task.State.DONE


@dataclass(frozen=True)
class Before:
    """A step that a task waits for: not done yet, with who has it and in which week."""

    step: str
    person: str
    week: int

    @property
    def words(self) -> str:
        return f"{STEP_NAMES[self.step].lower()}, {self.person or 'nobody'}, week {self.week}"


@dataclass
class Bundle:
    """Tasks of one person in one week that are done together: of one sheet, or at one place."""

    key: str
    name: str
    sheet: PlannedSheet | None = None
    tasks: list[Task] = field(default_factory=list)
    waits: dict[int, list[Before]] = field(default_factory=dict)

    @property
    def minutes(self) -> float:
        return float(sum(task.planned_minutes for task in self.tasks))

    @property
    def boxes(self) -> int:
        return len({task.housing_id for task in self.tasks})

    @property
    def steps(self) -> str:
        """The kinds of steps in working order: "fetch board and cut"."""
        found = {task.step for task in self.tasks}
        words = [STEP_NAMES[step].lower() for step in STEPS if step in found]
        return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)

    @property
    def reasons(self) -> list[tuple[str, int]]:
        """Why this person, each reason with how many tasks it is of, the commonest first."""
        return Counter(task.reason for task in self.tasks if task.reason).most_common()

    @property
    def by_hand(self) -> int:
        """How many of its tasks were given by hand."""
        return sum(task.is_fixed for task in self.tasks)

    @property
    def begun(self) -> int:
        return sum(task.state == Task.State.STARTED for task in self.tasks)

    @property
    def waiting(self) -> list[tuple[str, int]]:
        """What steps before are still open, each with how many of its tasks wait for it."""
        return Counter(before.words for ones in self.waits.values() for before in ones).most_common()

    @property
    def lines(self) -> list[tuple[Task, list[Before]]]:
        """Each task with what it waits for."""
        return [(task, self.waits.get(task.pk, [])) for task in self.tasks]


@dataclass(frozen=True)
class Lane:
    """A person's week in bundles; person None for what nobody has."""

    person: Person | None
    bundles: list[Bundle]

    @property
    def minutes(self) -> float:
        return sum(bundle.minutes for bundle in self.bundles)


def lanes_of(campaign: Campaign, people: Iterable[Person], week: int) -> list[Lane]:
    """Everybody's bundles of one week, then what nobody has; the same number of questions however many."""
    tasks = list(
        open_tasks(campaign)
        .filter(week=week)
        .select_related("housing", "person", "sheet")
        .order_by("sheet__position", "housing", "sequence")
    )
    places = places_of(task.housing_id for task in tasks)
    waits = waits_of(tasks)
    of_person: defaultdict[int | None, list[Task]] = defaultdict(list)
    for task in tasks:
        of_person[task.person_id].append(task)
    lanes = [Lane(person, _bundles(of_person.pop(person.pk, []), places, waits)) for person in people]
    if nobody := of_person.get(None):
        lanes.append(Lane(None, _bundles(nobody, places, waits)))
    return lanes


def _bundles(
    tasks: Iterable[Task], places: Mapping[int, str], waits: Mapping[int, list[Before]]
) -> list[Bundle]:
    """Sheets in the order of the plan, then places by name."""

    def key(task: Task) -> tuple[bool, int, str]:
        if task.sheet is not None and task.step in OF_SHEETS:
            return False, task.sheet.position, ""
        return True, 0, places.get(task.housing_id, "")

    bundles = []
    for (is_place, position, place), group in groupby(sorted(tasks, key=key), key):
        together = list(group)
        bundles.append(
            Bundle(
                key=f"place-{place}" if is_place else f"sheet-{position}",
                name=place or NOWHERE if is_place else str(together[0].sheet),
                sheet=None if is_place else together[0].sheet,
                tasks=together,
                waits={task.pk: waits[task.pk] for task in together if waits.get(task.pk)},
            )
        )
    return bundles


def places_of(housings: Iterable[int]) -> dict[int, str]:
    """Where the first object of each of some boxes is; those without a location are left out."""
    ties = HousedObject.objects.filter(housing__in=set(housings), object__location__isnull=False)
    rows = ties.order_by("housing", "-position").values_list("housing", "object__location__path")
    return dict(rows)  # the last of each box is the one in the first position


def waits_of(tasks: Iterable[Task]) -> dict[int, list[Before]]:
    """What each of some tasks waits for; those that can be begun now have an empty list."""
    tasks = list(tasks)
    of_box: defaultdict[int, dict[str, Before]] = defaultdict(dict)
    states: dict[tuple[int, str], str] = {}
    rows = _all_of({task.housing_id for task in tasks})
    for housing, step, state, week, person in rows:
        of_box[housing][step] = Before(step, person or "", week)
        states[housing, step] = state
    return {
        task.pk: [
            of_box[task.housing_id][step]
            for step in waits_for(task.step, of_box[task.housing_id])
            if states[task.housing_id, step] != DONE
        ]
        for task in tasks
    }


def _all_of(housings: Iterable[int]) -> QuerySet:
    rows = Task.objects.filter(housing__in=housings).order_by("housing", "sequence")
    return rows.values_list("housing", "step", "state", "week", "person__name")
