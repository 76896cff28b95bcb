"""Units of work: what goes to one person in one week, in the order in which it is given out."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from math import floor

from housing.core.assignment.work import AssignmentRefused, Work, Worker
from housing.core.difficulty import EASY, HARD

# Scores within one half step, the finest the published scales tell apart, are taken as equal, so that work at
# one place is still given out together.
SCORE_STEP = 0.5


@dataclass(frozen=True)
class Kind:
    """What decides who can do a unit; units of a kind are alike to the lower bound.

    owner: who has begun it or was given it by hand, and so has it whatever the rest says.
    """

    skills: frozenset[str]
    is_hazardous: bool
    is_hard: bool
    is_easy: bool
    owner: str | None

    def suits(self, worker: Worker) -> bool:
        """Whether somebody has the skills, and the leave to handle hazards if there are any."""
        return self.skills <= worker.skills and (worker.may_handle_hazards or not self.is_hazardous)


@dataclass
class Unit:
    """One work, or all works of a bundle. after, before: numbers of units that come first, or wait for it."""

    works: list[Work]
    owner: str | None
    after: set[int] = field(default_factory=set)
    before: set[int] = field(default_factory=set)

    def __post_init__(self) -> None:
        works = self.works
        self.minutes = sum(work.minutes for work in works)
        self.is_begun = any(work.kept_with is not None for work in works)
        self.earliest = max(work.not_before for work in works) - 1
        self.rests = next((work.rests for work in works if work.rests), "")
        self.group = works[0].group
        self.urgency = min(
            (not self.is_begun, bool(self.rests), work.priority, -floor(work.score / SCORE_STEP),
             work.location)
            for work in works
        )  # fmt: skip
        self.kind = Kind(
            frozenset(work.skill for work in works),
            any(work.is_hazardous for work in works),
            any(work.difficulty == HARD for work in works),
            all(work.difficulty == EASY for work in works),
            self.owner,
        )


def units_of(work: Sequence[Work], people: Sequence[Worker]) -> list[Unit]:
    """The works as units, each with what it comes after, in no order yet.

    What was begun or given by hand goes to its owner; the rest of its bundle goes with it if the owner can do
    that too, else it is a unit of its own.
    Raises AssignmentRefused for negative minutes, a key used twice, or works that wait for one another.
    """
    _refuse_impossible(work)
    bundles: dict[tuple[str, str], list[Work]] = defaultdict(list)
    for item in work:
        bundles[("bundle", item.bundle) if item.bundle else ("work", item.key)].append(item)
    by_key = {person.key: person for person in people}
    units = [unit for works in bundles.values() for unit in _by_owner(works, by_key)]
    of_work = {item.key: number for number, unit in enumerate(units) for item in unit.works}
    for number, unit in enumerate(units):
        unit.after = {of_work[key] for item in unit.works for key in item.after if key in of_work}
        if any(key == item.key for item in unit.works for key in item.after):
            raise _circle(unit)
        unit.after.discard(number)
        for other in unit.after:
            units[other].before.add(number)
    return units


def _by_owner(works: list[Work], people: dict[str, Worker]) -> Iterator[Unit]:
    owned: dict[str, list[Work]] = {}
    rest = []
    # what is begun comes first: the rest of a bundle goes with it before it goes with what was given by hand
    for item in sorted(works, key=lambda item: item.kept_with is None):
        owner = item.fixed_to if item.kept_with is None else item.kept_with
        if owner is None:
            rest.append(item)
        else:
            owned.setdefault(owner, []).append(item)
    for owner, first in owned.items():
        together = Unit([*first, *rest], owner)
        if rest and owner in people and together.kind.suits(people[owner]):
            first, rest = together.works, []
        yield Unit(first, owner)
    if rest:
        yield Unit(rest, None)


def _refuse_impossible(work: Sequence[Work]) -> None:
    seen: set[str] = set()
    for item in work:
        if item.key in seen:
            raise AssignmentRefused(f"Step {item.key} is listed twice.")
        if not item.minutes >= 0:
            raise AssignmentRefused(f"Step {item.key} takes {item.minutes:g} minutes; it must be 0 or more.")
        seen.add(item.key)


def in_order(units: Sequence[Unit]) -> list[int]:
    """Numbers of the units by urgency, each behind those it comes after.

    Raises AssignmentRefused for units that wait for one another.
    """
    order: list[int] = []
    given: set[int] = set()
    for first in sorted(range(len(units)), key=lambda number: units[number].urgency):
        open_units = [first]
        under_way: set[int] = set()
        while open_units:
            number = open_units[-1]
            before = sorted(units[number].after - given, key=lambda other: units[other].urgency)
            if number in given or not before:
                open_units.pop()
                under_way.discard(number)
                if number not in given:
                    given.add(number)
                    order.append(number)
                continue
            if number in under_way:
                raise _circle(units[first])
            under_way.add(number)
            open_units += reversed(before)
    return order


def _circle(unit: Unit) -> AssignmentRefused:
    item = unit.works[0]
    bundled = f", or its bundle “{item.bundle}”," if item.bundle else ""
    return AssignmentRefused(f"Step {item.key}{bundled} waits for a step that waits for it in turn.")
