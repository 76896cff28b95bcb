"""One sentence for each step: why this person, why this week, or why nobody.

Sentences are in English, since tasks keep them; retold() says them in the reader's language.
"""

from collections.abc import Sequence

from housing.core.assignment import giving
from housing.core.assignment.improving import MOVED
from housing.core.assignment.placing import Placing
from housing.core.assignment.units import Kind
from housing.core.assignment.work import NOBODY, Work, Worker
from objects.core.words import noted


def reason_of(placing: Placing, number: int, people: Sequence[Worker]) -> str:
    """The sentence for all works of a unit."""
    unit = placing.units[number]
    key = placing.of[number]
    if unit.owner == NOBODY:
        return noted("Given to nobody by hand.")
    if key is None:
        return why_nobody(unit.works[0], unit.kind, people)
    called = next((person.called for person in people if person.key == key), key)
    return f"{_why_person(placing, number, called)}; {_why_week(placing, number)}."


def _why_person(placing: Placing, number: int, called: str) -> str:
    unit = placing.units[number]
    skills = _skills(unit.kind)
    match placing.why.get(number, giving.LEAST_LOAD):
        case giving.BEGUN:
            return noted("Begun by {who}").format(who=called)
        case giving.FIXED:
            return noted("Given by hand to {who}").format(who=called)
        case giving.ONLY:
            return _only(placing, unit.kind).format(who=called, skills=skills)
        case giving.GROUP:
            return noted("{who} has other work {of_group} too").format(who=called, of_group=unit.group)
        case giving.EASY_FORM:
            return noted("{who} is a newcomer and this form is easy to make").format(who=called)
        case giving.HARD_FORM:
            return noted("Hard to make, but nobody except newcomers has {skills}, so {who} has it").format(
                skills=skills, who=called
            )
        case giving.LAST_RESORT:
            return noted(
                "Hard to make, but nobody practised has hours left for it, so {who}, a newcomer, has it"
            ).format(who=called)
        case giving.GUIDED:
            return noted("With {who} having it others are free for what only they can do").format(who=called)
        case giving_moved if giving_moved == MOVED:
            return noted("{who} has room for it, so that all ends earlier").format(who=called)
        case _:
            return noted("{who} had the least to do, in weeks of their own hours").format(who=called)


def _only(placing: Placing, kind: Kind) -> str:
    """The message on the one person who can do it."""
    match bool(placing.spare[kind]), bool(kind.is_hazardous):
        case True, True:
            return noted("Only {who}, newcomers apart, has {skills} and may handle hazardous objects")
        case True, False:
            return noted("Only {who}, newcomers apart, has {skills}")
        case False, True:
            return noted("Only {who} has {skills} and may handle hazardous objects")
        case _:
            return noted("Only {who} has {skills}")


def _why_week(placing: Placing, number: int) -> str:
    unit = placing.units[number]
    start, end = placing.starts[number], placing.ends[number]
    week = start + 1
    if number in placing.over:
        if placing.of[number] not in placing.diaries:
            return noted("they have no hours in this campaign, so it waits for them in week {week}").format(
                week=week
            )
        return noted("no hours are left for it, so week {week} holds too much").format(week=week)
    if end > start:
        return noted("it takes longer than a week and runs on to week {week}").format(week=end + 1)
    if unit.rests and start == unit.earliest:
        return noted("it rests until week {week}, {why_it_rests}").format(week=week, why_it_rests=unit.rests)
    if start == placing.earliest(number):
        return noted("week {week} is the first in which it can be done").format(week=week)
    if placing.why.get(number) == MOVED:
        return noted("week {week} had room").format(week=week)
    return noted("week {week} is the first with room").format(week=week)


def why_nobody(item: Work, kind: Kind, people: Sequence[Worker]) -> str:
    """Why nobody has a work: no skill, no leave, no hours, or none left."""
    able = [person for person in people if kind.suits(person)]
    skills = _skills(kind)
    if any(person.has_time for person in able):
        return noted("Nobody with {skills} has hours enough left.").format(skills=skills)
    if able:
        return noted("Nobody with {skills} has any hours to give.").format(skills=skills)
    if any(kind.skills <= person.skills for person in people):
        return noted("Nobody has {skills} and may handle hazardous objects.").format(skills=skills)
    return noted("Nobody has {skills}.").format(skills=skills)


def _skills(kind: Kind) -> str:
    named = " and ".join(f"“{skill}”" for skill in sorted(kind.skills))
    if len(kind.skills) > 1:
        return noted("the skills {text}").format(text=named)
    return noted("the skill {text}").format(text=named)
