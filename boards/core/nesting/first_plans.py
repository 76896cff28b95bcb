"""Whole plans made at once: a first one, one on other sheets, a place for those left out."""

from collections.abc import Callable, Sequence

import numpy as np

from boards.core.nesting.compiled.trees import HOST, KIND, USED
from boards.core.nesting.job import Job, Kind
from boards.core.nesting.mixes import Mix
from boards.core.nesting.state import State

MANY = 2000  # blanks from which only the first opening order is tried
PLENTY = 1.15  # sheets opened at a time, over what the area of the blanks needs

Order = Callable[[Kind], tuple[float, ...]]
# Which kinds of sheets are opened first; of each kind all there are, as long as blanks wait.
OPENING_ORDERS: tuple[Order, ...] = (
    lambda kind: (float(kind.sheet.price) / kind.area, -kind.area),
    lambda kind: (float(kind.sheet.price) / kind.area, kind.area),
    lambda kind: (float(kind.sheet.price), kind.area),
    lambda kind: (-kind.area, float(kind.sheet.price)),
)


def first_plan(job: Job, todo: Sequence[int], chance: np.ndarray) -> State:
    """The best of a few plans made sheet by sheet; what the stock does not reach for is left out."""
    orders = OPENING_ORDERS if len(job.kinds) > 1 and len(todo) <= MANY else OPENING_ORDERS[:1]
    empty = State.of(job, todo)
    fill_corners(empty, chance)
    plans = []
    for order in orders:
        state = empty.copy()
        open_and_fill(state, order, chance)
        complete(state, chance)
        plans.append(state)
    return min(plans, key=lambda state: state.value)


def fill_corners(state: State, chance: np.ndarray) -> None:
    """Lay blanks in the corners of others, the largest corners first; of those left out if all are."""
    sides = state.bin_sides[: state.corner_count]
    areas = sides[:, 0] * sides[:, 1]
    hosts = state.bins[: state.corner_count, HOST]
    open_to_all = (state.bin_of[hosts] >= 0) | (len(state.opened) == 0)
    numbers = [int(n) for n in np.argsort(-areas, kind="stable") if areas[n] > 0 and open_to_all[n]]
    state.fill(numbers, chance)


def open_and_fill(state: State, order: Order, chance: np.ndarray) -> None:
    """Open sheets kind by kind and fill them, as long as blanks wait and there are sheets."""
    for kind in sorted((kind for kind in state.job.kinds if kind.area > 0), key=order):
        while state.out:
            room = kind.stock - state.counts()[kind.index]
            wanted = PLENTY * state.area_out / kind.area + 1
            if room < 1 or not state.fill(state.open([kind.index] * int(min(room, wanted))), chance):
                break
            state.close_empty()
    state.close_empty()


def lay_out(state: State, goal: Mix) -> None:
    """Change the open sheets to a goal; blanks on those given up, the emptiest of a kind, are left out."""
    have = state.counts()
    by_kind: dict[int, list[int]] = {}
    for number in state.opened:
        by_kind.setdefault(int(state.bins[number, KIND]), []).append(number)
    for index, (old, new) in enumerate(zip(have, goal, strict=True)):
        if new < old:
            used = sorted(by_kind[index], key=lambda number: (state.bin_sides[number, USED], number))
            state.close(used[: old - new])
    state.open(
        [index for index, (old, new) in enumerate(zip(have, goal, strict=True)) for _ in range(new - old)]
    )


def complete(state: State, chance: np.ndarray) -> None:
    """Find a place for the blanks left out: in what is free, then on further sheets.

    A blank that finds none gives up its guests, which then need a place themselves.
    """
    state.fill(sorted(state.opened), chance)
    while state.out:
        best = None
        for order in OPENING_ORDERS if len(state.job.kinds) > 1 else OPENING_ORDERS[:1]:
            tried = state.copy()
            open_and_fill(tried, order, chance)
            if best is None or tried.value < best.value:
                best = tried
        assert best is not None
        state.become(best)
        if not state.free_guests():
            break
        if state.opened:
            fill_corners(state, chance)
            state.fill(sorted(state.opened), chance)
    state.close_empty()
