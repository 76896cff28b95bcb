"""What no way of giving out the work could do better than, and how it would be shared out then."""

from collections import defaultdict
from collections.abc import Mapping

from housing.core.assignment.diary import Diary
from housing.core.assignment.placing import Placing
from housing.core.assignment.units import Kind
from housing.core.linear import NotSolved, Program

# A share of the minutes that the solver's tolerance must not turn into a week.
TOLERANCE = 1e-6
SLICES = 8  # of the weeks there are: work is spread evenly over people by paying more for each later one


def least_week(placing: Placing) -> int:
    """A lower bound of the last week, counted from 1, for the work that somebody has in a placing.

    The greater of two: how long the steps of one box take one after the other, were everybody free; and the
    first week by whose end the people have the minutes for all the work, if it could be split at will among
    those who can do it (a linear program over kinds of units and people). Work for which an owner has no time
    is left out of both.
    """
    chains = _longest_chain(placing)
    load, able = _loads(placing)
    low, high = max(chains, 1 if load else 0), placing.last_week
    while low < high:
        middle = (low + high) // 2
        if _is_enough(load, able, middle):
            high = middle
        else:
            low = middle + 1
    return low


def quotas_by(placing: Placing, weeks: int) -> Mapping[tuple[Kind, str], float]:
    """Minutes of each kind for each person with which all work is done in so many weeks, split at will.

    Of the ways to do so one that keeps everybody's load, in weeks of their own, alike; empty where there is
    none.
    """
    load, able = _loads(placing)
    program, shares = Program(), {}
    of_person: defaultdict[str, dict[int, float]] = defaultdict(dict)
    for kind, minutes in load.items():
        terms = {}
        for diary in able[kind]:
            variable = program.variable()
            shares[kind, diary.worker.key] = variable
            terms[variable] = 1.0
            of_person[diary.worker.key][variable] = 1.0
        program.row(terms, minutes, minutes)
    for key, row in of_person.items():
        diary = placing.diaries[key]
        for part in range(SLICES):
            there = diary.until(weeks * (part + 1) / SLICES) - diary.until(weeks * part / SLICES)
            row[program.variable((part + 1) ** 2, 0.0, max(there, 0.0))] = -1.0
        program.row(row, high=0.0)
    try:
        solved = program.solve()
    except NotSolved:
        return {}
    return {of: solved.values[variable] for of, variable in shares.items()}


def _loads(placing: Placing) -> tuple[dict[Kind, float], dict[Kind, list[Diary]]]:
    """Minutes by kind, and who may do each: those who should, and whoever has some of it."""
    load: defaultdict[Kind, float] = defaultdict(float)
    able: dict[Kind, list[Diary]] = {}
    for number, unit in enumerate(placing.units):
        diary = placing.diaries.get(placing.of[number] or "")
        if diary is None or number in placing.over:
            continue
        kind = unit.kind
        load[kind] += unit.minutes
        if kind not in able:
            able[kind] = [] if kind.owner is not None else list(placing.able[kind])
        if diary not in able[kind]:
            able[kind].append(diary)
    return dict(load), able


def _is_enough(load: Mapping[Kind, float], able: Mapping[Kind, list[Diary]], weeks: int) -> bool:
    """Whether people have the minutes in so many weeks; where the solver does not say, they have."""
    program = Program()
    of_person: defaultdict[str, dict[int, float]] = defaultdict(dict)
    people = {}
    for kind, minutes in load.items():
        terms = {}
        for diary in able[kind]:
            variable = program.variable()
            terms[variable] = of_person[diary.worker.key][variable] = 1.0
            people[diary.worker.key] = diary
        terms[program.variable(1.0)] = 1.0  # what is lacking
        program.row(terms, low=minutes)
    for key, row in of_person.items():
        program.row(row, high=people[key].until(weeks))
    try:
        lacking = program.solve().objective
    except NotSolved:
        return True
    return lacking <= TOLERANCE * (1 + sum(load.values()))


def _longest_chain(placing: Placing) -> int:
    """The last week, counted from 1, were every unit done at once by whoever is free first."""
    ends = [0] * len(placing.units)
    last = 0
    for number in placing.order:
        unit = placing.units[number]
        start = max([unit.earliest, *(ends[other] for other in unit.after)])
        ends[number] = start
        key = placing.of[number]
        if key is None:
            continue
        if key in placing.diaries and number not in placing.over:
            who = [placing.diaries[key]]
            if unit.owner is None:
                who += placing.able[unit.kind]
            ends[number] = int(min(diary.least_end(start, unit.minutes) for diary in who))
        last = max(last, ends[number] + 1)
    return last
