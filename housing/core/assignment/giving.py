"""The heuristic: one unit after the other goes to whoever suits best, into the first week with room."""

from collections.abc import Mapping, Sequence

from housing.core.assignment.diary import Booking, Diary
from housing.core.assignment.placing import Placing
from housing.core.assignment.units import Kind, Unit
from housing.core.assignment.work import LEAST_MINUTES, NOBODY, Worker

# Weeks of load by which a person may be ahead of whoever has least and still get a unit: assumed, half a day
# and half a week of five days, so that a sheet or a form is worth a wait but never a pile of work.
FOR_GROUP = 0.1
FOR_TRAINING = 0.5

BEGUN, FIXED, ONLY, GROUP, EASY_FORM, HARD_FORM, LAST_RESORT, GUIDED, LEAST_LOAD = (
    "begun", "fixed", "only", "group", "easy form", "hard form", "last resort", "guided", "least load",
)  # fmt: skip

# By kind of unit and person the minutes that person had better do of it.
type Quotas = Mapping[tuple[Kind, str], float]


def give(
    units: Sequence[Unit], order: Sequence[int], people: Sequence[Worker], quotas: Quotas | None = None
) -> Placing:
    """Give every unit, in order, to somebody and to that person's first week with room.

    Owners keep theirs. Anything else goes to whoever is able and whose load, in weeks of their own, is the
    least with it; staying with the group, and easy forms for newcomers, count for a little. quotas: what
    each has left of a kind then goes first.
    """
    placing = Placing.empty(units, order, people)
    shortest = min((unit.minutes for unit in units if unit.minutes > LEAST_MINUTES), default=0.0)
    left = dict(quotas or {})
    last_of_group: dict[tuple[str, frozenset[str]], str] = {}
    for number in order:
        unit, earliest = units[number], placing.earliest(number)
        if unit.owner is not None:
            _give_to_owner(placing, number, earliest, shortest)
            continue
        near = (unit.group, unit.kind.skills)
        able = _by_preference(unit, placing.able[unit.kind], left, last_of_group.get(near, ""), quotas)
        tried = [*able, *_by_load(unit, placing.spare[unit.kind])]
        for why, diary in tried:
            if booking := diary.find(unit.minutes, earliest, shortest):
                key = diary.worker.key
                placing.place(number, key, booking)
                placing.why[number] = why
                if quotas is not None and (unit.kind, key) in left:
                    left[unit.kind, key] -= unit.minutes
                if unit.group:
                    last_of_group[near] = key
                break
        else:
            placing.starts[number] = placing.ends[number] = earliest
    return placing


def _give_to_owner(placing: Placing, number: int, earliest: int, shortest: float) -> None:
    unit = placing.units[number]
    placing.why[number] = BEGUN if unit.is_begun else FIXED
    if unit.owner == NOBODY:
        placing.starts[number] = placing.ends[number] = earliest
        return
    diary = placing.diaries.get(unit.owner or "")
    booking = diary.find(unit.minutes, earliest, shortest) if diary else None
    if booking is None:
        placing.over.add(number)
        booking = diary.over(unit.minutes, earliest) if diary else Booking(earliest, (unit.minutes,))
    placing.place(number, unit.owner, booking)


def _by_preference(
    unit: Unit, able: Sequence[Diary], left: dict[tuple[Kind, str], float], near: str, quotas: Quotas | None
) -> list[tuple[str, Diary]]:
    """Those who could do a unit, best first, each with what speaks for them."""
    if len(able) <= 1:
        return [(_forced(unit, diary), diary) for diary in able]
    ranked = []
    for place, diary in enumerate(able):
        load = diary.weeks_for(diary.load + unit.minutes)
        is_near = diary.worker.key == near
        favour = FOR_GROUP if is_near else 0.0
        favour += _for_training(unit, diary.worker)
        has_quota = quotas is None or left.get((unit.kind, diary.worker.key), 0.0) > LEAST_MINUTES
        ranked.append((not has_quota, load - favour, place, load, is_near, diary))
    ranked.sort(key=lambda each: each[:3])
    least = min(each[3] for each in ranked)
    return [
        (_speaks_for(unit, diary.worker, load <= least + 1e-9, is_near), diary)
        for _, _, _, load, is_near, diary in ranked
    ]


def _for_training(unit: Unit, worker: Worker) -> float:
    if not worker.is_newcomer or unit.kind.is_easy:
        return FOR_TRAINING if worker.is_newcomer else 0.0
    return -FOR_TRAINING


def _forced(unit: Unit, diary: Diary) -> str:
    return HARD_FORM if unit.kind.is_hard and diary.worker.is_newcomer else ONLY


def _speaks_for(unit: Unit, worker: Worker, is_least: bool, is_near: bool) -> str:
    if unit.kind.is_hard and worker.is_newcomer:
        return HARD_FORM
    if is_near:
        return GROUP
    if is_least:
        return LEAST_LOAD
    return EASY_FORM if worker.is_newcomer and unit.kind.is_easy else GUIDED


def _by_load(unit: Unit, spare: Sequence[Diary]) -> list[tuple[str, Diary]]:
    ranked = sorted(spare, key=lambda diary: diary.weeks_for(diary.load + unit.minutes))
    return [(LAST_RESORT, diary) for diary in ranked]
