"""Rounding of the positions on a blank to a step of the rule, without a panel coming out too small."""

import math
from collections.abc import Sequence

from housing.core.blank import SAME_LINE_MM
from housing.core.panels import Place

EVEN = 1e-9  # share of a step that rounding error may take

type Span = tuple[float, float]  # start and end along an axis, mm
type Claim = tuple[Span, bool, Span | None]


def rounded(places: Sequence[Place], step_mm: float) -> list[Place]:
    """Panels with their edges on a grid of positions.

    places: panels where they lie, mm, parents before children. step_mm: the step of the rule, above 0.
    Returns them moved: each position to the nearest step, or the least step further on that keeps every panel
    at least as wide as it was and standing out as far beyond the one it hangs on; but the trim of flaps may
    move either way, and the ends of walls that are eased are drawn in.
    Source: difference constraints solved position by position, outwards from the floor.
    """
    moved_x = _moved([_claim(place, 2, places) for place in places], step_mm)
    moved_y = _moved([_claim(place, 3, places) for place in places], step_mm)
    return [
        (panel, parent, moved_x[i][0], moved_y[i][0], moved_x[i][1], moved_y[i][1])
        for i, (panel, parent, *_) in enumerate(places)
    ]


def _claim(place: Place, axis: int, places: Sequence[Place]) -> Claim:
    """Where a panel runs along an axis, whether it has to keep its width there, and where its parent runs."""
    panel, parent = place[0], place[1]
    is_reach = panel.edge is not None and panel.edge.is_upright == (axis == 2)
    keeps = not (panel.is_flap if is_reach else panel.edge is not None and panel.along_mm is None)
    above = None
    if parent >= 0 and not is_reach:
        above = places[parent][axis], places[parent][axis + 2]
    return (place[axis], place[axis + 2]), keeps, above  # type: ignore[return-value]


def _moved(claims: list[Claim], step: float) -> list[Span]:
    """Positions on the grid, found from the floor's corner outwards in both directions."""
    corner = claims[0][0][0]
    exact: list[float] = []
    for value in sorted(edge - corner for span, _, _ in claims for edge in span):
        if not exact or value - exact[-1] >= SAME_LINE_MM:
            exact.append(value)

    def index(value: float) -> int:
        return min(range(len(exact)), key=lambda i: abs(exact[i] + corner - value))

    needs: dict[tuple[int, int], int] = {}
    inset: set[int] = set()  # ends drawn in from those of the panel they hang on: rounded further in
    for (start, end), keeps, above in claims:
        pairs = [(start, end)] if keeps else []
        if above is not None:
            for low, high in ((start, above[0]), (above[1], end)):
                if high - low >= SAME_LINE_MM:
                    pairs.append((low, high))
                elif low - high >= SAME_LINE_MM:
                    ends = index(high), index(low)
                    needs[ends] = max(
                        needs.get(ends, 0), 0 if keeps else math.ceil((low - high) / step - EVEN)
                    )
                    inset |= set() if keeps else {index(start if low == start else end)}
        for low, high in pairs:
            if high - low >= SAME_LINE_MM:
                needs[index(low), index(high)] = math.ceil((high - low) / step - EVEN)

    first = index(corner)
    grid = dict.fromkeys(range(len(exact)), 0)
    for i in reversed(range(first)):
        wanted = math.ceil(exact[i] / step - EVEN) if i in inset else round(exact[i] / step)
        most = [grid[k] - need for (j, k), need in needs.items() if j == i and k <= first]
        grid[i] = min([wanted, *most])
    for j in range(first + 1, len(exact)):
        wanted = math.floor(exact[j] / step + EVEN) if j in inset else round(exact[j] / step)
        least = [grid[i] + need for (i, k), need in needs.items() if k == j]
        grid[j] = max([wanted, *least])
    return [(grid[index(start)] * step, grid[index(end)] * step) for (start, end), _, _ in claims]
