"""The outline of a blank as one closed run, its corners that fall off left out, and its openings."""

import math
from collections import defaultdict
from collections.abc import Iterable, Sequence
from itertools import pairwise

from housing.core.blank import SAME_LINE_MM, Blank, CutOut, Rectangle
from housing.core.machine.layers import CUT, OPENING
from housing.core.machine.shared import Drawn
from housing.core.machine.strokes import Point, Stroke, circle, rectangle, run

# How far the straight strokes of an ellipse may lie within it, mm; circles and slots are true arcs.
CHORD_MM = 0.01
FINE_MM = 1e-4  # lines of one blank that are closer than this are one


def cut_strokes(blank: Blank) -> list[Stroke]:
    """All that is cut through of one blank: openings first, then slits, and the outline last.

    blank: mm. Returns closed runs where there are such; a notch is part of the outline. What falls off at
    the corners stays in the sheet around the blank.
    Source: the plane geometry of the blank; openings before outlines, so that nothing moves: common practice,
        no source.
    """
    notches = [opening for opening in blank.openings if _breaks_the_rim(opening)]
    loops = [Stroke(CUT, tuple(loop), is_closed=True) for loop in outlines(blank.panels)]
    closed = [opening_stroke(opening) for opening in blank.openings if opening not in notches]
    for notch in notches:
        spliced = [_spliced(loop, notch) for loop in loops]
        if spliced == loops:
            closed.append(opening_stroke(notch))
        loops = spliced
    drawn = Drawn(FINE_MM)
    drawn.add(loops)
    slits = [
        left
        for line in blank.cuts
        for left in drawn.left_of(run(CUT, ((line.x1, line.y1), (line.x2, line.y2))))
    ]
    return [*closed, *slits, *loops]


def outlines(panels: Sequence[Rectangle]) -> list[list[Point]]:
    """Closed runs around what some rectangles cover together, to the left of which the board lies.

    panels: mm. Returns for each run its corners.
    Source: the rectangles divide the plane into a grid; a line of it is on the outline where the field on one
        side is covered and that on the other is not.
    """
    xs = _positions(edge for p in panels for edge in (p.x_mm, p.x_mm + p.width_mm))
    ys = _positions(edge for p in panels for edge in (p.y_mm, p.y_mm + p.height_mm))
    covered = set()
    for p in panels:
        columns = range(_place(xs, p.x_mm), _place(xs, p.x_mm + p.width_mm))
        rows = range(_place(ys, p.y_mm), _place(ys, p.y_mm + p.height_mm))
        covered |= {(column, row) for column in columns for row in rows}
    leads: dict[tuple[int, int], list[tuple[int, int]]] = defaultdict(list)
    for i, j in sorted(covered):
        corners = ((i, j), (i + 1, j), (i + 1, j + 1), (i, j + 1), (i, j))
        beyond = ((i, j - 1), (i + 1, j), (i, j + 1), (i - 1, j))
        for (start, end), field in zip(pairwise(corners), beyond, strict=True):
            if field not in covered:
                leads[start].append(end)
    found = []
    while leads:
        found.append([(xs[i], ys[j]) for i, j in _loop(leads)])
    return found


def _loop(leads: dict[tuple[int, int], list[tuple[int, int]]]) -> list[tuple[int, int]]:
    """Take one closed run out of the lines; where fields touch at a corner only, stay with the same field."""
    first = min(leads)
    points, at, way = [first], first, (0, 0)
    while True:
        ways = leads[at]
        left = (at[0] - way[1], at[1] + way[0])
        after = left if len(ways) > 1 and left in ways else ways[0]
        ways.remove(after)
        if not ways:
            del leads[at]
        way, at = (after[0] - at[0], after[1] - at[1]), after
        if at == first:
            break
        points.append(at)
    kept = [
        point
        for before, point, behind in zip(
            (points[-1], *points), points, (*points[1:], points[0]), strict=False
        )
        if (point[0] - before[0]) * (behind[1] - point[1]) != (point[1] - before[1]) * (behind[0] - point[0])
    ]
    return kept


def opening_stroke(opening: CutOut) -> Stroke:
    """An opening by itself; of a slit its one line, of a notch and of a slot from an edge all but that edge.

    Source: circles and slots as true arcs, ellipses by their parametric equation, CHORD_MM from the true one.
    """
    x, y, wide, high = opening.x_mm, opening.y_mm, opening.width_mm, opening.height_mm
    middle = x + wide / 2, y + high / 2
    match opening.shape:
        case "slit":
            return run(OPENING, ((x, y), (x + wide, y + high)))
        case "round" if abs(wide - high) < SAME_LINE_MM:
            return circle(OPENING, middle, wide / 2)
        case "round":
            points = _ellipse(middle, wide / 2, high / 2, 0, 2 * math.pi)
            return run(OPENING, points[:-1], is_closed=True)
        case "slot":
            return _slot(opening)
    if _breaks_the_rim(opening):
        return _path_from_rim(opening)
    return rectangle(OPENING, x, y, wide, high)


