"""Outlines of openings as points, so that every drawing shows the same shape."""

import math

from housing.core.blank import CutOut

ROUND_STEPS = 24  # points to a half circle: smooth enough at the size it is drawn

type Point = tuple[float, float]


def outline(opening: CutOut) -> list[Point]:
    """Points around an opening on its blank, mm; of a slit its two ends, of a notch from rim to rim.

    Source: circles and half ellipses by their parametric equations.
    """
    x, y, wide, high = opening.x_mm, opening.y_mm, opening.width_mm, opening.height_mm
    middle = x + wide / 2, y + high / 2
    match opening.shape:
        case "slit":
            return [(x, y), (x + wide, y + high)]
        case "round":
            return _arc(middle, wide / 2, high / 2, 0, 360)
        case "notch":
            return _notch(opening, middle)
        case "slot":
            return _slot(opening, middle)
        case _:
            return [(x, y), (x + wide, y), (x + wide, y + high), (x, y + high)]


def _arc(middle: Point, across: float, up: float, start: float, sweep: float) -> list[Point]:
    steps = max(2, round(ROUND_STEPS * sweep / 180))
    angles = (math.radians(start + sweep * step / steps) for step in range(steps + 1))
    return [(middle[0] + across * math.cos(a), middle[1] + up * math.sin(a)) for a in angles]


def _slot(opening: CutOut, middle: Point) -> list[Point]:
    wide, high = opening.width_mm, opening.height_mm
    half, run = min(wide, high) / 2, abs(wide - high) / 2
    if wide >= high:
        ends = ((middle[0] + run, middle[1]), (middle[0] - run, middle[1]))
        return _arc(ends[0], half, half, -90, 180) + _arc(ends[1], half, half, 90, 180)
    ends = ((middle[0], middle[1] + run), (middle[0], middle[1] - run))
    return _arc(ends[0], half, half, 0, 180) + _arc(ends[1], half, half, 180, 180)


def _notch(opening: CutOut, middle: Point) -> list[Point]:
    """Half an ellipse that bulges away from the open edge."""
    x, y, wide, high = opening.x_mm, opening.y_mm, opening.width_mm, opening.height_mm
    match opening.open_edge:
        case "near":
            return _arc((middle[0], y), wide / 2, high, 0, 180)
        case "far":
            return _arc((middle[0], y + high), wide / 2, high, 180, 180)
        case "left":
            return _arc((x, middle[1]), wide, high / 2, -90, 180)
        case _:
            return _arc((x + wide, middle[1]), wide, high / 2, 90, 180)
