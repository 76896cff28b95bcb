"""The search for the best plan: a first one from fixed rules, then part of it laid anew again and again."""

import time
from collections.abc import Sequence
from random import Random

from boards.core.nesting.bound import Bound
from boards.core.nesting.first_plans import first_plans
from boards.core.nesting.job import Job
from boards.core.nesting.plan import Plan, value
from boards.core.nesting.relaying import Relaying

# About 0.7 s for 80 blanks and 9 s for 1,000, on one core. The least number is also made when neither money
# nor sheets can be saved, to gather what is left over.
TRIES_PER_BLANK = 25
LEAST_TRIES = 400


def search(job: Job, todo: Sequence[int], least: Bound, random: Random, until: float | None) -> Plan:
    """The best plan found.

    todo: indexes of the blanks to be laid. least: the bound, where only the leftover can still be better.
    until: the clock's reading at which to stop; None stops after a number of tries that depends on how many
    blanks there are.
    """
    best = Plan([], list(todo))
    for plan in first_plans(job, todo):
        best = min(best, plan, key=lambda plan: value(job, plan.sheets, plan.left_out))
        if until is not None and time.monotonic() > until:
            return best

    relaying, tries = Relaying(job, best, random), 0
    most_tries = max(LEAST_TRIES, TRIES_PER_BLANK * len(todo))
    at_best = is_best_possible(job, best, least)
    while relaying.sheets and has_time(tries, most_tries, until):
        if at_best and (tries >= LEAST_TRIES or len(relaying.sheets) == 1):
            break
        at_best = relaying.try_once() and is_best_possible(job, relaying.plan, least) or at_best
        tries += 1
    relaying.use_what_is_left()
    return relaying.plan


def has_time(tries: int, most_tries: int, until: float | None) -> bool:
    """Whether another try may be made."""
    return tries < most_tries if until is None else time.monotonic() < until


def is_best_possible(job: Job, plan: Plan, least: Bound) -> bool:
    """Whether nothing is left out and neither money nor sheets can be saved."""
    left_out_area, money, sheets, _ = value(job, plan.sheets, plan.left_out)
    return not left_out_area and money <= least.cost and sheets <= least.sheets
