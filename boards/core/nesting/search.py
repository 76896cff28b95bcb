"""The search for the best plan: a first one, then the same blanks on less board, again and again."""

import math
import time
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from decimal import Decimal
from random import Random
from typing import Any

import numpy as np

from boards.core.nesting.bound import Bound
from boards.core.nesting.compiled.annealing import anneal
from boards.core.nesting.compiled.trees import USED
from boards.core.nesting.first_plans import complete, fill_corners, first_plan, lay_out
from boards.core.nesting.job import Job, Wholes
from boards.core.nesting.mixes import Mix, Needs, cheapest_area, money, roomiest
from boards.core.nesting.state import SPARE_NODES, State

THREADS = 2
FEWEST_TO_SHARE = 16  # sheets from which two threads take half of them each
# Work as compiled/annealing.py counts it. A second is given so much of it in each thread that a machine of
# these years is done in time, so that the same limit means the same plan; the clock is the second guard.
WORK_A_SECOND = 50_000_000
ROUND = 3_000_000  # and in a plan of many sheets so much for each:
ROUND_A_SHEET = 6_000
FEWEST_ROUNDS = 30
WORK_A_BLANK = 200_000
LEAST_WORK = 10_000_000
ROOM_OUT = 16_384  # blanks that may be left out in a round beyond those that were
HOT, COLD = 0.2, 0.006  # temperatures, in areas of a blank of middling size
REWARD = 0.3  # what it counts for a blank to lie in a corner, over being left out
JUMP = 1.006  # the first goal: so much board over the area of the blanks
MOST_DISTURBED = 4  # whole sheets of an earlier plan
MOST_MOVED = 20  # blanks for whose number work is done for each that an earlier plan has no place for
# Of the work left, for a goal that a smaller one can follow: more where there is little for each sheet.
SHARE, LARGE_SHARE = 0.45, 0.8
LITTLE_A_SHEET = 10_000_000
MOST_CAUTION = 40
SMALLEST = Decimal("0.0001")  # saving


# What gets blanks left out onto the sheets of a plan of trees, or of blanks laid freely.
Run = Callable[[Any, float, Random, "Limits", Any, Bound], None]


@dataclass(frozen=True)
class Standing:
    """How far a search is: share of its work, seconds spent, money and sheets of the best plan, the bound."""

    share: float
    seconds: float
    cost: Decimal
    sheets: int
    least: Bound


# Is told now and then how far the search is; answers whether to stop with the best plan so far.
Watch = Callable[[Standing], bool]


@dataclass
class Limits:
    """How long a search may take: work in all and what is done of it, the clock's reading at its end."""

    work: float
    until: float | None = None
    watch: Watch | None = None
    begun: float = field(default_factory=time.monotonic)
    done: float = 0.0
    is_stopped: bool = False

    @property
    def left(self) -> float:
        """Work that may still be done, 0 once the time is up or somebody wants the best plan so far."""
        if self.is_stopped or (self.until is not None and time.monotonic() > self.until):
            return 0.0
        return max(0.0, self.work - self.done)

    def tell(self, best: State, least: Bound) -> None:
        """Say how far the search is."""
        if self.watch:
            share, seconds = min(1.0, self.done / self.work), time.monotonic() - self.begun
            if self.watch(Standing(share, seconds, best.money, len(best.opened), least)):
                self.is_stopped = True


def search(job: Job, todo: Sequence[int], least: Bound, seed: int, limits: Limits) -> State:
    """The best plan found.

    todo: indexes of the blanks to be laid. least: the bound, at which only the leftover can still be better.
    seed: the same one gives the same plan, unless the clock or somebody ends the search.
    """
    random = Random(seed)
    best = first_plan(job, todo, chance_of(random))
    limits.tell(best, least)
    return improve(best, least, random, limits, run)


def improve[Plan: State](best: Plan, least: Bound, random: Random, limits: Limits, anneal_all: Run) -> Plan:
    """The best plan found from one on: less money or fewer sheets at each goal, the boldest first.

    anneal_all: gets blanks left out onto the sheets of a plan, as run() does.
    """
    caution = 0
    while limits.left:
        goal = None if best.out else next_goal(best.job, best, least, caution)
        state = begin(best, goal)
        if not state.out and not (goal and state.opened):
            break
        is_last = goal is None or goal == next_goal(best.job, best, least, MOST_CAUTION)
        scarce = limits.left < LITTLE_A_SHEET * len(best.opened)
        work = limits.left * (1.0 if is_last else LARGE_SHARE if scarce else SHARE)
        if goal is None and not best.out:
            work = min(work, work_for(best.job.count) / 4)
        anneal_all(state, work, random, limits, best, least)
        is_met = not state.out
        complete(state, chance_of(random))
        if state.value < best.value:
            best = state
        if not is_met:
            caution += 1
        if is_last and not (goal and is_met):
            break
    return best


def go_on(state: State, broken: Sequence[int], least: Bound, seed: int, limits: Limits) -> State:
    """A plan completed with few changes: blanks left out go where there is room, else on further sheets.

    broken: sheets that lost blanks; only on these and a few others with much room do blanks already laid
    move, and only where that makes room.
    """
    random = Random(seed)
    fill_corners(state, chance_of(random))
    state.fill([*broken, *sorted(set(state.opened) - set(broken))], chance_of(random))
    others = set(state.opened) - set(broken)
    roomy = sorted(others, key=lambda number: (-state.free_share(number), number))
    for disturbed in (0, MOST_DISTURBED):
        chosen = [*broken, *roomy[:disturbed]]
        if not state.out or not chosen:
            continue
        tried = state.copy()
        tried.opened = chosen
        work = min(limits.left, work_for(MOST_MOVED * len(state.out)) / 2)
        run(tried, work, random, limits, tried, least)
        if not tried.out:
            tried.opened += roomy[disturbed:]
            state = tried
    complete(state, chance_of(random))
    return state


