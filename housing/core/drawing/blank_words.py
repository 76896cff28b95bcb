"""Words on a drawn blank: names of panels and openings, the arrow of the flutes, and a list of openings."""

from collections.abc import Callable, Iterator, Sequence
from itertools import product

from housing.core.blank import SAME_LINE_MM, Blank, CutOut, Rectangle
from housing.core.drawing.fitting import Fitted, fit_words
from housing.core.drawing.svg import SMALL_MM, TEXT_MM, text, text_width
from housing.core.drawing.symbols import arrow, centred, turn_to_fit

FormatLength = Callable[[float], str]
Point = tuple[float, float]

FACE = "inside"
ARROW_MM = 22.0  # height of a floor that takes its name, the arrow and what it means
FACE_MM = 28.0  # height of a floor that besides says which face it is
MOST_OPENINGS = 8  # on one panel that are gone around one by one; more are taken as one
MARK_WORDS = {"rectangle": "opening", "slot": "hole", "round": "centre", "notch": "notch", "slit": "slit"}
MOST_MARKS = 6  # of openings along one edge; more are told in a list


class Words:
    """What is written on a blank at one scale, mm of the blank to mm on paper."""

    def __init__(self, blank: Blank, scale: float, format_length: FormatLength, direction: str) -> None:
        self.blank, self.scale, self.format_length, self.direction = blank, scale, format_length, direction
        self.floor_room = _room(blank.panels[0], blank)
        self.has_arrow = self._arrow_fits()

    def unsaid(self) -> list[str]:
        """Names and sizes of openings that have no room for them, each once."""
        return list(
            dict.fromkeys(self._named(o) for o in self.blank.openings if self._fitted(o, (0, 0)) is None)
        )

    def openings(self, paper: Callable[[float, float], Point]) -> Iterator[str]:
        """Names and sizes within the openings where there is room, so that nobody takes one for a panel."""
        for opening in self.blank.openings:
            fitted = self._fitted(opening, paper(opening.x_mm, opening.y_mm + opening.height_mm))
            if fitted is not None:
                yield fitted.draw("opening-label")

    def panels(self, paper: Callable[[float, float], Point]) -> Iterator[str]:
        """Panel names in the middle of their panels, turned where that fits better.

        Where "near left flap" does not fit one of the flaps, all are called "flap"; likewise the walls.
        """
        for kind in dict.fromkeys(_kind(panel) for panel in self.blank.panels):
            alike = [panel for panel in self.blank.panels if _kind(panel) == kind]
            rooms = [_room(panel, self.blank) for panel in alike]
            short = any(
                self._turn(room, panel.name) is None for panel, room in zip(alike, rooms, strict=True)
            )
            for panel, room in zip(alike, rooms, strict=True):
                name = kind if short else panel.name
                turn = self._turn(room, name)
                if turn is not None:
                    is_floor = panel is self.blank.panels[0]
                    yield from self._panel(room, name, turn, is_floor, paper)

    def _panel(
        self, room: Rectangle, name: str, turn: int, is_floor: bool, paper: Callable[[float, float], Point]
    ) -> Iterator[str]:
        x, y = paper(room.x_mm + room.width_mm / 2, room.y_mm + room.height_mm / 2)
        wide, high = room.width_mm * self.scale, room.height_mm * self.scale
        if not (is_floor and self.has_arrow):
            yield centred(name, x, y, "piece-label", TEXT_MM, turn)
            return
        yield centred(name, x, y - high / 4, "piece-label", TEXT_MM, turn)
        if high >= FACE_MM and wide >= text_width(FACE, SMALL_MM) + 2:
            yield centred(FACE, x, y - high / 4 + 1.4 * TEXT_MM, "face", SMALL_MM, 0)
        y += high / 6
        long = text_width(self.direction, SMALL_MM)
        if self.blank.flute_along == "x":
            yield arrow(x, y, 14, "x") + centred(self.direction, x, y + 3.5, "flute", SMALL_MM, 0)
        else:
            x -= long / 2
            yield arrow(x, y, 10, "y") + text(x + 2, y + 1, self.direction, "flute", SMALL_MM)

    def _turn(self, room: Rectangle, name: str) -> int | None:
        return turn_to_fit(name, room.width_mm * self.scale, room.height_mm * self.scale)

    def _arrow_fits(self) -> bool:
        room, long = self.floor_room, text_width(self.direction, SMALL_MM) + 10
        upright = self._turn(room, self.blank.panels[0].name) == 0
        return upright and room.width_mm * self.scale >= long and room.height_mm * self.scale >= ARROW_MM

    def _fitted(self, opening: CutOut, corner: Point) -> Fitted | None:
        """Name and size within an opening whose upper left corner lies at a point on paper."""
        box = (*corner, corner[0] + opening.width_mm * self.scale, corner[1] + opening.height_mm * self.scale)
        size = self._size(opening)
        return fit_words([(opening.name, size), (f"{opening.name} {size}",)], box, SMALL_MM)

    def _named(self, opening: CutOut) -> str:
        return f"{opening.name} {self._size(opening)}"

    def _size(self, opening: CutOut) -> str:
        if opening.shape == "slit":
            return self.format_length(max(opening.width_mm, opening.height_mm))
        if opening.shape == "round":
            return f"⌀ {self.format_length(opening.width_mm)}"
        return f"{self.format_length(opening.width_mm)} × {self.format_length(opening.height_mm)}"

    def listed(self) -> list[str]:
        """All openings with their size and place, those alike and in one row together."""
        rows: dict[tuple[str, float, float], list[CutOut]] = {}
        for opening in self.blank.openings:
            rows.setdefault((self._named(opening), opening.y_mm, opening.height_mm), []).append(opening)
        found = []
        for (named, y, high), alike in rows.items():
            at = ", ".join(self._span(o.x_mm, o.width_mm) for o in sorted(alike, key=lambda o: o.x_mm))
            count = f"{len(alike)} × " if len(alike) > 1 else ""
            found.append(f"{count}{named}: from the left {at}; from near {self._span(y, high)}")
        return found

    def _span(self, start: float, long: float) -> str:
        if long < SAME_LINE_MM:
            return self.format_length(start)
        return f"{self.format_length(start)} to {self.format_length(start + long)}"


