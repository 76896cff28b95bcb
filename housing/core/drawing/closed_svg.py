"""The closed enclosure in a small line drawing, seen from the front and the right, with its outside size."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from housing.core.drawing.hidden_lines import ACROSS, DOWN, Segment, project, visible_lines
from housing.core.drawing.solids import Point3, Solids, around, solids_of
from housing.core.drawing.svg import document, element, line, number, text, text_width
from housing.core.drawing.symbols import READ_MM
from housing.core.drawing.thinning import thinned
from housing.core.enclosures.form import BOARD, Part, Seat
from housing.core.enclosures.seating import Turn, turn_of
from housing.core.errors import PaperTooSmall
from housing.core.folding import Bounds, Box3, sides_of
from housing.core.part_names import named
from objects.core.words import say

LINE_MM, THIN_MM, GUIDE_MM = 0.35, 0.25, 0.13
APART_MM = 0.5  # edges nearer than this on paper run together into one
GAP_MM = 1.5
ROW_MM = 1.35 * READ_MM
# Of the paper's width and height, for parts that have no place in the closed enclosure.
BESIDE_SHARE, BESIDE_HIGH = 0.25, 0.5
LIFT_SHARE = 0.6  # of the base's height between its rim and the lifted lid

type Point = tuple[float, float]


def closed_svg(
    parts: Sequence[Part],
    outside: Box3,
    *,
    title: str,
    format_length: Callable[[float], str],
    paper_width_mm: float = 75.0,
    paper_height_mm: float = 55.0,
    is_open: bool = False,
    is_sized: bool = True,
) -> str:
    """Draw a closed enclosure as large as the paper allows; only what is seen of it.

    parts: folded, mm, the one it stands on first. outside: its sides when closed, mm. title: for
    screen readers. format_length: writes mm for the reader. is_open: lifts what covers the first part, if
    anything does, with guide lines, and names the parts instead of giving sizes. is_sized: False leaves sizes
    and names out, where they are written beside it.
    Returns an SVG at most as large as the paper. It shows proportions and is not to scale. Parts without a
    place in the closed enclosure are drawn small beside it; those not of board are only named.
    Raises PaperTooSmall when the figures alone fill the paper.
    Source: isometric projection, as in technical drawing.
    """
    is_open = is_open and any(part.seat is Seat.OVER for part in parts)
    seen = _Seen(parts, is_open)
    sides = [
        say("{length} wide", length=format_length(outside.x_mm)),
        say("{length} deep", length=format_length(outside.y_mm)),
        say("{length} high", length=format_length(outside.z_mm)),
    ]
    if not is_sized:
        seen.named, labels = [], ["", "", ""]
    elif not is_open and seen.is_as_large_as(outside):
        seen.named = []
        labels = sides
    else:
        labels = ["", "", ""]
    drawing = _Drawing(seen, labels, paper_width_mm, paper_height_mm)
    description = say("Outside {sides}; not to scale.", sides=", ".join(sides))
    if seen.unseen:
        description += " " + say("Not drawn: {parts}.", parts=", ".join(seen.unseen))
    return document(
        drawing.width_mm, drawing.height_mm, title, description, drawing.parts(), "drawing closed-box"
    )


@dataclass(frozen=True)
class _Beside:
    """A part drawn on its own, and what is written beneath it."""

    solids: Solids
    words: str


class _Seen:
    """What is to be drawn of an enclosure: its solids in their places, and the parts beside it."""

    def __init__(self, parts: Sequence[Part], is_open: bool) -> None:
        self.together, self.beside, self.unseen = Solids(), list[_Beside](), list[str]()
        self.guides: list[Segment] = []
        self.named: list[tuple[str, Bounds]] = []
        base = parts[0].folded.bounds
        counted: dict[str, list[Part]] = {}
        for part in parts:
            turn = turn_of(part, parts[0])
            if turn is None:
                counted.setdefault(_kind(part), []).append(part)
                continue
            if is_open and part.seat is Seat.OVER:
                turn = self._lifted(part, turn, base)
            self.together.add(solids_of(part, turn))
            if part.seat in (Seat.FIRST, Seat.OVER):
                self.named.append((_kind(part), turn.of(part.folded.bounds)))
        for name, alike in counted.items():
            words = name if len(alike) == 1 else f"{len(alike)} × {name}"
            if alike[0].material == BOARD:
                self.beside.append(_Beside(solids_of(alike[0]), words))
            else:
                self.unseen.append(words)

    def _lifted(self, part: Part, turn: Turn, base: Bounds) -> Turn:
        """A lid held above the base, so high that something of the base's rim shows beneath it."""
        closed = turn.of(part.folded.bounds)
        lift = base[5] - closed[2] + LIFT_SHARE * max(base[5] - base[2], closed[5] - closed[2])
        x, y, z = turn.shift
        for at_x, at_y in ((0, 1), (3, 1), (3, 4)):
            foot, top = (closed[at_x], closed[at_y], base[5]), (closed[at_x], closed[at_y], closed[2] + lift)
            self.guides.append((foot, top))
        return replace(turn, shift=(x, y, z + lift))

    def is_as_large_as(self, outside: Box3) -> bool:
        """Whether what is drawn has the outside of the enclosure, which a roll on its tube has not."""
        drawn = sides_of(around(self.together.boxes))
        pairs = ((drawn.x_mm, outside.x_mm), (drawn.y_mm, outside.y_mm), (drawn.z_mm, outside.z_mm))
        return all(abs(a - b) < 0.5 + 0.01 * b for a, b in pairs)


