"""Numbers in discs on lines, each where it hides no words and no other disc."""

from collections.abc import Iterator
from math import cos, hypot, pi, sin

from housing.core.drawing.svg import element, line
from housing.core.drawing.symbols import centred

Box = tuple[float, float, float, float]  # left, top, right, bottom, mm on paper
Point = tuple[float, float]

BADGE_MM = 1.9  # radius of the disc
TEXT_SHARE = 2.2 / BADGE_MM  # height of the figures in parts of the radius
APART_MM = 0.6  # from the start of a line to the edge of its disc
AROUND = 16  # directions in which a place beside a line is looked for


class Badges:
    """The discs of one drawing. taken: what hides must not be hidden, to which each disc is added."""

    def __init__(self, width_mm: float, height_mm: float) -> None:
        self.room: Box = (0.0, 0.0, width_mm, height_mm)
        self.taken: list[Box] = []
        self.radius = BADGE_MM

    def draw(self, start: Point, end: Point, number: int) -> str:
        """A number at the first place from a line's start that is free, or beside it with a leader."""
        for place in _along(start, end, self.radius):
            if self._is_free(self._box(place)):
                self.taken.append(self._box(place))
                return disc(*place, number, self.radius)
        middle = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
        place = self._beside(middle)
        return line(*middle, *place, "leader", 0.15) + disc(*place, number, self.radius)

    def beside(self, middle: Point, letter: str) -> str:
        """A letter at the nearest free place beside a point, with a leader that ends there in a dot."""
        x, y = self._beside(middle)
        dot = element("circle", class_="leader", cx=middle[0], cy=middle[1], r=0.4, fill="#000")
        side = 2 * self.radius - 0.4
        ground = element(
            "rect", class_="letter", x=x - side / 2, y=y - side / 2, width=side, height=side, fill="#fff",
            stroke="#000", stroke_width=0.2,
        )  # fmt: skip
        letters = centred(letter, x, y, "piece-label", self.radius * TEXT_SHARE * 0.8, 0)
        return dot + line(*middle, x, y, "leader", 0.15) + ground + letters

    def _beside(self, middle: Point) -> Point:
        """The nearest free place about a point, taken at once; the point itself where there is none."""
        places = _around(middle, self.radius)
        place = next((place for place in places if self._is_free(self._box(place))), middle)
        self.taken.append(self._box(place))
        return place

    def _box(self, place: Point) -> Box:
        (x, y), r = place, self.radius
        return x - r, y - r, x + r, y + r

    def _is_free(self, box: Box) -> bool:
        left, top, right, bottom = self.room
        inside = left <= box[0] and top <= box[1] and box[2] <= right and box[3] <= bottom
        return inside and not any(overlap(box, other) for other in self.taken)


def disc(x: float, y: float, number: int, radius: float = BADGE_MM) -> str:
    """A number in a disc."""
    circle = element(
        "circle", class_="cut-number", cx=x, cy=y, r=radius, fill="#fff", stroke="#000", stroke_width=0.2
    )
    return circle + centred(str(number), x, y, "cut-number", radius * TEXT_SHARE, 0)


def overlap(a: Box, b: Box) -> bool:
    """Whether two rectangles share more than an edge."""
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def _along(start: Point, end: Point, radius: float) -> Iterator[Point]:
    """Places on a line, a millimetre apart, then its middle."""
    long = hypot(end[0] - start[0], end[1] - start[1])
    steps = [radius + APART_MM + i for i in range(int(max(long - 2 * radius, 0)))]
    for step in (*steps, long / 2):
        share = step / long if long else 0.0
        yield start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share


def _around(middle: Point, radius: float) -> Iterator[Point]:
    """Places about a point, the nearest first, up to thirty discs away."""
    for ring in range(2, 60):
        for turn in range(AROUND):
            angle = 2 * pi * turn / AROUND
            yield middle[0] + cos(angle) * ring * radius, middle[1] + sin(angle) * ring * radius