def _slot(opening: CutOut) -> Stroke:
    x, y, wide, high = opening.x_mm, opening.y_mm, opening.width_mm, opening.height_mm
    if abs(wide - high) < SAME_LINE_MM:
        return circle(OPENING, (x + wide / 2, y + high / 2), wide / 2)
    r = min(wide, high) / 2
    points: tuple[Point, ...]
    if wide > high:
        points = ((x + r, y), (x + wide - r, y), (x + wide - r, y + high), (x + r, y + high))
        return Stroke(OPENING, points, (0.0, 1.0, 0.0, 1.0), is_closed=True)
    points = ((x + wide, y + r), (x + wide, y + high - r), (x, y + high - r), (x, y + r))
    return Stroke(OPENING, points, (0.0, 1.0, 0.0, 1.0), is_closed=True)


def _breaks_the_rim(opening: CutOut) -> bool:
    return bool(opening.open_edge) and opening.shape in ("notch", "rectangle")


def _path_from_rim(opening: CutOut) -> Stroke:
    """A notch or an open rectangle from rim to rim, with the opening to the right of the way."""
    x, y, wide, high = opening.x_mm, opening.y_mm, opening.width_mm, opening.height_mm
    corners = ((x, y), (x + wide, y), (x + wide, y + high), (x, y + high))
    first = {"near": 0, "right": 1, "far": 2, "left": 3}[opening.open_edge]
    # the corners in the order in which the rim would be passed with the board on the left, then the two inner
    a, b, c, d = (corners[(first + i) % 4] for i in range(4))
    if opening.shape == "rectangle":
        return run(OPENING, (a, d, c, b))
    upright = opening.open_edge in ("left", "right")
    half, deep = (high / 2, wide) if upright else (wide / 2, high)
    if abs(half - deep) < SAME_LINE_MM:
        return Stroke(OPENING, (a, b), (-1.0, 0.0))
    middle = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
    across, up = (deep, half) if upright else (half, deep)
    start = math.atan2((a[1] - middle[1]) / up, (a[0] - middle[0]) / across)
    arc = _ellipse(middle, across, up, start, -math.pi)
    return run(OPENING, (a, *arc[1:-1], b))


def _ellipse(middle: Point, across: float, up: float, start: float, sweep: float) -> list[Point]:
    most = max(across, up, CHORD_MM)
    steps = max(8, math.ceil(abs(sweep) / (2 * math.acos(1 - CHORD_MM / most))))
    angles = (start + sweep * step / steps for step in range(steps + 1))
    return [(middle[0] + across * math.cos(a), middle[1] + up * math.sin(a)) for a in angles]


def _spliced(loop: Stroke, notch: CutOut) -> Stroke:
    """An outline with a notch in it, if the notch begins and ends on one of its lines; else as it was."""
    path = _path_from_rim(notch)
    start, end = path.points[0], path.points[-1]
    points: list[Point] = []
    bulges: list[float] = []
    found = False
    for a, b, bulge in loop.lines:
        points.append(a)
        bulges.append(bulge)
        if not found and not bulge and _between(a, start, b) and _between(start, end, b):
            found = True
            points += path.points
            bulges += [*(path.bulges or (0.0,) * len(path.points))]
    if not found:
        return loop
    kept = [
        i for i, point in enumerate(points) if math.dist(point, points[(i + 1) % len(points)]) > SAME_LINE_MM
    ]
    lined = any(bulges)
    return Stroke(
        loop.layer,
        tuple(points[i] for i in kept),
        tuple(bulges[i] for i in kept) if lined else (),
        is_closed=True,
    )


def _between(a: Point, point: Point, b: Point) -> bool:
    """Whether a point lies on the straight line from a to b, which is upright or level."""
    for this, other in ((0, 1), (1, 0)):
        if abs(a[this] - b[this]) < FINE_MM and abs(point[this] - a[this]) < FINE_MM:
            low, high = sorted((a[other], b[other]))
            return low - FINE_MM < point[other] < high + FINE_MM
    return False


def _positions(values: Iterable[float]) -> list[float]:
    kept: list[float] = []
    for value in sorted(values):
        if not kept or value - kept[-1] >= SAME_LINE_MM:
            kept.append(value)
    return kept


def _place(positions: Sequence[float], value: float) -> int:
    return min(range(len(positions)), key=lambda i: abs(positions[i] - value))
