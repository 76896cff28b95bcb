"""What the drawn lines part a blank into, found by flooding; shares nothing with the code that draws them."""

from bisect import bisect_left
from collections.abc import Iterable

from housing.core.blank import Blank, Line

NEAR = 1e-4  # far below any panel of the tests, far above rounding


def _ticks(values: Iterable[float]) -> list[float]:
    ticks: list[float] = []
    for value in sorted(values):
        if not ticks or value - ticks[-1] > NEAR:
            ticks.append(value)
    return ticks


def pieces(blank: Blank, lines: Iterable[Line]) -> list[float]:
    """Areas in mm2, ascending, of what the rectangle falls into when parted along the lines."""
    lines = list(lines)
    xs = _ticks([0.0, blank.x_mm, *(x for line in lines for x in (line.x1, line.x2))])
    ys = _ticks([0.0, blank.y_mm, *(y for line in lines for y in (line.y1, line.y2))])
    walls = set()
    for line in lines:
        i1, i2 = (bisect_left(xs, x - NEAR) for x in (line.x1, line.x2))
        j1, j2 = (bisect_left(ys, y - NEAR) for y in (line.y1, line.y2))
        walls |= {("right of", i1 - 1, j) for j in range(j1, j2)} if i1 == i2 else set()
        walls |= {("beyond", i, j1 - 1) for i in range(i1, i2)} if j1 == j2 else set()
    unseen = {(i, j) for i in range(len(xs) - 1) for j in range(len(ys) - 1)}
    areas = []
    while unseen:
        waiting, area = [unseen.pop()], 0.0
        while waiting:
            i, j = waiting.pop()
            area += (xs[i + 1] - xs[i]) * (ys[j + 1] - ys[j])
            for cell, wall in (
                ((i + 1, j), ("right of", i, j)),
                ((i - 1, j), ("right of", i - 1, j)),
                ((i, j + 1), ("beyond", i, j)),
                ((i, j - 1), ("beyond", i, j - 1)),
            ):
                if cell in unseen and wall not in walls:
                    unseen.remove(cell)
                    waiting.append(cell)
        areas.append(area)
    return sorted(areas)
