"""Work and people for tests of giving out, and a judge that shares no code with it."""

from collections import defaultdict
from collections.abc import Sequence

from housing.core.assignment import Schedule, Work, Worker, assign


def make_work(key, skill="cut", minutes=60.0, priority="B", location="Bay 1", **rest) -> Work:
    return Work(key, skill, minutes, priority, location, **rest)


def make_worker(key, minutes=600.0, skills=("cut",), hazards=False, **rest) -> Worker:
    """minutes: of each week, or a list of them by week."""
    by_week = tuple(minutes) if isinstance(minutes, Sequence) else ()
    return Worker(key, 0.0 if by_week else minutes, frozenset(skills), hazards, by_week, **rest)


def given_out(work, people) -> dict[str, tuple[str | None, int]]:
    return {item.key: (item.worker_key, item.week) for item in assign(work, people).assigned}


def minutes_of(worker: Worker, week: int) -> float:
    """Minutes that a person has in a week counted from 1."""
    by_week = list(worker.minutes_by_week) or [worker.minutes_per_week]
    return by_week[min(week, len(by_week)) - 1]


def faults(work: Sequence[Work], people: Sequence[Worker], schedule: Schedule) -> list[str]:
    """What is wrong with work given out: skills, hazards, bundles, order, begun work, too full weeks."""
    found = []
    by_key = {person.key: person for person in people}
    out = {item.key: item for item in schedule.assigned}
    if [item.key for item in schedule.assigned] != [item.key for item in work]:
        found.append("not one answer a step in the order of the work")
    loads: defaultdict[tuple[str, int], float] = defaultdict(float)
    bundles = defaultdict(set)
    owned = {item.bundle for item in work if item.bundle and (item.kept_with or item.fixed_to)}
    for item in work:
        given = out[item.key]
        owner = item.kept_with or item.fixed_to
        if not given.reason:
            found.append(f"{item.key} has no reason")
        if owner and given.worker_key != owner:
            found.append(f"{item.key} was taken from {owner}")
        if given.week < item.not_before:
            found.append(f"{item.key} begins before it may")
        found += [
            f"{item.key} begins before {key} does"
            for key in item.after
            if key in out and given.week < out[key].week
        ]
        if owner or given.worker_key is None:
            continue
        person = by_key[given.worker_key]
        if item.skill not in person.skills or (item.is_hazardous and not person.may_handle_hazards):
            found.append(f"{person.key} cannot do {item.key}")
        if item.bundle:
            bundles[item.bundle].add((given.worker_key, given.week))
        if item.bundle not in owned:  # what goes with work given by hand may be too much
            loads[given.worker_key, given.week] += item.minutes
    found += [f"bundle {bundle} is torn" for bundle, whos in bundles.items() if len(whos) > 1]
    for (key, week), minutes in loads.items():
        is_too_full = minutes > minutes_of(by_key[key], week) + 1e-3
        if is_too_full and not _is_one_overlong(work, out, key, week, by_key):
            found.append(f"week {week} of {key} is too full")
    return found


def _is_one_overlong(work, out, key, week, by_key) -> bool:
    """Whether a week has a step, or a bundle, that is longer than any week to come and so runs on alone."""
    here = [item for item in work if (out[item.key].worker_key, out[item.key].week) == (key, week)]
    here = [item for item in here if not (item.kept_with or item.fixed_to) and item.minutes > 1e-6]
    weeks = range(week, week + 20)
    return len({item.bundle or item.key for item in here}) == 1 and sum(item.minutes for item in here) > max(
        minutes_of(by_key[key], one) for one in weeks
    )
