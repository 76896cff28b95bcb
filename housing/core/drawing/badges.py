"""Numbers in discs on lines, each where it hides no words and no other disc."""

from collections.abc import Iterator
from math import cos, hypot, pi, sin

from housing.core.drawing.svg import element, line
from housing.core.drawing.symbols import centred

Box = tuple[float, float, float, float]  # left, top, right, bottom, mm on paper
Point = tuple[float, float]

BADGE_MM = 1.9  # radius of the disc
BADGE_TEXT_MM = 2.2
APART_MM = 0.6  # from the start of a line to the edge of its disc
AROUND = 16  # directions in which a place beside a line is looked for


class Badges:
    """The discs of one drawing. taken: what hides must not be hidden, to which each disc is added."""

    def __init__(self, width_mm: float, height_mm: float) -> None:
        self.room: Box = (0.0, 0.0, width_mm, height_mm)
        self.taken: list[Box] = []

    def draw(self, start: Point, end: Point, number: int) -> str:
        """A number at the first place from a line's start that is free, or beside it with a leader."""
        for x, y in _along(start, end):
            if self._is_free(_box(x, y)):
                self.taken.append(_box(x, y))
                return disc(x, y, number)
        middle = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
        x, y = next((place for place in _around(middle) if self._is_free(_box(*place))), middle)
        self.taken.append(_box(x, y))
        return line(*middle, x, y, "leader", 0.15) + disc(x, y, number)

    def _is_free(self, box: Box) -> bool:
        left, top, right, bottom = self.room
        inside = left <= box[0] and top <= box[1] and box[2] <= right and box[3] <= bottom
        return inside and not any(overlap(box, other) for other in self.taken)


def disc(x: float, y: float, number: int) -> str:
    """A number in a disc."""
    circle = element(
        "circle", class_="cut-number", cx=x, cy=y, r=BADGE_MM, fill="#fff", stroke="#000", stroke_width=0.2
    )
    return circle + centred(str(number), x, y, "cut-number", BADGE_TEXT_MM, 0)


def overlap(a: Box, b: Box) -> bool:
    """Whether two rectangles share more than an edge."""
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def _box(x: float, y: float) -> Box:
    return x - BADGE_MM, y - BADGE_MM, x + BADGE_MM, y + BADGE_MM


def _along(start: Point, end: Point) -> Iterator[Point]:
    """Places on a line, a millimetre apart, then its middle."""
    long = hypot(end[0] - start[0], end[1] - start[1])
    steps = [BADGE_MM + APART_MM + i for i in range(int(max(long - 2 * BADGE_MM, 0)))]
    for step in (*steps, long / 2):
        share = step / long if long else 0.0
        yield start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share


def _around(middle: Point) -> Iterator[Point]:
    """Places about a point, the nearest first, up to ten discs away."""
    for ring in range(2, 20):
        for turn in range(AROUND):
            angle = 2 * pi * turn / AROUND
            yield middle[0] + cos(angle) * ring * BADGE_MM, middle[1] + sin(angle) * ring * BADGE_MM
