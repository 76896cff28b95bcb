"""Rounding of the positions on a blank to a step of the rule, without a panel coming out too small."""

import math
from collections.abc import Sequence

from housing.core.blank import SAME_LINE_MM
from housing.core.panels import Place

FLAP = -2  # stands for the parent of a flap, whose trim may move either way
EVEN = 1e-9  # share of a step that rounding error may take


def rounded(places: Sequence[Place], step_mm: float) -> list[Place]:
    """Panels with their edges on a grid of positions.

    places: panels where they lie, mm, parents before children. step_mm: the step of the rule, above 0.
    Returns them moved: each position to the nearest step, or the least step further on that keeps every panel
    at least as wide as it was, and every panel that stands out beyond another standing out at least as far.
    Source: least solution of difference constraints, found from the left to the right.
    """
    parents = [FLAP if place[0].is_flap else place[1] for place in places]
    moved_x = _moved([(p[2], p[4]) for p in places], parents, step_mm)
    moved_y = _moved([(p[3], p[5]) for p in places], parents, step_mm)
    return [
        (panel, parent, moved_x[i][0], moved_y[i][0], moved_x[i][1], moved_y[i][1])
        for i, (panel, parent, *_) in enumerate(places)
    ]


def _moved(spans: list[tuple[float, float]], parents: list[int], step: float) -> list[tuple[float, float]]:
    corner = min(start for start, _ in spans)
    exact: list[float] = []
    for value in sorted(edge - corner for span in spans for edge in span):
        if not exact or value - exact[-1] >= SAME_LINE_MM:
            exact.append(value)

    def index(value: float) -> int:
        value -= corner
        return min(range(len(exact)), key=lambda i: abs(exact[i] - value))

    ends = [(index(start), index(end)) for start, end in spans]
    needs = {}
    for (i, j), parent in zip(ends, parents, strict=True):
        if parent != FLAP:
            needs[i, j] = exact[j] - exact[i]
        if parent >= 0:
            k, m = ends[parent]
            if i < k:
                needs[i, k] = exact[k] - exact[i]
            if m < j:
                needs[m, j] = exact[j] - exact[m]
    grid: list[int] = []
    for j, at in enumerate(exact):
        least = max(
            (grid[i] + math.ceil(need / step - EVEN) for (i, k), need in needs.items() if k == j), default=0
        )
        grid.append(max(round(at / step), least))
    return [(grid[i] * step, grid[j] * step) for i, j in ends]
