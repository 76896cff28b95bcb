"""Words on a drawn blank: names of panels and openings, the arrow of the flutes, and a list of openings."""

from collections.abc import Callable, Collection, Iterator, Sequence
from itertools import product

from housing.core.blank import SAME_LINE_MM, Blank, CutOut, Rectangle
from housing.core.drawing.fitting import ROW_PITCH, Fitted
from housing.core.drawing.svg import TEXT_MM, text, text_width
from housing.core.drawing.symbols import READ_MM, arrow, centred, turn_to_fit
from housing.core.part_names import kind_of, named
from objects.core.words import noted, say

FormatLength = Callable[[float], str]
Point = tuple[float, float]

FACE = noted("inside")
ARROW_MM = 22.0  # height of a floor that takes its name, the arrow and what it means
FACE_MM = 28.0  # height of a floor that besides says which face it is
MOST_OPENINGS = 8  # on one panel that are gone around one by one; more are taken as one
MARK_WORDS = {
    "rectangle": noted("opening"), "slot": noted("hole"), "round": noted("centre"), "notch": noted("notch"),
    "slit": noted("slit"),
}  # fmt: skip
SIGN_MM = 5.4  # a number's sign and what is kept free on both its sides
APART_MM, DEEP = 0.3, 0.6  # free around words; half their height down to the tails of letters, of their size
CLEAR_MM = 1.0  # kept free around words within an opening
MOST_MARKS = 6  # of openings along one edge; more are told in a list


