"""The flat blank drawn to a round scale, with the marks of every line at both its ends."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache

from housing.core.blank import OUTSIDE, Blank, CutOut, Line, Rectangle
from housing.core.drawing import legend
from housing.core.drawing.blank_key import FLAP_DASHES, SCORE_DASHES, Key, key_items
from housing.core.drawing.blank_words import MOST_MARKS, Words, opening_marks
from housing.core.drawing.marks import EDGE_GAP_MM, ROW_MM, EdgeMarks, Mark, lay_out
from housing.core.drawing.number_signs import Signs
from housing.core.drawing.numbering import cutting_order, gluing_order, is_trim
from housing.core.drawing.openings import outline
from housing.core.drawing.svg import document, element, hatching, line, path, text, text_width
from housing.core.drawing.symbols import READ_MM, centred, corner, turn_to_fit
from housing.core.errors import PaperTooSmall
from housing.core.panels import GlueJoint
from objects.core.words import noted, say

FormatLength = Callable[[float], str]
Point = tuple[float, float]

SCALES = (1, 2, 2.5, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 60, 80, 100, 150, 200)
NEAR = 1.6  # times smaller than the blank alone asks for
MUCH = 1.4  # times larger must a drawing become to put its labels in more rows
LEADER_DASHES = {"flap": "0.8 0.5", "opening": "0.3 0.5"}
PAPER_EDGE_MM = 0.5  # half the thickest line, so that nothing is cut off
LEGEND_GAP_MM = 2.2
LEGEND_WIDTH_MM = 130.0
MARKED = {"flap": noted("flap {length}"), "trim": noted("trim {length}")}
BRIEFLY = {"flap": noted("F {length}"), "trim": noted("T {length}")}


@dataclass(frozen=True, slots=True)
class _Way:
    """How marks are labelled: rows of labels along the near and far, and along the left and right edges;
    openings in a list instead of by marks; marks at both facing edges, or at the near and the left one;
    flaps and trims named by a letter that the key explains."""

    rows_x: int
    rows_y: int
    lists_openings: bool
    both_edges: bool
    is_brief: bool


# The better ways first; marks at one edge only where nothing else fits.
WAYS = tuple(
    _Way(rows_x, rows_y, lists, both, brief)
    for both in (True, False)
    for brief in (False, True)
    for rows_x, rows_y in ((1, 1), (1, 2), (2, 1), (2, 2), (1, 3), (3, 1), (3, 3))
    for lists in (False, True)
)


@dataclass(frozen=True)
class BlankDrawing:
    """The drawing as SVG text, its scale in words, as "1 : 4", its sides on paper in mm, whether every line
    has its marks at both ends, and how many times smaller than the board it is."""

    svg: str
    scale: str
    width_mm: float = 0.0
    height_mm: float = 0.0
    both_edges: bool = True
    reduction: float = 1.0


@dataclass(frozen=True, slots=True)
class Manner:
    """How a blank is to be drawn besides its lines.

    direction: what runs through the board, "flutes" or "grain". scored: how folds are scored and on which
    face, for the key, as "crease on the inside face". from_right: lengths along x are measured from the right
    edge, as a left-handed maker does. joints: glued, numbered on their flaps. numbers: cuts carry their
    numbers. has_key: False leaves all out of the key but the scale bar, where one serves several drawings.
    unit: of the scale bar, where lengths are written bare.
    """

    direction: str = "flutes"
    scored: str = ""
    from_right: bool = False
    joints: tuple[GlueJoint, ...] = ()
    numbers: bool = False
    has_key: bool = True
    unit: str = ""


def blank_svg(
    blank: Blank,
    *,
    title: str,
    format_length: FormatLength,
    paper_width_mm: float,
    paper_height_mm: float,
    manner: Manner = Manner(),  # noqa: B008 - frozen
    most_reduced: float = float("inf"),
) -> BlankDrawing:
    """Draw a blank as large as a round scale allows.

    blank: lines in mm. title: for screen readers. format_length: writes mm as the reader wants them.
    paper_width_mm, paper_height_mm: room on the page. most_reduced: no smaller scale is tried, unless the
    blank itself asks for one.
    Returns an SVG no larger than the room, its sides given in mm so that it prints to scale: a continuous
    line is cut, a dashed one scored, with dots between the dashes where that is done on the outside face.
    Raises PaperTooSmall when not even the smallest scale fits.
    Source: lines and running marks as in technical drawing; cut continuous and crease dashed is common
        practice, no source.
    """
    has_flaps = any((blank.flap_marks_x, blank.flap_marks_y, blank.trim_marks_x, blank.trim_marks_y))
    chosen: _Sheet | None = None
    for way in WAYS:
        if chosen is not None and not way.both_edges:
            break
        if way.lists_openings and not blank.openings or way.is_brief and not has_flaps:
            continue
        least = _least_reduction(blank, way, paper_width_mm, paper_height_mm)
        for reduction in SCALES:
            if reduction > max(most_reduced, NEAR * least):
                break
            if reduction < least or (chosen is not None and reduction * MUCH > chosen.reduction):
                continue
            sheet = _Sheet(blank, reduction, format_length, paper_width_mm, manner, way)
            if sheet.fits(paper_width_mm, paper_height_mm):
                chosen = sheet
                break
    if chosen is not None:
        described = _describe(blank, chosen.named, format_length, manner.from_right)
        svg = document(chosen.width_mm, chosen.height_mm, title, described, chosen.parts(), "drawing blank")
        both = chosen.way.both_edges
        return BlankDrawing(svg, chosen.named, chosen.width_mm, chosen.height_mm, both, chosen.reduction)
    raise PaperTooSmall(
        f"The drawing does not fit {paper_width_mm:g} x {paper_height_mm:g} mm of paper at any scale. "
        "Give it a larger page."
    )


def _least_reduction(blank: Blank, way: _Way, width_mm: float, height_mm: float) -> float:
    """A scale below which the blank and its rows of labels, without bends, lack room; infinite for none."""
    sides = 2 if way.both_edges else 1

    def depth(most_rows: int, *kinds: int) -> float:
        rows = sum(min(most_rows, (count + 1) // 2) for count in kinds)
        return sides * (EDGE_GAP_MM + ROW_MM * rows)

    deep_y = depth(way.rows_y, len(blank.marks_y), len(blank.flap_marks_y) + len(blank.trim_marks_y))
    deep_x = depth(way.rows_x, len(blank.marks_x), len(blank.flap_marks_x) + len(blank.trim_marks_x))
    room_x = width_mm - deep_y
    room_y = height_mm - deep_x - LEGEND_GAP_MM - legend.ROW_MM
    if min(room_x, room_y) <= 0:
        return float("inf")
    return max(blank.x_mm / room_x, blank.y_mm / room_y)


def _describe(blank: Blank, named: str, format_length: FormatLength, from_right: bool) -> str:
    def run(marks: Sequence[float]) -> str:
        return ", ".join(format_length(at) for at in marks)

    sides = {"wide": format_length(blank.x_mm), "deep": format_length(blank.y_mm), "scale": named}
    size = say("Blank {wide} by {deep}, inside face up, drawn {scale}.", **sides)
    near = say("Marks from the near edge: {marks}.", marks=run(blank.marks_y))
    if from_right:
        marks = run([blank.x_mm - at for at in reversed(blank.marks_x)])
        return " ".join([size, say("Marks from the right edge: {marks}.", marks=marks), near])
    return " ".join([size, say("Marks from the left edge: {marks}.", marks=run(blank.marks_x)), near])


@lru_cache(maxsize=512)  # ways that differ along one edge alone share the other
def _lay_out(marks: tuple[Mark, ...], start_out: float, rows: int) -> EdgeMarks:
    return lay_out(marks, start_out, rows)


class _Sheet:
    """One drawing at one scale: how much room it takes, and its parts."""

    def __init__(
        self, blank: Blank, reduction: float, format_length: FormatLength, paper_mm: float, manner: Manner,
        way: _Way,
    ) -> None:  # fmt: skip
        self.blank, self.reduction, self.manner, self.way = blank, reduction, manner, way
        self.scale, self.named = 1 / reduction, f"1 : {reduction:g}"
        self.format_length, self.paper_mm = format_length, paper_mm
        opened_x, opened_y = opening_marks(blank)
        self.lists_openings = way.lists_openings or max(len(opened_x), len(opened_y)) > MOST_MARKS
        if self.lists_openings:
            opened_x = opened_y = []
        self.score_dash, self.flap_dash = (
            dashes[OUTSIDE in manner.scored] for dashes in (SCORE_DASHES, FLAP_DASHES)
        )
        wide, high = blank.x_mm * self.scale, blank.y_mm * self.scale
        y_marks = self._marks(blank.marks_y, blank.flap_marks_y, blank.trim_marks_y, opened_y, high)
        x_marks = self._marks(
            blank.marks_x, blank.flap_marks_x, blank.trim_marks_x, opened_x, wide,
            blank.x_mm if manner.from_right else None,
        )  # fmt: skip
        self.along_y = _lay_out(tuple(y_marks), EDGE_GAP_MM, way.rows_y)
        self.along_x = _lay_out(tuple(x_marks), EDGE_GAP_MM, way.rows_x)
        past_corner = max(-self.along_y.first_mm, self.along_y.last_mm - high)
        if past_corner > 0:
            self.along_x = _lay_out(tuple(x_marks), EDGE_GAP_MM + past_corner, way.rows_x)
        self.left = max(self.along_y.depth_mm, -self.along_x.first_mm) + PAPER_EDGE_MM
        facing = self.along_y.depth_mm, self.along_x.depth_mm
        beyond_x, beyond_y = facing if way.both_edges else (0.0, max(0.0, self.along_y.last_mm - high))
        right = max(beyond_x, self.along_x.last_mm - wide) + PAPER_EDGE_MM
        self.top = beyond_y + PAPER_EDGE_MM
        self.edges = ("near", "far", "left", "right") if way.both_edges else ("near", "left")
        self.near = self.top + high
        self.drawn_mm = self.left + wide + right
        self.key_top = self.near + self.along_x.depth_mm + LEGEND_GAP_MM

    def fits(self, width_mm: float, height_mm: float) -> bool:
        if self.drawn_mm > width_mm or self.key_top + legend.ROW_MM > height_mm:
            return False
        return self.width_mm <= width_mm and self.height_mm <= height_mm

    @cached_property
    def words(self) -> Words:
        manner = self.manner
        flaps = {joint.flap for joint in manner.joints} if manner.numbers else ()
        return Words(self.blank, self.scale, self.format_length, manner.direction, manner.from_right, flaps)

    @cached_property
    def key(self) -> legend.Legend:
        key_mm = max(self.drawn_mm, min(self.paper_mm, LEGEND_WIDTH_MM)) - 2 * PAPER_EDGE_MM
        return legend.flow(self._key(key_mm), key_mm)

    @property
    def width_mm(self) -> float:
        return max(self.drawn_mm, self.key.width_mm + 2 * PAPER_EDGE_MM)

    @property
    def height_mm(self) -> float:
        return self.key_top + self.key.height_mm

    def _marks(
        self,
        walls: Sequence[float],
        flaps: Sequence[float],
        trims: Sequence[float],
        opened: Sequence[tuple[float, str]],
        size: float,
        counted_from: float | None = None,
    ) -> list[Mark]:
        """Marks on paper; labels lean inward, but those of trims outward where the flap is too narrow.

        counted_from: where lengths are counted backwards from, mm; None for the near or left edge.
        """
        found, named = [], BRIEFLY if self.way.is_brief else MARKED

        def read(position: float) -> str:
            return self.format_length(position if counted_from is None else counted_from - position)

        for kind, positions in (("wall", walls), ("flap", flaps), ("trim", trims)):
            for position in positions:
                at = position * self.scale
                label = read(position) if kind == "wall" else say(named[kind], length=read(position))
                leans = 1 if at < size / 2 else -1
                if kind == "trim":
                    flap = min((abs(at - hinge * self.scale) for hinge in flaps), default=0.0)
                    leans *= 1 if flap > text_width(label, READ_MM) + ROW_MM else -1
                found.append(Mark(at, label, kind, leans))
        for position, word in opened:
            at = position * self.scale
            label = f"{say(word)} {read(position)}"
            found.append(Mark(at, label, "opening", 1 if at < size / 2 else -1))
        return found

    def paper(self, x: float, y: float) -> Point:
        """A point of the blank on paper."""
        return self.left + x * self.scale, self.near - y * self.scale

    def parts(self) -> Iterator[str]:
        for piece in self.blank.waste:
            yield self._waste(piece)
        yield from self._lines()
        for edge in self.edges:
            yield self._edge(edge, self.along_x if edge in ("near", "far") else self.along_y)
        yield corner(*self.paper(self.blank.x_mm if self.manner.from_right else 0, 0))
        yield from self.words.openings(self.paper)
        yield from self.words.panels(self.paper)
        if self.manner.numbers:
            yield from self._numbers()
        yield self.key.draw(PAPER_EDGE_MM, self.key_top)

    def _numbers(self) -> list[str]:
        """Numbers of the glue joints in their flaps and of the cuts on their lines."""
        wide, high = self.blank.x_mm * self.scale, self.blank.y_mm * self.scale
        room = self.left, self.top, self.left + wide, self.top + high
        signs = Signs(room, self.words.taken)
        panels = {panel.name: panel for panel in self.blank.panels}
        found: list[str] = []
        for number, joint in gluing_order(self.manner.joints):
            panel = panels[joint.flap]
            left, bottom = self.paper(panel.x_mm, panel.y_mm)
            right, top = self.paper(panel.x_mm + panel.width_mm, panel.y_mm + panel.height_mm)
            found += signs.glue((left, top, right, bottom), number)
        lines, openings = cutting_order(self.blank)
        for cut in lines:
            ends = [
                ((cut.at_mm, a), (cut.at_mm, b)) if cut.is_upright else ((a, cut.at_mm), (b, cut.at_mm))
                for a, b in cut.spans
            ]
            found += signs.cut([(self.paper(*start), self.paper(*end)) for start, end in ends], cut.number)
        for opened in openings:
            first = opened.openings[0]
            x, y, wide = first.x_mm, first.y_mm + first.height_mm, first.width_mm
            if first.shape != "rectangle":  # its upper edge is there only in the middle
                x, wide = x + wide / 2, 0.0
            found += signs.cut([(self.paper(x, y), self.paper(x + wide, y))], opened.number)
        return [*signs.leaders, *found]

    def _lines(self) -> Iterator[str]:
        x, y = self.paper(0, self.blank.y_mm)
        yield element(
            "rect", class_="cut outline", x=x, y=y, width=self.blank.x_mm * self.scale,
            height=self.blank.y_mm * self.scale, fill="none", stroke="#000", stroke_width=0.5,
        )  # fmt: skip
        for cut in self.blank.cuts:
            yield self._line(cut, "trim" if is_trim(cut, self.blank) else "cut", 0.5, None)
        for opening in self.blank.openings:
            yield self._opening(opening)
        for score in self.blank.scores:
            if score.is_flap:
                yield self._line(score, "flap-score", 0.3, self.flap_dash)
            else:
                yield self._line(score, "score", 0.4, self.score_dash)

    def _line(self, drawn: Line, class_: str, width: float, dash: str | None) -> str:
        start, end = self.paper(drawn.x1, drawn.y1), self.paper(drawn.x2, drawn.y2)
        return line(*start, *end, class_, width, stroke_dasharray=dash)

    def _opening(self, opening: CutOut) -> str:
        points = [self.paper(*point) for point in outline(opening)]
        if opening.shape not in ("slit", "notch"):
            points.append(points[0])
        return path(points, "cut opening", 0.5)

    def _waste(self, piece: Rectangle) -> str:
        x, y = self.paper(piece.x_mm, piece.y_mm + piece.height_mm)
        wide, high = piece.width_mm * self.scale, piece.height_mm * self.scale
        drawn = hatching(x, y, wide, high, 2.5, "waste")
        word = say("waste")
        turn = turn_to_fit(word, wide, high, READ_MM)
        if turn is None:
            return drawn
        long = text_width(word, READ_MM) + 1.5
        across, down = (long, 4.0) if turn == 0 else (4.0, long)
        ground = element(
            "rect", class_="waste-ground", x=x + (wide - across) / 2, y=y + (high - down) / 2, width=across,
            height=down, fill="#fff",
        )  # fmt: skip
        middle = x + wide / 2, y + high / 2
        self.words.taken.append(
            (middle[0] - across / 2, middle[1] - down / 2, middle[0] + across / 2, middle[1] + down / 2)
        )
        return drawn + ground + centred(word, *middle, "waste-label", READ_MM, turn)

    def _edge(self, edge: str, marks: EdgeMarks) -> str:
        def place(along: float, out: float) -> Point:
            return {
                "near": (self.left + along, self.near + out),
                "far": (self.left + along, self.top - out),
                "left": (self.left - out, self.near - along),
                "right": (self.left + self.blank.x_mm * self.scale + out, self.near - along),
            }[edge]

        # The baseline lies on the far side of the row from the edge where text stands with its head to it.
        baseline = 3.2 if edge in ("near", "right") else 1.0
        turn = 0 if edge in ("near", "far") else -90
        drawn = [
            path(
                [place(*point) for point in leader.points], f"dim {leader.mark.kind}", 0.13,
                stroke_dasharray=LEADER_DASHES.get(leader.mark.kind),
            )
            for leader in marks.leaders
        ]  # fmt: skip
        for label in marks.labels:
            x, y = place(label.along, label.out + baseline)
            anchor = "start" if label.mark.leans > 0 else "end"
            drawn.append(text(x, y, label.mark.label, f"dim {label.mark.kind}", label.size_mm, anchor, turn))
        return element("g", "".join(drawn), class_="edge", data_edge=edge)

    def _key(self, width_mm: float) -> list[legend.Item]:
        blank, manner = self.blank, self.manner
        items = []
        if manner.has_key:
            items = key_items(
                Key(
                    scored=manner.scored if blank.scores else None,
                    has_flaps=any(score.is_flap for score in blank.scores),
                    from_right=manner.from_right,
                )
            )
        if "far" not in self.edges:
            items.append(legend.words(say("the same marks on the facing edges")))
        if self.way.is_brief:
            items.append(legend.words(say("F: hinge of a flap, T: trim")))
        items.append(legend.scale_bar(self.scale, self.named, self.format_length, manner.unit))
        if not self.words.has_arrow:
            items.append(legend.direction(say(manner.direction), blank.flute_along))
        for told in self.words.listed() if self.lists_openings else self.words.unsaid():
            items += [legend.words(row) for row in legend.wrapped(told, width_mm)]
        return items