class _Drawing:
    """One drawing: how much room it takes, and its parts."""

    def __init__(self, seen: _Seen, labels: Sequence[str], paper_width: float, paper_height: float) -> None:
        self.seen, self.labels = seen, labels
        wide, deep, high = (text_width(label, READ_MM) for label in labels)
        names = max((text_width(name, READ_MM) for name, _ in seen.named), default=0.0)
        left, right = max(wide, high) + GAP_MM, max(deep, names) + GAP_MM
        above, below = READ_MM, READ_MM + GAP_MM
        self.bounds = around(seen.together.boxes)
        flat_x, flat_y = _flat_size(self.bounds)
        if seen.beside:
            right = max(right, BESIDE_SHARE * paper_width, *(_words_width(each) for each in seen.beside))
        room_x = paper_width - left - right - LINE_MM
        room_y = paper_height - above - below - LINE_MM
        if min(room_x, room_y) <= 0:
            raise PaperTooSmall(
                f"A drawing {paper_width:g} x {paper_height:g} mm has no room beside its own figures. "
                "Give it a larger page."
            )
        self.scale = min(room_x / flat_x, room_y / flat_y)
        self.left, self.top = left + LINE_MM / 2, above + LINE_MM / 2
        self.beside_x = left + flat_x * self.scale + LINE_MM
        self.width_mm = self.beside_x + right
        self.height_mm = above + flat_y * self.scale + below + LINE_MM
        self.column = self._column(right, paper_height)

    def _column(self, width: float, paper_height: float) -> list[tuple[_Beside, float, float]]:
        """Parts in the upper right corner, each with its scale and its place from the top."""
        if not self.seen.beside:
            return []
        row = READ_MM + 2 * GAP_MM
        room = BESIDE_HIGH * paper_height / len(self.seen.beside) - row
        if room <= 0:
            raise PaperTooSmall(f"{len(self.seen.beside)} parts beside the enclosure need a larger page.")
        found, at = [], 0.0
        for each in self.seen.beside:
            flat_x, flat_y = _flat_size(around(each.solids.boxes))
            scale = min(self.scale, (width - 2 * GAP_MM) / flat_x, room / flat_y)
            found.append((each, scale, at))
            at += flat_y * scale + row
        self.height_mm = max(self.height_mm, at + 2 * READ_MM)
        return found

    def parts(self) -> Iterator[str]:
        bounds = self.bounds
        corner = project((bounds[0], bounds[1], 0.0))[0], project((bounds[0], bounds[4], bounds[5]))[1]

        def paper(point: Point3) -> Point:
            x, y = project(point)
            return self.left + (x - corner[0]) * self.scale, self.top + (y - corner[1]) * self.scale

        yield from _lines(self.seen.together, paper)
        for start, end in self.seen.guides:
            yield line(*paper(start), *paper(end), "guide", GUIDE_MM, stroke_dasharray="0.8 0.6")
        yield from self._sizes(paper)
        yield from self._names(paper)
        for each, scale, top in self.column:
            yield from self._beside(each, scale, top)

    def _names(self, paper: Callable[[Point3], Point]) -> Iterator[str]:
        """Names of the parts, beside them from the lowest up; of a single one beneath it."""
        named = self.seen.named
        if len(named) == 1:
            x, y = paper((self.bounds[3], self.bounds[1], self.bounds[2]))
            yield text(x, y + READ_MM + GAP_MM / 2, named[0][0], "dim", READ_MM, "middle")
            return
        highest = self.height_mm
        for name, box in sorted(named, key=lambda each: each[1][2]):
            x, y = paper((box[3], box[4], (box[2] + box[5]) / 2))
            highest = min(y + 0.36 * READ_MM, highest - ROW_MM)
            yield text(x + GAP_MM, highest, name, "dim", READ_MM)

    def _beside(self, each: _Beside, scale: float, top: float) -> Iterator[str]:
        box = around(each.solids.boxes)
        corner = project((box[0], box[1], 0.0))[0], project((box[0], box[4], box[5]))[1]

        def paper(point: Point3) -> Point:
            x, y = project(point)
            return (
                self.beside_x + GAP_MM + (x - corner[0]) * scale, top + GAP_MM + (y - corner[1]) * scale
            )  # fmt: skip

        yield from _lines(each.solids, paper)
        under = top + GAP_MM + _flat_size(box)[1] * scale + READ_MM
        yield text(self.beside_x + GAP_MM, under, each.words, "dim", READ_MM)

    def _sizes(self, paper: Callable[[Point3], Point]) -> Iterator[str]:
        if not any(self.labels):
            return
        x0, y0, z0, x1, y1, z1 = self.bounds
        wide_x, wide_y = paper(((x0 + x1) / 2, y0, z0))
        deep_x, deep_y = paper((x1, (y0 + y1) / 2, z0))
        high_x, high_y = paper((x0, y0, (z0 + z1) / 2))
        wide_y += READ_MM
        high_y = min(high_y + 0.36 * READ_MM, wide_y - 1.3 * READ_MM)
        yield text(wide_x - GAP_MM, wide_y, self.labels[0], "dim", READ_MM, "end")
        yield text(deep_x + GAP_MM, deep_y + READ_MM, self.labels[1], "dim", READ_MM)
        yield text(high_x - GAP_MM, high_y, self.labels[2], "dim", READ_MM, "end")


