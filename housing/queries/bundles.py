"""What people have in one week, in bundles that belong together: by sheet, then by where the objects are."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from itertools import groupby

from housing.core.steps import OF_SHEETS, STEPS, waits_for
from housing.models import Campaign, HousedObject, Person, PlannedSheet, Task
from housing.queries.campaigns import open_tasks
from housing.queries.waits import open_holds
from objects.core.words import noted, say, say_count

NOWHERE = noted("No location")
MINUTES_PER_HOUR = 60
STEP_NAMES = dict(Task.Step.choices)


@dataclass
class Bundle:
    """Tasks of one person in one week that are done together: of one sheet, or at one place.

    waits: by task, what it waits for in words; tasks that can be begun now are left out.
    """

    key: str
    name: str
    sheet: PlannedSheet | None = None
    tasks: list[Task] = field(default_factory=list)
    waits: dict[int, list[str]] = field(default_factory=dict)

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
        words = [str(STEP_NAMES[step]).lower() for step in STEPS if step in found]
        return say(" and ").join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)

    @property
    def told(self) -> str:
        """What it is: "6 boxes, fetch board and cut, 52 min"."""
        boxes = self.boxes
        return say_count(
            "{count} box, {steps}, {minutes:.0f} min",
            "{count} boxes, {steps}, {minutes:.0f} min",
            boxes,
            steps=self.steps,
            minutes=self.minutes,
        )

    @property
    def standing(self) -> str:
        """How it stands: begun, given by hand, and how much of it waits."""
        number = len(self.tasks)
        said = []
        if begun := sum(task.state == Task.State.STARTED for task in self.tasks):
            said.append(say("{begun} of {number} begun", begun=begun, number=number))
        if by_hand := sum(task.is_fixed for task in self.tasks):
            said.append(say("{by_hand} of {number} given by hand", by_hand=by_hand, number=number))
        waiting = len(self.waits)
        said.append(
            say("{waiting} of {number} cannot begin yet", waiting=waiting, number=number)
            if waiting
            else say("can be begun now")
        )
        told = "; ".join(said)
        return f"{told[0].upper()}{told[1:]}"

    @property
    def reasons(self) -> list[str]:
        """Why this person; where not all tasks have one reason, each with how many it is of."""
        found = Counter(task.reason for task in self.tasks if task.reason)
        number = len(self.tasks)
        return [
            words
            if times == number
            else say("{times} of {number}: {words}", times=times, number=number, words=words)
            for words, times in found.most_common()
        ]

    @property
    def waiting(self) -> str:
        """What is still open before, each with how many of its tasks wait for it; empty for nothing."""
        found = Counter(words for ones in self.waits.values() for words in ones)
        return "; ".join(
            words if times == 1 else f"{words} ({times} times)" for words, times in found.most_common()
        )

    @property
    def keys(self) -> str:
        """The keys of its tasks, set apart by commas."""
        return ",".join(str(task.pk) for task in self.tasks)

    @property
    def lines(self) -> list[tuple[str, str]]:
        """Each task as its key and a line: what it is, its minutes, and what it waits for."""
        lines = []
        for task in self.tasks:
            waits = self.waits.get(task.pk)
            waiting = say("; waits for {waits}", waits=say(" and ").join(waits)) if waits else ""
            lines.append(
                (
                    str(task.pk),
                    say(
                        "{task}, {planned_minutes:.0f} min{waiting}",
                        task=task,
                        planned_minutes=task.planned_minutes,
                        waiting=waiting,
                    ),
                )
            )
        return lines


@dataclass(frozen=True)
class Lane:
    """A person's week in bundles; person None for what nobody has."""

    person: Person | None
    bundles: list[Bundle]

    @property
    def hours(self) -> float:
        return sum(bundle.minutes for bundle in self.bundles) / MINUTES_PER_HOUR


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
    tasks: Iterable[Task], places: Mapping[int, str], waits: Mapping[int, list[str]]
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
                name=place or say(NOWHERE) if is_place else str(together[0].sheet),
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


def waits_of(tasks: Iterable[Task]) -> dict[int, list[str]]:
    """What each of some tasks waits for: open questions about its box, then steps, with who has them when.

    Those that can be begun now have an empty list.
    """
    tasks = list(tasks)
    housings = {task.housing_id for task in tasks}
    of_box: defaultdict[int, dict[str, str]] = defaultdict(dict)
    is_done: set[tuple[int, str]] = set()
    rows = Task.objects.filter(housing__in=housings).order_by("housing", "sequence")
    for housing, step, state, week, person in rows.values_list(
        "housing", "step", "state", "week", "person__name"
    ):
        of_box[housing][step] = say(
            "{step}, {person}, week {week}",
            step=str(STEP_NAMES[step]).lower(),
            person=person or say("nobody"),
            week=week,
        )
        if state == Task.State.DONE:
            is_done.add((housing, step))
    holds = open_holds(housings)
    return {
        task.pk: [
            *holds.get(task.housing_id, ()),
            *(
                of_box[task.housing_id][step]
                for step in waits_for(task.step, of_box[task.housing_id])
                if (task.housing_id, step) not in is_done
            ),
        ]
        for task in tasks
    }
