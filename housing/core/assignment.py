"""Who does what in which week: a plain greedy heuristic that anybody can follow."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from math import floor

from objects.core.refusals import Refusal

# Scores within one half step, the finest the published scales tell apart, are taken as equal, so that work at
# one place is still given out together.
SCORE_STEP = 0.5

# Left-over minutes smaller than this are rounding, not time.
LEAST_MINUTES = 1e-6
# Whoever gives less than this a week has no time for the campaign.
LEAST_WEEK_MINUTES = 1.0


class AssignmentRefused(Refusal):
    """Work cannot be given out as listed; the message says which."""


@dataclass(frozen=True)
class Work:
    """One step of the work on one housing.

    skill: the one it asks for. minutes: how long it should take, 0 or more. priority: "A" first, then "B"
    and "C". location: where the object is; work at one place is given out together. after: keys of the steps
    that must come before, as far as they are still to be done. kept_with: who has begun it, if anybody.
    score: of the object, in points; within a priority the higher one comes first.
    """

    key: str
    skill: str
    minutes: float
    priority: str
    location: str
    is_hazardous: bool = False
    after: tuple[str, ...] = ()
    kept_with: str | None = None
    score: float = 0.0


@dataclass(frozen=True)
class Worker:
    """A person with minutes to give each week, skills, and leave to handle hazardous objects or not."""

    key: str
    minutes_per_week: float
    skills: frozenset[str]
    may_handle_hazards: bool = False


@dataclass(frozen=True)
class Assigned:
    """Who does a step and in which week, counted from 1; worker None where nobody can, with the reason."""

    key: str
    worker_key: str | None
    week: int
    reason: str = ""


@dataclass
class _Diary:
    """A worker's weeks as they fill up."""

    worker: Worker
    load: float = 0.0
    used: list[float] = field(default_factory=list)
    first_open: int = 0

    def weeks_with(self, minutes: float) -> float:
        """Load in weeks of the worker's own length, were this many minutes added."""
        return (self.load + minutes) / self.worker.minutes_per_week

    def take(self, minutes: float, earliest: int, shortest: float) -> tuple[int, int]:
        """Book minutes in the first week from `earliest` (0 is the first) that has room for them.

        A step longer than a whole week starts in an empty one and runs on. Returns its first and last week.
        """
        room = self.worker.minutes_per_week
        while self.first_open < len(self.used) and (
            room - self.used[self.first_open] < shortest - LEAST_MINUTES
        ):
            self.first_open += 1
        start = max(earliest, self.first_open)
        while start < len(self.used) and self.used[start] + min(minutes, room) > room + LEAST_MINUTES:
            start += 1
        self.load += minutes
        week, left = start, minutes
        while True:
            self.used.extend([0.0] * (week + 1 - len(self.used)))
            booked = min(left, room - self.used[week])
            self.used[week] += booked
            left -= booked
            if left <= LEAST_MINUTES:
                return start, week
            week += 1


def assign(work: Sequence[Work], people: Sequence[Worker]) -> tuple[Assigned, ...]:
    """Give every step to a person and a week.

    work: steps, in any order. people: who takes part, minutes a week and skills.
    Returns one Assigned a step, in the order of `work`.

    Begun steps come first and stay with whoever began them. The others follow by priority, then by score in
    half steps (SCORE_STEP), then location, then as listed, a step never before the one it comes after. Each
    goes to the person who has the skill (and may handle hazards, if there are any) and whose load, in weeks
    of their own hours, is then the least.
    It is booked in that person's first week with room, not before the week in which the earlier step ends.
    Raises AssignmentRefused for steps that wait for one another, negative minutes, or a key used twice.
    Source: list scheduling (greedy), a standard heuristic; it promises no shortest plan.
    """
    _refuse_impossible(work)
    diaries = {p.key: _Diary(p) for p in people if p.minutes_per_week >= LEAST_WEEK_MINUTES}
    shortest = min((item.minutes for item in work if item.minutes > 0), default=0.0)
    ends: dict[str, int] = {}
    done: dict[str, Assigned] = {}
    for item in _in_order(work):
        earliest = max((ends.get(key, 0) for key in item.after), default=0)
        diary = _choose(item, diaries)
        start, end = diary.take(item.minutes, earliest, shortest) if diary else (earliest, earliest)
        worker_key = diary.worker.key if diary else item.kept_with
        reason = "" if worker_key else _why_nobody(item, people)
        ends[item.key] = end
        done[item.key] = Assigned(item.key, worker_key, start + 1, reason)
    return tuple(done[item.key] for item in work)


def _refuse_impossible(work: Sequence[Work]) -> None:
    seen: set[str] = set()
    for item in work:
        if item.key in seen:
            raise AssignmentRefused(f"Step {item.key} is listed twice.")
        if not item.minutes >= 0:
            raise AssignmentRefused(f"Step {item.key} takes {item.minutes:g} minutes; it must be 0 or more.")
        seen.add(item.key)


def _in_order(work: Sequence[Work]) -> Iterable[Work]:
    """The steps by priority, score and location, each behind the step it comes after."""
    by_key = {item.key: item for item in work}
    given: set[str] = set()
    for item in sorted(work, key=_urgency):
        open_keys: list[str] = [item.key]
        under_way: set[str] = set()
        while open_keys:
            key = open_keys[-1]
            before = [one for one in by_key[key].after if one in by_key and one not in given]
            if key in given or not before:
                open_keys.pop()
                under_way.discard(key)
                if key not in given:
                    given.add(key)
                    yield by_key[key]
                continue
            if key in under_way:
                raise AssignmentRefused(f"Step {item.key} waits for a step that waits for it in turn.")
            under_way.add(key)
            open_keys += reversed(before)


def _urgency(item: Work) -> tuple[bool, str, int, str]:
    return item.kept_with is None, item.priority, -floor(item.score / SCORE_STEP), item.location


def _choose(item: Work, diaries: dict[str, _Diary]) -> _Diary | None:
    if item.kept_with is not None:
        return diaries.get(item.kept_with)
    able = [diary for diary in diaries.values() if _can(diary.worker, item)]
    return min(able, key=lambda diary: diary.weeks_with(item.minutes), default=None)


def _can(worker: Worker, item: Work) -> bool:
    return item.skill in worker.skills and (worker.may_handle_hazards or not item.is_hazardous)


def _why_nobody(item: Work, people: Sequence[Worker]) -> str:
    if any(_can(person, item) for person in people):
        return f"Nobody with the skill “{item.skill}” has any hours to give."
    if any(item.skill in person.skills for person in people):
        return f"Nobody has the skill “{item.skill}” and may handle hazardous objects."
    return f"Nobody has the skill “{item.skill}”."
