"""Numbers on a drawn blank: cuts in circles on their lines, glue joints in squares, none on another."""

from collections.abc import Iterable, Iterator
from math import cos, hypot, pi, sin

from housing.core.drawing.svg import element, line
from housing.core.drawing.symbols import READ_MM, centred

Box = tuple[float, float, float, float]  # left, top, right, bottom, mm on paper
Point = tuple[float, float]

HALF_MM = 2.0  # half the width of a sign: two digits of READ_MM fit in
APART_MM = 0.4  # from the end of a line to the sign on it
STEP_MM = 1.0
AROUND = 16  # directions in which a place beside a line is looked for
RINGS = 14


class Signs:
    """The signs of one drawing. taken: the rooms of words and signs, to which each sign adds its own."""

    def __init__(self, room: Box, taken: Iterable[Box] = ()) -> None:
        self.room = room
        self.taken = list(taken)
        self.leaders: list[str] = []  # to signs beside their lines, to be drawn beneath all signs

    def cut(self, strokes: list[tuple[Point, Point]], number: int) -> Iterator[str]:
        """A cut's number on each of its strokes where there is room, at least once."""
        free = [(stroke, place) for stroke in strokes if (place := self._on(*stroke)) is not None]
        for _, place in free:
            if self._is_free(_box(place)):  # the sign before may have taken it
                self.taken.append(_box(place))
                yield circle(*place, number)
        if not free:
            start, end = max(
                strokes, key=lambda ends: hypot(ends[1][0] - ends[0][0], ends[1][1] - ends[0][1])
            )
            yield from self._beside(_between(start, end, 0.5), number, circle)

    def glue(self, box: Box, number: int) -> Iterator[str]:
        """A joint's number within its flap, as far from words as there is room, else beside it."""
        left, top, right, bottom = box
        middle = (left + right) / 2, (top + bottom) / 2
        inset = HALF_MM + APART_MM
        if right - left > bottom - top:
            places = [(at, middle[1]) for at in (middle[0], left + inset, right - inset)]
            places += [(middle[0], at) for at in (top + inset, bottom - inset)]
        else:
            places = [(middle[0], at) for at in (middle[1], top + inset, bottom - inset)]
            places += [(at, middle[1]) for at in (left + inset, right - inset)]
        for place in places:  # of a flap narrower than the sign it may stick out beside it
            if self._is_free(_box(place)) and _is_in((*place, *place), box):
                self.taken.append(_box(place))
                yield square(*place, number)
                return
        yield from self._beside(middle, number, square)

    def _on(self, start: Point, end: Point) -> Point | None:
        long = hypot(end[0] - start[0], end[1] - start[1])
        if long < 2 * (HALF_MM + APART_MM):
            return None
        at = HALF_MM + APART_MM
        while at <= long - HALF_MM - APART_MM:
            place = _between(start, end, at / long)
            if self._is_free(_box(place)):
                return place
            at += STEP_MM
        return None

    def _beside(self, middle: Point, number: int, sign) -> Iterator[str]:  # type: ignore[no-untyped-def]
        """A number off its line with a leader, at the nearest free place; none where there is no room."""
        for ring in range(2, RINGS):
            for turn in range(AROUND):
                angle = 2 * pi * turn / AROUND
                place = (
                    middle[0] + cos(angle) * ring * HALF_MM, middle[1] + sin(angle) * ring * HALF_MM
                )  # fmt: skip
                if self._is_free(_box(place)):
                    self.taken.append(_box(place))
                    self.leaders.append(line(*middle, *place, "leader", 0.15))
                    yield sign(*place, number)
                    return

    def _is_free(self, box: Box) -> bool:
        return _is_in(box, self.room) and not any(
            box[0] < other[2] and other[0] < box[2] and box[1] < other[3] and other[1] < box[3]
            for other in self.taken
        )


def circle(x: float, y: float, number: int) -> str:
    """The number of a cut."""
    drawn = element(
        "circle", class_="number-sign", cx=x, cy=y, r=HALF_MM, fill="#fff", stroke="#000", stroke_width=0.25
    )
    return drawn + _figure(x, y, number, "cut-number")


def square(x: float, y: float, number: int) -> str:
    """The number of a glue joint."""
    drawn = element(
        "rect", class_="number-sign", x=x - HALF_MM, y=y - HALF_MM, width=2 * HALF_MM, height=2 * HALF_MM,
        fill="#fff", stroke="#000", stroke_width=0.5,
    )  # fmt: skip
    return drawn + _figure(x, y, number, "glue-number")


def _figure(x: float, y: float, number: int, class_: str) -> str:
    return centred(str(number), x, y, class_, READ_MM, 0)


def _between(start: Point, end: Point, share: float) -> Point:
    return start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share


def _box(place: Point) -> Box:
    x, y = place
    return x - HALF_MM, y - HALF_MM, x + HALF_MM, y + HALF_MM


def _is_in(box: Box, room: Box) -> bool:
    return room[0] <= box[0] and room[1] <= box[1] and box[2] <= room[2] and box[3] <= room[3]
