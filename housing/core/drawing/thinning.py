"""Lines of a small drawing thinned out: of lines that would run together on paper one is kept."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

type Point = tuple[float, float]
type Stroke = tuple[Point, Point]
type Span = tuple[float, float]

STRAIGHT = 1e-6


@dataclass(frozen=True, slots=True)
class _Track:
    """A line by where it lies: its direction, its distance from the origin across it, its span along it."""

    towards: Point
    off: float
    start: float
    end: float

    def point(self, along: float) -> Point:
        (x, y), off = self.towards, self.off
        return x * along - y * off, y * along + x * off


def thinned(strokes: Iterable[Stroke], apart_mm: float) -> list[Stroke]:
    """Lines on paper without those that another, longer one nearly covers.

    strokes: ends in mm on paper. apart_mm: parallel lines nearer than this to one another run together.
    Returns what is left, mm on paper, the longest first; parts shorter than half of it are left out, and ends
    that lie so near to a crossing line are moved onto it.
    Source: greedy choice by length; no measure of a drawing is taken from it.
    """
    kept: dict[tuple[int, int], list[_Track]] = {}
    found: list[_Track] = []
    for track in sorted(map(_track, strokes), key=lambda each: each.start - each.end):
        bare = [(track.start, track.end)]
        towards = _direction(track.towards)
        for other in kept.get(towards, ()):
            if abs(other.off - track.off) < apart_mm:
                bare = _without(bare, (other.start - apart_mm, other.end + apart_mm))
                if not bare:
                    break
        for start, end in bare:
            if end - start >= apart_mm / 2:
                piece = _Track(track.towards, track.off, start, end)
                kept.setdefault(towards, []).append(piece)
                found.append(piece)
    return [
        (_met(track, track.start, found, 2 * apart_mm), _met(track, track.end, found, 2 * apart_mm))
        for track in found
    ]


def _met(track: _Track, end: float, others: Sequence[_Track], near: float) -> Point:
    """An end of a line, moved to where it meets another line nearby, if any."""
    best, moved = near, end
    for other in others:
        x, y = other.towards
        slant = track.towards[0] * y - track.towards[1] * x
        if abs(slant) < 0.1:
            continue
        # Along the line to where it lies as far across the other as the other itself.
        px, py = track.point(0.0)
        along = (x * py - y * px - other.off) / slant
        far = abs(along - end)
        if far < best:
            cx, cy = track.point(along)
            if other.start - near <= x * cx + y * cy <= other.end + near:
                best, moved = far, along
    return track.point(moved)


def _track(stroke: Stroke) -> _Track:
    (x1, y1), (x2, y2) = stroke
    long = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5 or 1.0
    x, y = (x2 - x1) / long, (y2 - y1) / long
    if x < -STRAIGHT or (abs(x) <= STRAIGHT and y < 0):
        x, y = -x, -y
    start, end = sorted((x * x1 + y * y1, x * x2 + y * y2))
    return _Track((x, y), x * y1 - y * x1, start, end)


def _direction(towards: Point) -> tuple[int, int]:
    return round(towards[0] * 100), round(towards[1] * 100)


def _without(spans: Sequence[Span], taken: Span) -> list[Span]:
    left = []
    for start, end in spans:
        for low, high in ((start, min(end, taken[0])), (max(start, taken[1]), end)):
            if high > low:
                left.append((low, high))
    return left