class Words:
    """What is written on a blank at one scale, mm of the blank to mm on paper.

    from_right: lengths along x are read from the right edge. numbered: panels that
    carry a number. taken: rooms of the words drawn so far.
    """

    def __init__(
        self,
        blank: Blank,
        scale: float,
        format_length: FormatLength,
        direction: str,
        from_right: bool = False,
        numbered: Collection[str] = (),
    ) -> None:
        self.blank, self.scale, self.format_length = blank, scale, format_length
        self.direction, self.face, self.from_right = say(direction), say(FACE), from_right
        self.numbered = numbered
        self.taken: list[tuple[float, float, float, float]] = []
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
                self.taken += fitted.boxes
                yield fitted.draw("opening-label")

    def panels(self, paper: Callable[[float, float], Point]) -> Iterator[str]:
        """Panel names in the middle of their panels, turned where that fits better.

        Where "near left flap" does not fit one of the flaps, all are called "flap"; likewise the walls.
        """
        for kind in dict.fromkeys(kind_of(panel.name) for panel in self.blank.panels):
            alike = [panel for panel in self.blank.panels if kind_of(panel.name) == kind]
            rooms = [_room(panel, self.blank) for panel in alike]
            short = any(
                self._turn(room, named(panel.name)) is None for panel, room in zip(alike, rooms, strict=True)
            )
            for panel, room in zip(alike, rooms, strict=True):
                name = say(kind) if short else named(panel.name)
                turn = self._turn(room, name)
                if turn is not None and self._leaves_room(panel, name, turn):
                    is_floor = panel is self.blank.panels[0]
                    yield from self._panel(room, name, turn, is_floor, paper)

    def _panel(
        self, room: Rectangle, name: str, turn: int, is_floor: bool, paper: Callable[[float, float], Point]
    ) -> Iterator[str]:
        x, y = paper(room.x_mm + room.width_mm / 2, room.y_mm + room.height_mm / 2)
        wide, high = room.width_mm * self.scale, room.height_mm * self.scale
        if not (is_floor and self.has_arrow):
            self._take(name, x, y, TEXT_MM, turn)
            yield centred(name, x, y, "piece-label", TEXT_MM, turn)
            return
        self._take(name, x, y - high / 4, TEXT_MM, turn)
        yield centred(name, x, y - high / 4, "piece-label", TEXT_MM, turn)
        if high >= FACE_MM and wide >= text_width(self.face, READ_MM) + 2:
            self._take(self.face, x, y - high / 4 + 1.4 * TEXT_MM, READ_MM, 0)
            yield centred(self.face, x, y - high / 4 + 1.4 * TEXT_MM, "face", READ_MM, 0)
        y += high / 6
        self.taken.append((x - 12, y - 5.5, x + 12, y + 5.5))
        long = text_width(self.direction, READ_MM)
        if self.blank.flute_along == "x":
            yield arrow(x, y, 14, "x") + centred(self.direction, x, y + 3.5, "flute", READ_MM, 0)
        else:
            x -= long / 2
            yield arrow(x, y, 10, "y") + text(x + 2, y + 1, self.direction, "flute", READ_MM)

    def _leaves_room(self, panel: Rectangle, name: str, turn: int) -> bool:
        """Whether the number of a panel has room beside its name: the steps call it by its number."""
        if panel.name not in self.numbered:
            return True
        wide, high = panel.width_mm * self.scale, panel.height_mm * self.scale
        along, across = (wide, high) if turn == 0 else (high, wide)
        beside, above = (along - text_width(name, TEXT_MM)) / 2, (across - TEXT_MM) / 2
        return (beside >= SIGN_MM and across >= SIGN_MM) or above >= SIGN_MM

    def _take(self, words: str, x: float, y: float, size: float, turn: int) -> None:
        half, high = text_width(words, size) / 2 + APART_MM, size * DEEP + APART_MM
        across, down = (half, high) if turn == 0 else (high, half)
        self.taken.append((x - across, y - down, x + across, y + down))

    def _turn(self, room: Rectangle, name: str) -> int | None:
        return turn_to_fit(name, room.width_mm * self.scale, room.height_mm * self.scale)

    def _arrow_fits(self) -> bool:
        room, long = self.floor_room, text_width(self.direction, READ_MM) + 10
        upright = self._turn(room, named(self.blank.panels[0].name)) == 0
        return upright and room.width_mm * self.scale >= long and room.height_mm * self.scale >= ARROW_MM

    def _fitted(self, opening: CutOut, corner: Point) -> Fitted | None:
        """Name and size within an opening whose upper left corner lies at a point on paper."""
        wide, high = opening.width_mm * self.scale, opening.height_mm * self.scale
        name, size = named(opening.name), self._size(opening)
        for rows in ((name, size), (f"{name} {size}",)):
            long = max(text_width(row, READ_MM) for row in rows) + 2 * CLEAR_MM
            deep = READ_MM * (1 + ROW_PITCH * (len(rows) - 1)) + 2 * CLEAR_MM
            for turn, across, down in ((0, long, deep), (-90, deep, long)):
                if across <= wide and down <= high:
                    return Fitted(rows, READ_MM, turn, (corner[0] + wide / 2, corner[1] + high / 2))
        return None

    def _named(self, opening: CutOut) -> str:
        return f"{named(opening.name)} {self._size(opening)}"

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
        for (what, y, high), alike in rows.items():
            spans = sorted((self._from_edge(opening), opening.width_mm) for opening in alike)
            at = ", ".join(self._span(start, long) for start, long in spans)
            what = f"{len(alike)} × {what}" if len(alike) > 1 else what
            near = self._span(y, high)
            found.append(
                say("{what}: from the right {at}; from near {near}", what=what, at=at, near=near)
                if self.from_right
                else say("{what}: from the left {at}; from near {near}", what=what, at=at, near=near)
            )
        return found

    def _from_edge(self, opening: CutOut) -> float:
        if self.from_right:
            return self.blank.x_mm - opening.x_mm - opening.width_mm
        return opening.x_mm

    def _span(self, start: float, long: float) -> str:
        if long < SAME_LINE_MM:
            return self.format_length(start)
        return say("{a} to {b}", a=self.format_length(start), b=self.format_length(start + long))


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
