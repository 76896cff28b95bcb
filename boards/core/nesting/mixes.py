"""Which sheets to open: the mix of kinds with the most board for less than a sum of money."""

import math
from collections.abc import Iterator, Sequence
from decimal import Decimal
from itertools import product

import numpy as np

from boards.core.nesting.job import Job

STEP = 2  # sheets of a kind more or less at a time
MOST_KINDS = 4  # kinds varied at the same time
EASE = 1 - 1e-6  # board that blanks of one sort need at least, over their own area, less what rounding takes

Mix = tuple[int, ...]


def money(job: Job, mix: Sequence[int]) -> Decimal:
    """What a mix costs."""
    return sum((kind.price(count) for kind, count in zip(job.kinds, mix, strict=True)), Decimal(0))


def board(job: Job, mix: Sequence[int]) -> float:
    """Area of the sheets of a mix, square units."""
    return sum(kind.area * count for kind, count in zip(job.kinds, mix, strict=True))


class Needs:
    """How much board the blanks need at least, of which kinds.

    Blanks that fit only some kinds need so much board of those. Source: area balance by set of kinds.
    """

    def __init__(self, job: Job, blanks: Sequence[int]) -> None:
        chosen = np.array(blanks, np.int64)
        self.job = job
        self.area = float(job.areas[chosen].sum())
        by_kinds: dict[tuple[bool, ...], float] = {}
        if len(chosen):
            rows, where = np.unique(job.fits[chosen], axis=0, return_inverse=True)
            sums = np.bincount(where.reshape(-1), weights=job.areas[chosen])
            by_kinds = {tuple(map(bool, row)): float(total) for row, total in zip(rows, sums, strict=True)}
        self.within: list[tuple[tuple[bool, ...], float]] = [
            (
                kinds,
                sum(
                    a
                    for other, a in by_kinds.items()
                    if all(k or not o for k, o in zip(kinds, other, strict=True))
                ),
            )
            for kinds in by_kinds
            if not all(kinds)
        ]

    def are_met(self, mix: Sequence[int], spare: float = 1.0) -> bool:
        """Whether a mix has board enough for the blanks, and enough of each sort."""
        if board(self.job, mix) < spare * self.area:
            return False
        areas = [kind.area * count for kind, count in zip(self.job.kinds, mix, strict=True)]
        return all(
            sum(a for a, is_one in zip(areas, kinds, strict=True) if is_one) >= EASE * need
            for kinds, need in self.within
        )


def around(job: Job, mix: Mix) -> Iterator[Mix]:
    """Mixes that differ by a few sheets, of a few kinds at the same time."""
    movable = [
        kind.index for kind in job.kinds if kind.stock > 1 and (kind.sheet.price > 0 or len(job.kinds) == 1)
    ]
    chosen = sorted(movable, key=lambda index: -job.kinds[index].area)[:MOST_KINDS]
    for steps in product(range(-STEP, STEP + 1), repeat=len(chosen)):
        new = list(mix)
        for index, step in zip(chosen, steps, strict=True):
            new[index] += step
        if any(steps) and all(0 <= n <= kind.stock for n, kind in zip(new, job.kinds, strict=True)):
            yield tuple(new)
    for kind in job.kinds:
        if kind.index not in chosen and mix[kind.index]:
            yield tuple(n - (index == kind.index) for index, n in enumerate(mix))


def roomiest(job: Job, start: Mix, needs: Needs, budget: Decimal, most_sheets: float) -> Mix | None:
    """The mix with the most board within a budget and a number of sheets, found step by step from another.

    Returns None if none has board enough.
    """
    fitting = [mix for mix in (start,) if money(job, mix) <= budget and sum(mix) <= most_sheets]
    here, best = start, max(fitting, key=lambda mix: board(job, mix), default=None)
    for _ in range(200):
        near = list(around(job, here))
        affordable = [mix for mix in near if money(job, mix) <= budget and sum(mix) <= most_sheets]
        if affordable:
            top = max(affordable, key=lambda mix: (needs.are_met(mix), board(job, mix), -money(job, mix)))
            if best is not None and (needs.are_met(top), board(job, top)) <= (
                needs.are_met(best),
                board(job, best),
            ):
                break
            here = best = top
        else:
            cheaper = [mix for mix in near if money(job, mix) < money(job, here) or sum(mix) < sum(here)]
            if not cheaper or best is not None:
                break
            here = min(cheaper, key=lambda mix: (money(job, mix), sum(mix)))
    return best if best is not None and needs.are_met(best) else None


def cheapest_area(job: Job, needs: Needs, slack: float) -> Mix:
    """Sheets with so much more board than needed, the cheapest board first, offcuts all of them."""
    mix = [0] * len(job.kinds)
    order = sorted(job.kinds, key=lambda kind: (float(kind.sheet.price) / max(kind.area, 1.0), -kind.area))
    have = 0.0
    for kind in order:
        if kind.area <= 0:
            continue
        missing = max(0.0, slack * needs.area - have) / kind.area
        count = int(min(kind.stock, math.ceil(missing)))
        if kind.sheet.price == 0 and kind.stock < 1000:
            count = int(kind.stock)
        mix[kind.index] = count
        have += count * kind.area
    return tuple(mix)
