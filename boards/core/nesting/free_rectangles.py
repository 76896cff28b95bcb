"""Layouts whose cuts need not run from edge to edge: from trees of cuts to blanks that lie anywhere."""

import time
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field, replace
from random import Random
from typing import Self

import numpy as np

from boards.core.nesting.bound import Bound
from boards.core.nesting.compiled.free import MOST_ROOMS, anneal_freely, fill_freely, free_rooms, occupy
from boards.core.nesting.compiled.places import CORNERS
from boards.core.nesting.compiled.trees import NODES, USED
from boards.core.nesting.cutting import Cutting, cut_corner, trim_cuts
from boards.core.nesting.job import Job, Numbers, mm, units
from boards.core.nesting.search import (
    COLD,
    FEWEST_ROUNDS,
    FEWEST_TO_SHARE,
    HOT,
    ROUND,
    THREADS,
    Limits,
    Standing,
    chance_of,
    improve,
    search,
)
from boards.core.nesting.shapes import CutSheet, Offcut, Piece, Rules, Sheet
from boards.core.nesting.state import Node, State

CUT_SHARE = 0.5  # of the work, for the plan of cuts from edge to edge to start from
LEAST_MM = 0.001  # offcut; what is smaller comes of rounding


@dataclass
class FreeState(State):
    """A plan whose sheets have no trees, only blanks; corners keep theirs.

    at: by blank on a sheet, where its near corner lies, in units.
    """

    at: Numbers = field(default_factory=lambda: np.zeros((0, 2)))

    @classmethod
    def of_cuts(cls, state: State) -> "FreeState":
        """The same plan without its cuts."""
        plan = cls(**vars(state.copy()), at=np.zeros((state.job.count, 2)))
        for number in state.opened:
            for blank, x, y, _ in state.laid(number):
                plan.at[blank] = x, y
        plan.bins[plan.corner_count :, NODES] = 0
        for number in plan.opened:
            plan.bin_sides[number, USED] = plan.job.areas[plan.blanks_of(number)].sum()
        return plan

    def copy(self) -> Self:
        """The same plan, to go on with while this one is kept."""
        twin = super().copy()
        twin.at = self.at.copy()
        return twin

    def blanks_of(self, number: int) -> list[int]:
        """The blanks on a sheet or in a corner."""
        if number < self.corner_count:
            return super().blanks_of(number)
        return [int(blank) for blank in np.flatnonzero(self.bin_of == number)]

    def laid(self, number: int) -> Iterator[tuple[int, float, float, bool]]:
        """Blanks of a sheet: blank, x, y in units from its near corner, turned."""
        for blank in self.blanks_of(number):
            x, y = self.at[blank]
            yield blank, float(x), float(y), bool(self.turned[blank])

    def fill(self, numbers: Sequence[int], chance: np.ndarray) -> int:
        """Lay blanks left out on sheets or in corners, the largest first; returns how many were laid."""
        laid = super().fill([number for number in numbers if number < self.corner_count], chance)
        sheets = [number for number in numbers if number >= self.corner_count]
        if not self.out or not sheets:
            return laid
        order = np.array(sorted(self.out, key=lambda blank: (-self.blanks[blank, 2], blank)), np.int64)
        on_them = [self.blanks_of(number) for number in sheets]
        laid += fill_freely(
            np.array(sheets, np.int64), order, float(self.job.sides.min()), self.blanks, self.about,
            self.bin_of, self.turned, self.at, self.bin_sides, np.array(sum(on_them, []), np.int64),
            np.cumsum([0, *map(len, on_them)]), chance,
        )  # fmt: skip
        self.out = [int(blank) for blank in order if self.bin_of[blank] < 0]
        return int(laid)


def search_freely(job: Job, todo: Sequence[int], least: Bound, seed: int, limits: Limits) -> FreeState:
    """The best plan found whose cuts need not run from edge to edge, at least as good as one of such cuts.

    The arguments are those of search(), which makes the plan to start from.
    """
    best = FreeState.of_cuts(search(job, todo, least, seed, first_part(limits)))
    limits.done = limits.work * CUT_SHARE
    return improve(best, least, Random(seed), limits, run)


def first_part(limits: Limits) -> Limits:
    """The limits of a search that is the first part of another, whose watch and end they share."""

    def told(standing: Standing) -> bool:
        assert limits.watch
        limits.is_stopped = limits.watch(replace(standing, share=CUT_SHARE * standing.share))
        return limits.is_stopped

    now = time.monotonic()
    until = None if limits.until is None else now + CUT_SHARE * (limits.until - now)
    return Limits(CUT_SHARE * limits.work, until, told if limits.watch else None, limits.begun)