def work_for(blanks: int) -> float:
    """How much work a search without a time limit does."""
    return LEAST_WORK + WORK_A_BLANK * blanks


def work_in(seconds: float) -> float:
    """How much work a search with a time limit does."""
    return max(1.0, seconds * WORK_A_SECOND)


def next_goal(job: Job, best: State, least: Bound, caution: int) -> Mix | None:
    """The sheets on which the blanks shall lie next: less money, or as much and fewer; None if at the bound.

    caution: from 0, the boldest goal, up; each step halves what is to be saved.
    """
    here, cost, sheets = tuple(best.counts()), best.money, len(best.opened)
    if cost <= least.cost and sheets <= least.sheets:
        return None
    needs = Needs(job, [int(blank) for blank in np.flatnonzero(lies_on_sheet(best))])
    if cost > least.cost:
        bold = cheapest_area(job, needs, JUMP)
        saving = (cost - money(job, bold)) / 2**caution if needs.are_met(bold) else Decimal(0)
        for budget in (cost - saving, cost - SMALLEST):
            if budget < cost and (mix := roomiest(job, here, needs, budget, math.inf)):
                return mix
    return roomiest(job, here, needs, cost, sheets - 1) if sheets > 1 else None


def lies_on_sheet(state: State) -> np.ndarray:
    """By blank: whether it lies on a sheet itself rather than in a corner or nowhere."""
    return state.bin_of >= state.corner_count


def begin[Plan: State](best: Plan, goal: Mix | None) -> Plan:
    """The best plan on other sheets, some blanks left out; without a goal the emptiest sheet is given up."""
    state = best.copy()
    if goal is not None:
        lay_out(state, goal)
    elif len(state.opened) > 1 and not state.out:
        state.close([min(state.opened, key=lambda number: (state.bin_sides[number, USED], number))])
    return state


def run(state: State, work: float, random: Random, limits: Limits, best: State, least: Bound) -> None:
    """Anneal until nothing is left out or so much work is done.

    Where there are too few sheets for two threads to share them, each has a plan of its own and the better
    one is taken.
    """
    begun, end = limits.done, limits.done + work
    middling = float(state.job.areas.mean()) * state.scale
    hot, cold = HOT * middling, COLD * middling
    step = max(ROUND, min(ROUND_A_SHEET * len(state.opened), work / FEWEST_ROUNDS))
    twins = [state, state.copy()] if len(state.opened) < FEWEST_TO_SHARE else [state]
    in_pool = [np.zeros(state.job.count, np.bool_) for _ in range(THREADS)]
    with ThreadPoolExecutor(THREADS) as threads:
        while all(twin.out for twin in twins) and state.opened and limits.left and limits.done < end:
            now = (limits.done - begun) / work
            then = min(1.0, now + step / work)
            heats = hot * (cold / hot) ** now, hot * (cold / hot) ** then
            groups = [group for twin in twins for group in divide(twin, THREADS // len(twins), random)]
            jobs = [
                threads.submit(anneal_group, group, heats, step, chance_of(random), marks)
                for group, marks in zip(groups, in_pool, strict=True)
            ]
            # A group that is done early counts in full: its thread waited for the other one.
            limits.done += max(job.result() for job in jobs)
            for twin in twins:
                unite(twin, [group for group in groups if group.state is twin])
            limits.tell(best, least)
    state.become(min(twins, key=lambda twin: twin.area_out))


@dataclass
class Group:
    """Sheets, blanks left out and room for trees that one thread works on."""

    state: State
    opened: list[int]
    out: list[int]
    arena: Wholes


def divide(state: State, count: int, random: Random) -> list[Group]:
    """All sheets and blanks left out by lot in so many groups."""
    state.make_room(count * (SPARE_NODES + 50 * state.most_nodes))
    opened, out = sorted(state.opened), sorted(state.out)
    random.shuffle(opened)
    random.shuffle(out)
    first, last = (int(place) for place in state.arena)
    bounds = [first + (last - first) * i // count for i in range(count + 1)]
    return [Group(state, opened[i::count], out[i::count], np.array(bounds[i : i + 2])) for i in range(count)]


def unite(state: State, groups: Sequence[Group]) -> None:
    """Put the groups of a plan together again."""
    state.arena[:] = groups[-1].arena
    state.opened = [number for group in groups for number in group.opened]
    state.out = [blank for group in groups for blank in group.out]


def anneal_group(
    group: Group, heats: tuple[float, float], work: float, chance: np.ndarray, in_pool: np.ndarray
) -> float:
    """One round of one thread; returns the work done."""
    state = group.state
    out = np.zeros(len(group.out) + ROOM_OUT + 25 * state.most_nodes, np.int64)
    out[: len(group.out)] = group.out
    count = np.array([len(group.out)])
    done = anneal(
        state.blanks, state.about, state.bin_of, state.turned, state.bins, state.bin_sides, state.kept_side,
        state.kept, group.arena, np.array(group.opened, np.int64), len(group.opened), out, count, state.scale,
        REWARD if state.corner_count else 0.0, heats[0], heats[1], work, chance, in_pool,
    )  # fmt: skip
    group.out = [int(blank) for blank in out[: count[0]]]
    return float(max(done, 1))


def chance_of(random: Random) -> np.ndarray:
    """A state for compiled/chance.py, never 0."""
    return np.array([random.getrandbits(63) + 1], np.uint64)
