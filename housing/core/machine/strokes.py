"""The lines of a machine's drawing: runs of straight lines and arcs, each on a layer; mm, y away from us."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

type Point = tuple[float, float]

# Ends closer than this are one point, lines closer than this one line: sides are kept to 0.0001 mm, and no
# machine for board repeats to a hundredth of a millimetre.
SAME_MM = 0.01


@dataclass(frozen=True, slots=True)
class Stroke:
    """A run of lines on a layer, mm.

    bulges: of the line that begins at each point, the tangent of a quarter of the angle of its arc, above 0
    where it turns to the left, 0 where it is straight; none where all are straight.
    is_closed: whether a last line leads back to the first point.
    """

    layer: str
    points: tuple[Point, ...]
    bulges: tuple[float, ...] = ()
    is_closed: bool = False

    @property
    def is_straight(self) -> bool:
        return not any(self.bulges)

    @property
    def is_circle(self) -> bool:
        """Whether it is two half circles."""
        return self.is_closed and self.bulges == (1.0, 1.0)

    @property
    def lines(self) -> list[tuple[Point, Point, float]]:
        """Its lines one by one: where each begins and ends, and its bulge."""
        ends = pairwise((*self.points, self.points[0]) if self.is_closed else self.points)
        bulges = self.bulges or (0.0,) * len(self.points)
        return [(start, end, bulge) for (start, end), bulge in zip(ends, bulges, strict=False)]

    @property
    def length_mm(self) -> float:
        """Its length with its arcs. Source: an arc of angle a over a chord c is c a / (2 sin a/2) long."""
        return sum(_length(math.dist(start, end), bulge) for start, end, bulge in self.lines)

    def on(self, layer: str) -> "Stroke":
        return replace(self, layer=layer)


def _length(chord: float, bulge: float) -> float:
    if not bulge:
        return chord
    angle = 4 * math.atan(abs(bulge))
    return chord * angle / (2 * math.sin(angle / 2))


@dataclass(frozen=True, slots=True)
class Words:
    """A text on a layer: its middle, or where it begins, and its height in mm, degrees turned to the left."""

    layer: str
    content: str
    x_mm: float
    y_mm: float
    height_mm: float
    turn: int = 0
    is_centred: bool = True


@dataclass(frozen=True)
class Drawing:
    """What a file holds: the rectangle drawn, mm, its lines and words, and notes to be written beneath it."""

    along_mm: float
    across_mm: float
    strokes: tuple[Stroke, ...]
    words: tuple[Words, ...] = ()
    notes: tuple[str, ...] = ()
    title: str = ""

    def on(self, *layers: str) -> list[Stroke]:
        """Its lines on some layers."""
        return [stroke for stroke in self.strokes if stroke.layer in layers]

    def length_mm(self, *layers: str) -> float:
        """How long its lines on some layers are together."""
        return sum(stroke.length_mm for stroke in self.on(*layers))


def turned(strokes: Iterable[Stroke], x_mm: float, y_mm: float, quarters: int) -> list[Stroke]:
    """Lines within a rectangle, turned with it to the left about its corner and moved back from 0, 0 on.

    x_mm, y_mm: sides of the rectangle as it was. quarters: of a turn.
    Source: a quarter turn to the left brings x, y to -y, x; moved back by the side y that is y_mm - y, x.
    """
    done, sides = list(strokes), (x_mm, y_mm)
    for _ in range(quarters % 4):
        high = sides[1]
        done = [replace(s, points=tuple((high - y, x) for x, y in s.points)) for s in done]
        sides = sides[::-1]
    return done


def moved(strokes: Iterable[Stroke], x_mm: float, y_mm: float) -> list[Stroke]:
    return [replace(s, points=tuple((x + x_mm, y + y_mm) for x, y in s.points)) for s in strokes]


def circle(layer: str, middle: Point, radius: float) -> Stroke:
    """A circle, as two half circles."""
    x, y = middle
    return Stroke(layer, ((x - radius, y), (x + radius, y)), (1.0, 1.0), is_closed=True)


def rectangle(layer: str, x: float, y: float, wide: float, high: float) -> Stroke:
    """A rectangle, round to the left from its near left corner."""
    points = ((x, y), (x + wide, y), (x + wide, y + high), (x, y + high))
    return Stroke(layer, points, is_closed=True)


def run(layer: str, points: Sequence[Point], is_closed: bool = False) -> Stroke:
    """Straight lines from point to point."""
    return Stroke(layer, tuple(points), is_closed=is_closed)
