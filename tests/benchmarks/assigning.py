"""How long giving out the work takes, and how far it is from the best: python -m tests.benchmarks.assigning

Beside it, in the same process, a plain greedy way that takes units as listed and gives each to whoever
has least to do in weeks; and, for small questions, the best there is by an integer program that the
solver proves.
"""

import sys
from collections import defaultdict
from collections.abc import Sequence
from random import Random
from time import perf_counter

from housing.core.assignment import NEWCOMER, PRACTISED, Schedule, Work, Worker, assign
from housing.core.difficulty import EASY, HARD, ORDINARY
from housing.core.linear import Program
from housing.core.steps import OF_SHEETS, SKILL_OF_STEP, STEPS, waits_for

BOXES = 5_000
BOXES_A_SHEET = 3
QUESTIONS = 3
SMALL = 12  # boxes of the small questions, done by four people of few hours
MINUTES = {
    "measure": (4, 12), "fetch": (1, 3), "cut": (4, 15), "score": (5, 15), "glue": (10, 40), "lid": (5, 25),
    "fit": (5, 20), "label": (1, 4), "return": (3, 10),
}  # fmt: skip


def question(boxes: int, seed: int, hours: float = 20.0) -> tuple[list[Work], list[Worker]]:
    """Nine steps a box, ten people of unlike skills and hours, some of them away now and then."""
    random = Random(seed)
    work = []
    for box in range(boxes):
        sheet = f"sheet {box // BOXES_A_SHEET + 1}"
        place, priority = f"Bay {random.randint(1, 40)}", random.choice("ABBCCC")
        hard, hazard = random.choice((EASY, ORDINARY, ORDINARY, HARD)), random.random() < 0.1
        for step in STEPS:
            minutes = random.uniform(*MINUTES[step])
            work.append(
                Work(
                    f"{box}:{step}", SKILL_OF_STEP[step], minutes, priority, place, hazard,
                    after=tuple(f"{box}:{one}" for one in waits_for(step, STEPS)),
                    score=random.uniform(5, 12),
                    bundle=sheet if step in OF_SHEETS else "",
                    group="" if step in OF_SHEETS else sheet,
                    difficulty=hard if step in ("score", "glue", "lid") else ORDINARY,
                )
            )  # fmt: skip
    skills = (
        "measure return", "measure return label", "cut", "cut fold", "cut fold fit", "fold", "fold",
        "fold fit label", "fit label return", "measure cut fold fit label return",
    )  # fmt: skip
    people = []
    for number, of_person in enumerate(skills):
        week = random.choice((0.4, 0.6, 1.0)) * hours * 60
        weeks = [week * random.choice((1, 1, 1, 0.6, 0)) for _ in range(30)] + [week]
        training = NEWCOMER if number in (5, 6) else PRACTISED
        people.append(
            Worker(str(number), week, frozenset(of_person.split()), number % 2 == 0, weeks, training)
        )
    people[-1] = Worker("9", hours * 60, people[-1].skills, True)
    return work, people


def plain_greedy(work: Sequence[Work], people: Sequence[Worker]) -> int:
    """The last week when bundles, as listed, go each to whoever has least to do and into the first room."""
    bundles: defaultdict[str, list[Work]] = defaultdict(list)
    for item in work:
        bundles[item.bundle or item.key].append(item)
    of_key = {item.key: name for name, items in bundles.items() for item in items}
    used = {person.key: defaultdict(float) for person in people}
    loads = dict.fromkeys(used, 0.0)
    usual = {person.key: sum(person.weeks) / len(person.weeks) for person in people}
    ends: dict[str, int] = {}

    def give(name: str) -> None:
        if name in ends:
            return
        items = bundles[name]
        before = {of_key[key] for item in items for key in item.after} - {name}
        for other in before:
            give(other)
        minutes = sum(item.minutes for item in items)
        able = [one for one in people if all(_can(one, item) for item in items)]
        who = min(able, key=lambda one: (loads[one.key] + minutes) / usual[one.key])
        week = max((ends[other] for other in before), default=0)
        while used[who.key][week] + minutes > who.weeks[min(week, len(who.weeks) - 1)]:
            week += 1
        used[who.key][week] += minutes
        loads[who.key] += minutes
        ends[name] = week

    for name in bundles:
        give(name)
    return max(ends.values()) + 1


def best_by_program(work: Sequence[Work], people: Sequence[Worker], weeks: int) -> tuple[int, int]:
    """Least last week within so many weeks, and what is proved of it: a unit in one week with one person."""
    bundles: defaultdict[str, list[Work]] = defaultdict(list)
    for item in work:
        bundles[item.bundle or item.key].append(item)
    of_key = {item.key: name for name, items in bundles.items() for item in items}
    program = Program()
    last = program.variable(1.0, 1.0)
    rooms: defaultdict[tuple[str, int], dict[int, float]] = defaultdict(dict)
    when: dict[str, dict[int, float]] = {}
    for name, items in bundles.items():
        minutes, when[name], once = sum(item.minutes for item in items), {}, {}
        for person in (one for one in people if all(_can(one, item) for item in items)):
            for week in range(weeks):
                chosen = program.variable(0.0, 0.0, 1.0, whole=True)
                once[chosen] = 1.0
                when[name][chosen] = week + 1.0
                rooms[person.key, week][chosen] = minutes
        program.row(once, 1.0, 1.0)
        program.row({last: 1.0} | {one: -week for one, week in when[name].items()}, low=0.0)
    for name, items in bundles.items():
        for other in {of_key[key] for item in items for key in item.after} - {name}:
            program.row(when[name] | {one: -week for one, week in when[other].items()}, low=0.0)
    by_key = {person.key: person for person in people}
    for (key, week), row in rooms.items():
        there = by_key[key].weeks
        program.row(row, high=there[min(week, len(there) - 1)])
    solved = program.solve(seconds=60)
    return round(solved.objective), round(solved.bound + 0.499)


def _can(person: Worker, item: Work) -> bool:
    is_too_hard = item.difficulty == HARD and person.training == NEWCOMER
    return (
        item.skill in person.skills
        and (person.may_handle_hazards or not item.is_hazardous)
        and not is_too_hard
    )


def _timed(work: Sequence[Work], people: Sequence[Worker]) -> tuple[Schedule, float]:
    begun = perf_counter()
    schedule = assign(work, people)
    return schedule, perf_counter() - begun


def main(boxes: int) -> None:
    for seed in range(QUESTIONS):
        work, people = question(boxes, seed)
        schedule, seconds = _timed(work, people)
        begun = perf_counter()
        plain = plain_greedy(work, people)
        print(
            f"{len(work):,} steps, question {seed}: week {schedule.last_week}, none better than week "
            f"{schedule.least_week} (gap {schedule.gap:.1%}), {seconds:.2f} s; plain greedy week {plain}, "
            f"{perf_counter() - begun:.2f} s"
        )
    for seed in range(5):
        work, people = question(SMALL, seed, hours=4)
        people = [people[number] for number in (0, 4, 7, 9)]
        schedule, seconds = _timed(work, people)
        plain = plain_greedy(work, people)
        begun = perf_counter()
        best, proved = best_by_program(work, people, max(schedule.last_week, plain))
        print(
            f"{len(work)} steps, small question {seed}: week {schedule.last_week}, bound "
            f"{schedule.least_week}, {seconds:.3f} s; plain greedy week {plain}; best by integer "
            f"program week {best} (proved {proved}), {perf_counter() - begun:.1f} s"
        )


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else BOXES)
