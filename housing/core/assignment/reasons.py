"""One sentence for each step: why this person, why this week, or why nobody."""

from collections.abc import Sequence

from housing.core.assignment import giving
from housing.core.assignment.improving import MOVED
from housing.core.assignment.placing import Placing
from housing.core.assignment.units import Kind
from housing.core.assignment.work import NOBODY, Work, Worker


def reason_of(placing: Placing, number: int, people: Sequence[Worker]) -> str:
    """The sentence for all works of a unit."""
    unit = placing.units[number]
    key = placing.of[number]
    if unit.owner == NOBODY:
        return "Given to nobody by hand."
    if key is None:
        return why_nobody(unit.works[0], unit.kind, people)
    called = next((person.called for person in people if person.key == key), key)
    return f"{_why_person(placing, number, called)}; {_why_week(placing, number)}."


def _why_person(placing: Placing, number: int, called: str) -> str:
    unit = placing.units[number]
    match placing.why.get(number, giving.LEAST_LOAD):
        case giving.BEGUN:
            return f"Begun by {called}"
        case giving.FIXED:
            return f"Given by hand to {called}"
        case giving.ONLY:
            leave = " and may handle hazardous objects" if unit.kind.is_hazardous else ""
            of_others = ", newcomers apart," if placing.spare[unit.kind] else ""
            return f"Only {called}{of_others} has {_skills(unit.kind)}{leave}"
        case giving.GROUP:
            return f"{called} has other work {unit.group} too"
        case giving.EASY_FORM:
            return f"{called} is a newcomer and this form is easy to make"
        case giving.HARD_FORM:
            return f"Hard to make, but nobody except newcomers has {_skills(unit.kind)}, so {called} has it"
        case giving.LAST_RESORT:
            return (
                f"Hard to make, but nobody practised has hours left for it, so {called}, a newcomer, has it"
            )
        case giving.GUIDED:
            return f"With {called} having it others are free for what only they can do"
        case giving_moved if giving_moved == MOVED:
            return f"{called} has room for it, so that all ends earlier"
        case _:
            return f"{called} had the least to do, in weeks of their own hours"


def _why_week(placing: Placing, number: int) -> str:
    unit = placing.units[number]
    start, end = placing.starts[number], placing.ends[number]
    if number in placing.over:
        if placing.of[number] not in placing.diaries:
            return f"they have no hours in this campaign, so it waits for them in week {start + 1}"
        return f"no hours are left for it, so week {start + 1} holds too much"
    if end > start:
        return f"it takes longer than a week and runs on to week {end + 1}"
    if unit.rests and start == unit.earliest:
        return f"it rests until week {start + 1}, {unit.rests}"
    if start == placing.earliest(number):
        return f"week {start + 1} is the first in which it can be done"
    return (
        f"week {start + 1} is the first with room"
        if placing.why.get(number) != MOVED
        else (f"week {start + 1} had room")
    )


def why_nobody(item: Work, kind: Kind, people: Sequence[Worker]) -> str:
    """Why nobody has a work: no skill, no leave, no hours, or none left."""
    able = [person for person in people if kind.suits(person)]
    if any(person.has_time for person in able):
        return f"Nobody with {_skills(kind)} has hours enough left."
    if able:
        return f"Nobody with {_skills(kind)} has any hours to give."
    if any(kind.skills <= person.skills for person in people):
        return f"Nobody has {_skills(kind)} and may handle hazardous objects."
    return f"Nobody has {_skills(kind)}."


def _skills(kind: Kind) -> str:
    named = " and ".join(f"“{skill}”" for skill in sorted(kind.skills))
    return f"the skill{'s' if len(kind.skills) > 1 else ''} {named}"