def opening_marks(blank: Blank) -> tuple[list[tuple[float, str]], list[tuple[float, str]]]:
    """Where openings begin and end along x and along y, mm, each with the word of its mark.

    Of a round opening its centre, where the compass is set. What lies on an edge of the blank or on a score
    that is marked already is left out.
    """
    along_x: dict[float, str] = {}
    along_y: dict[float, str] = {}
    for opening in blank.openings:
        word = MARK_WORDS[opening.shape]
        for found, known, start, long in (
            (along_x, blank.marks_x, opening.x_mm, opening.width_mm),
            (along_y, blank.marks_y, opening.y_mm, opening.height_mm),
        ):
            ends = [start + long / 2] if opening.shape == "round" else [start, start + long]
            for end in ends:
                if all(abs(end - other) >= SAME_LINE_MM for other in (*known, *found)):
                    found[end] = word
    return sorted(along_x.items()), sorted(along_y.items())


def _room(panel: Rectangle, blank: Blank) -> Rectangle:
    """The largest rectangle of a panel that no opening takes."""
    openings = [opening for opening in blank.openings if opening.panel == panel.name]
    if not openings:
        return panel
    x0, y0, x1, y1 = panel.x_mm, panel.y_mm, panel.x_mm + panel.width_mm, panel.y_mm + panel.height_mm
    taken = [(o.x_mm, o.y_mm, o.x_mm + o.width_mm, o.y_mm + o.height_mm) for o in openings]
    if len(taken) > MOST_OPENINGS:
        lows, highs = list(zip(*taken, strict=True))[:2], list(zip(*taken, strict=True))[2:]
        taken = [(min(lows[0]), min(lows[1]), max(highs[0]), max(highs[1]))]
    xs = sorted({x0, x1, *(x for box in taken for x in (box[0], box[2]) if x0 < x < x1)})
    ys = sorted({y0, y1, *(y for box in taken for y in (box[1], box[3]) if y0 < y < y1)})
    best = Rectangle(panel.name, x0, y0, 0.0, 0.0)
    for (left, right), (near, far) in product(_pairs(xs), _pairs(ys)):
        is_free = all(box[2] <= left or box[0] >= right or box[3] <= near or box[1] >= far for box in taken)
        # A name needs height less than length: width counts a little more than depth.
        if (
            is_free
            and min(right - left, far - near) * (right - left)
            > min(best.width_mm, best.height_mm) * best.width_mm
        ):
            best = Rectangle(panel.name, left, near, right - left, far - near)
    return best


def _pairs(values: Sequence[float]) -> list[tuple[float, float]]:
    return [(low, high) for i, low in enumerate(values) for high in values[i + 1 :]]


def _kind(panel: Rectangle) -> str:
    """What a panel is: the last word of its name."""
    return panel.name.rsplit(" ", 1)[-1]
