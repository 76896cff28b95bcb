"""Clear insides that are needed, the sizes that could serve them, and which serves which."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from objects.core.refusals import Refusal

NEARLY_MM = 1e-6
REACH = 8  # so many times the candidates are looked at before the best of them are taken
CHUNK = 500

type Sides = NDArray[np.float64]
type Truths = NDArray[np.bool_]
STEPS_MM = (1.0, 2.0, 5.0, 10.0, 20.0, 25.0, 50.0, 100.0, 200.0, 500.0)


class SizesRefused(Refusal):
    """No sizes can be chosen; the message says why."""


class Size(NamedTuple):
    """Clear inside in mm: x the longer and y the shorter side of the floor, z the height."""

    x: float
    y: float
    z: float

    @property
    def litres(self) -> float:
        return self.x * self.y * self.z / 1e6


@dataclass(frozen=True)
class Need:
    """The least clear inside that an object's box must have; it may stand either way round on the floor."""

    key: str
    x_mm: float
    y_mm: float
    z_mm: float

    @property
    def size(self) -> Size:
        """With the longer side first, since a box may be turned about."""
        return Size(max(self.x_mm, self.y_mm), min(self.x_mm, self.y_mm), self.z_mm)


@dataclass(frozen=True)
class Group:
    """Objects taken as alike: the size that holds each of them, and their keys."""

    size: Size
    keys: tuple[str, ...]
    least: Size  # the smallest sides among them, for the slack


def holds(size: Size, need: Size, least: Size, slack_mm: float) -> bool:
    """Whether a size is large enough for a need, and at most the slack larger than the least on any side."""
    return all(
        mine >= its - NEARLY_MM and mine - smallest <= slack_mm + NEARLY_MM
        for mine, its, smallest in zip(size, need, least, strict=True)
    )


def group_needs(needs: Sequence[Need], most: int) -> tuple[list[Group], float]:
    """Objects of like size together, in so coarse steps that there are at most so many groups.

    Returns the groups and the step in mm up to which sizes were rounded, 0 where all kept their own.
    Raises SizesRefused for a side that is not above 0.
    """
    for need in needs:
        if min(need.size) <= 0:
            raise SizesRefused(f"Object {need.key} needs a side of {min(need.size):g} mm; measure it again.")
    for step in (0.0, *STEPS_MM):
        groups: defaultdict[Size, list[Need]] = defaultdict(list)
        for need in needs:
            groups[_rounded(need.size, step)].append(need)
        if len(groups) <= most:
            break
    return [_group(size, members, step) for size, members in sorted(groups.items())], step


def _rounded(size: Size, step: float) -> Size:
    return size if not step else Size(*(ceil(side / step - NEARLY_MM) * step for side in size))


def _group(size: Size, members: Sequence[Need], step: float) -> Group:
    sizes = [member.size for member in members]
    joined = size if not step else Size(*(max(sides) for sides in zip(*sizes, strict=True)))
    least = Size(*(min(sides) for sides in zip(*sizes, strict=True)))
    return Group(joined, tuple(member.key for member in members), least)


def candidate_sizes(groups: Sequence[Group], slack_mm: float, most: int) -> list[Size]:
    """Sizes worth looking at: those of the groups, and the smallest ones that hold several together.

    A size can always shrink to the largest sides among those it serves without costing more, so the best ones
    are among these maxima. All of them are taken while they are at most so many; else those first that serve
    the most objects.
    """
    own = np.unique(np.array([group.size for group in groups]), axis=0)
    found, frontier = own, own
    while len(frontier) and len(found) <= REACH * most:
        frontier = _rows_besides(_joined(frontier, groups, slack_mm), found)
        if len(found) + len(frontier) > REACH * most:
            frontier = frontier[np.argsort(-_served(frontier, groups, slack_mm), kind="stable")]
            frontier = frontier[: REACH * most - len(found)]
            found = np.vstack([found, frontier])
            break
        found = np.vstack([found, frontier])
    if len(found) > most:
        order = np.argsort(-_served(found, groups, slack_mm), kind="stable")
        found = found[order[:most]]
    return sorted(Size(*map(float, row)) for row in found)


def serving(sizes: Sequence[Size], groups: Sequence[Group], slack_mm: float) -> Truths:
    """Which size holds which group, sizes × groups, as holds() says."""
    return _holds(np.array(sizes, dtype=float).reshape(-1, 3), groups, slack_mm)


def _holds(sizes: Sides, groups: Sequence[Group], slack_mm: float) -> Truths:
    needed, least = _sides(groups)
    truths = np.ones((len(sizes), len(groups)), dtype=bool)
    for axis in range(3):
        mine = sizes[:, axis, None]
        truths &= (mine >= needed[:, axis] - NEARLY_MM) & (mine <= least[:, axis] + slack_mm + NEARLY_MM)
    return truths


def _sides(groups: Sequence[Group]) -> tuple[Sides, Sides]:
    return np.array([group.size for group in groups]), np.array([group.least for group in groups])


def _joined(frontier: Sides, groups: Sequence[Group], slack_mm: float) -> Sides:
    """The largest sides of each size with each group, where the slack is still small enough for the group."""
    needed, least = _sides(groups)
    found = [np.empty((0, 3))]
    for size in frontier:
        both = np.maximum(size, needed)
        found.append(both[(both <= least + slack_mm + NEARLY_MM).all(axis=1)])
    return np.unique(np.vstack(found), axis=0)


def _rows_besides(rows: Sides, known: Sides) -> Sides:
    there = {tuple(row) for row in known}
    kept = [row for row in rows if tuple(row) not in there]
    return np.array(kept).reshape(-1, 3)


def _served(sizes: Sides, groups: Sequence[Group], slack_mm: float) -> Sides:
    """Objects that each size would hold."""
    numbers = np.array([len(group.keys) for group in groups], dtype=float)
    return np.concatenate(
        [_holds(sizes[n : n + CHUNK], groups, slack_mm) @ numbers for n in range(0, len(sizes), CHUNK)]
        or [np.empty(0)]
    )