def run(state: FreeState, work: float, random: Random, limits: Limits, best: State, least: Bound) -> None:
    """Anneal until nothing is left out or so much work is done, two threads as in search.run()."""
    begun, end = limits.done, limits.done + work
    middling = float(state.job.areas.mean()) * state.scale
    hot, cold = HOT * middling, COLD * middling
    step = max(ROUND, work / FEWEST_ROUNDS)
    twins = [state, state.copy()] if len(state.opened) < FEWEST_TO_SHARE else [state]
    with ThreadPoolExecutor(THREADS) as threads:
        while all(twin.out for twin in twins) and state.opened and limits.left and limits.done < end:
            now = (limits.done - begun) / work
            heats = hot * (cold / hot) ** now, hot * (cold / hot) ** min(1.0, now + step / work)
            shares = [share for twin in twins for share in by_lot(twin, THREADS // len(twins), random)]
            jobs = [threads.submit(anneal, *share, heats, step, chance_of(random)) for share in shares]
            results = [job.result() for job in jobs]
            for twin in twins:
                twin.out = [
                    blank
                    for (plan, _, _), (_, out) in zip(shares, results, strict=True)
                    if plan is twin
                    for blank in out
                ]
            # A share that is done early counts in full: its thread waited for the other one.
            limits.done += max(done for done, _ in results)
            limits.tell(best, least)
    vars(state).update(vars(min(twins, key=lambda twin: twin.area_out)))


def by_lot(state: FreeState, count: int, random: Random) -> list[tuple[FreeState, list[int], list[int]]]:
    """The plan with its open sheets and the blanks left out, by lot in so many shares."""
    opened, out = sorted(state.opened), sorted(state.out)
    random.shuffle(opened)
    random.shuffle(out)
    return [(state, opened[i::count], out[i::count]) for i in range(count)]


def anneal(
    state: FreeState, opened: list[int], out: list[int], heats: tuple[float, float], work: float,
    chance: np.ndarray,
) -> tuple[float, list[int]]:  # fmt: skip
    """One round of one thread; returns the work done and the blanks now left out."""
    if not out:
        return 1.0, []
    waiting, count = np.zeros(state.job.count, np.int64), np.array([len(out)])
    waiting[: len(out)] = out
    done = anneal_freely(
        state.blanks, state.about, state.bin_of, state.turned, state.at, state.bin_sides,
        np.array(opened, np.int64), waiting, count, state.scale, *heats, work, chance,
    )  # fmt: skip
    return float(max(done, 1)), [int(blank) for blank in waiting[: count[0]]]


def set_free(
    state: FreeState, sheet_number: int, pieces: Sequence[Piece], sheet: Sheet, rules: Rules
) -> CutSheet:
    """A sheet of a plan with its placements, the cuts in corners and off its edges, and its offcuts.

    The arguments are those of cut_up(); of the sheet itself no cuts are listed but those of the trim.
    """
    cutting = Cutting(pieces, rules)
    cutting.cuts += trim_cuts(sheet, rules.trim_mm)
    trim = units(rules.trim_mm)
    for blank, x, y, turned in state.laid(sheet_number):
        a, b = (float(side) for side in state.job.sides[blank])
        node = Node(blank, int(turned), x, y, a, b, [])
        placed = cutting.place(node, mm(trim + x), mm(trim + y), None)
        for number in state.corners_of(blank):
            corner = number - int(state.about[blank, CORNERS])
            cut_corner(cutting, state, number, corner, placed, rules.kerf_mm)
    return CutSheet(
        sheet.key, tuple(cutting.placements), tuple(cutting.cuts), tuple(offcuts(state, sheet_number, rules))
    )


def offcuts(state: FreeState, number: int, rules: Rules) -> Iterator[Offcut]:
    """What is left over of a sheet: the largest free rectangle, then the largest beside it, and so on."""
    kerf, trim = units(rules.kerf_mm), units(rules.trim_mm)
    least = kerf + max(units(rules.least_offcut_mm), units(LEAST_MM))
    rooms, parts, whose = np.zeros((MOST_ROOMS, 4)), np.zeros((MOST_ROOMS, 4)), np.zeros(MOST_ROOMS, np.int64)
    count = free_rooms(
        0, state.bin_sides[number], np.array(state.blanks_of(number), np.int64), state.blanks, state.at,
        state.turned, least, rooms, whose, 0, parts,
    )  # fmt: skip
    while count:
        sides = rooms[:count, 2:] - rooms[:count, :2] - kerf
        x0, y0, x1, y1 = (float(edge) for edge in rooms[int(sides.prod(axis=1).argmax())])
        offcut = Offcut(mm(trim + x0), mm(trim + y0), mm(x1 - x0 - kerf), mm(y1 - y0 - kerf))
        if offcut.area_mm2 < rules.least_offcut_mm2:
            break
        yield offcut
        count = occupy(0, x0, y0, x1, y1, least, rooms, whose, count, parts)
