"""Who does what in which week: a documented heuristic beside what could not be done better."""

from collections.abc import Mapping, Sequence
from math import inf

from housing.core.assignment.bound import least_week, quotas_by
from housing.core.assignment.diary import Booking, Diary
from housing.core.assignment.giving import give
from housing.core.assignment.improving import improve
from housing.core.assignment.placing import Placing
from housing.core.assignment.reasons import reason_of
from housing.core.assignment.units import SCORE_STEP, in_order, units_of
from housing.core.assignment.work import (
    EXPERIENCED,
    NEWCOMER,
    PRACTISED,
    Assigned,
    AssignmentRefused,
    Schedule,
    Work,
    Worker,
)

__all__ = [
    "EXPERIENCED", "NEWCOMER", "PRACTISED", "SCORE_STEP", "Assigned", "AssignmentRefused", "Schedule", "Work",
    "Worker", "assign", "standing",
]  # fmt: skip

# At rooms in diaries while improving, each time: about half a second on a machine of these years.
LOOKS = 400_000


def assign(work: Sequence[Work], people: Sequence[Worker]) -> Schedule:
    """Give every step to a person and a week.

    work: steps, in any order. people: who takes part, minutes by week, skills, training.
    Returns one Assigned a step, in the order of `work`, with the last week and a lower bound of it.

    Bundles are kept whole. Begun steps come first and stay with whoever began them, what was given by hand
    stays too, even over the hours there are. The others follow by priority, then by score in half steps
    (SCORE_STEP), then location, then as listed, a step never before those it comes after; what rests comes
    last. Each goes to the person who has the skill (and may handle hazards, if there are any; newcomers
    nothing that is hard to make, unless nobody else can) and whose load, in weeks of their own hours, is then
    the least; whoever has other work of its group, or a newcomer an easy form, gets it a little earlier than
    that. It is booked in that person's first week with room, not before the week in which the earlier steps
    end. What then ends last is moved to others as long as that ends earlier. If all could still end earlier
    by the lower bound, the same is done once more with the shares of the linear program behind it, and what
    ends first is taken.
    Raises AssignmentRefused for steps that wait for one another, negative minutes, or a key used twice.
    Source: list scheduling (greedy) with a local search; linear programming bound. It promises no shortest
        plan; Schedule.gap says how far it may be off.
    """
    units = units_of(work, people)
    order = in_order(units)
    best = give(units, order, people)
    least = least_week(best)
    improve(best, least, LOOKS)
    if best.last_week > least and (quotas := quotas_by(best, least)):
        guided = give(units, order, people, quotas)
        improve(guided, least, LOOKS)
        if guided.last_week < best.last_week and guided.of.count(None) <= best.of.count(None):
            best, least = guided, least_week(guided)
    done: dict[str, Assigned] = {}
    for number, unit in enumerate(units):
        reason, week = reason_of(best, number, people), best.starts[number] + 1
        done |= {item.key: Assigned(item.key, best.of[number], week, reason) for item in unit.works}
    return Schedule(tuple(done[item.key] for item in work), best.last_week, least)


def standing(
    work: Sequence[Work], people: Sequence[Worker], given: Mapping[str, tuple[str | None, int]]
) -> Schedule:
    """Work that was given out before, as it stands, beside a lower bound of its last week.

    given: by key who has a step, and in which week it begins, counted from 1.
    Steps longer than a week run on as the hours allow. Raises AssignmentRefused as assign() does.
    """
    units = units_of(work, people)
    placing = Placing.empty(units, in_order(units), people)
    for number, unit in enumerate(units):
        key, week = given[unit.works[0].key]
        placing.starts[number] = placing.ends[number] = week - 1
        if key is not None:
            placing.place(number, key, Booking(week - 1, (unit.minutes,)))
            placing.ends[number] = _end(placing.diaries.get(key), week - 1, unit.minutes)
    assigned = tuple(Assigned(item.key, *given[item.key]) for item in work)
    return Schedule(assigned, placing.last_week, least_week(placing))


def _end(diary: Diary | None, start: int, minutes: float) -> int:
    """The week in which a step ends that begins in one; both counted from 0."""
    end = diary.least_end(start, minutes) if diary else inf
    return int(end) if end < inf else start