def _kind(part: Part) -> str:
    """A part's name without its number."""
    return named(part.name.rstrip("0123456789 "))


def _words_width(each: _Beside) -> float:
    return text_width(each.words, READ_MM) + 2 * GAP_MM


def _flat_size(box: Bounds) -> Point:
    """How wide and high a box is drawn, before it is scaled."""
    sides = sides_of(box)
    floor = sides.x_mm + sides.y_mm
    return floor * ACROSS, floor * DOWN + sides.z_mm


def _lines(solids: Solids, paper: Callable[[Point3], Point]) -> Iterator[str]:
    """What is seen of some solids: edges in one path, openings in another."""
    edges, outlines = visible_lines(solids)
    strokes = thinned(((paper(start), paper(end)) for start, end in edges), APART_MM)
    yield _path(strokes, "closed", LINE_MM)
    if outlines:
        yield _path([(paper(start), paper(end)) for start, end in outlines], "opening", THIN_MM)


def _path(strokes: Sequence[tuple[Point, Point]], class_: str, width: float) -> str:
    d = " ".join(f"M{number(x1)} {number(y1)} L{number(x2)} {number(y2)}" for (x1, y1), (x2, y2) in strokes)
    return element(
        "path", class_=class_, d=d, fill="none", stroke="#000", stroke_width=width, stroke_linecap="round"
    )
