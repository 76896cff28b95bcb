"""The pages of a sheet layout as drawings at their true size: the drawing with the lists beside or beneath.

One page a sheet, if there is any way: turned where the sheet is wide, or upright with the lists beneath the
drawing, whichever lets drawing and type be larger. Only what fits in no way goes on further pages.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from html import escape
from typing import TYPE_CHECKING

from housing.core.drawing.svg import FONT, number
from housing.printing.cut_sheet_foot import ruler
from housing.printing.cut_sheet_frame import placed
from housing.printing.papers import Paper
from housing.printing.typesetting import (
    HEAD_MM,
    TEXT_MM,
    Row,
    filled,
    heading,
    lines_height,
    paragraph,
    rule,
    text_lines,
    wrap,
)
from objects.core.words import say, say_count

if TYPE_CHECKING:
    from housing.printing.sheet_layouts import SheetLayout

MARGIN_MM = 8.0
GAP_MM = 4.0
SIDE_SHARE = {True: 0.3, False: 0.36}  # of the width, for the column of words; on a wide and on a high page
QR_MM = 19.0
TITLE_MM, NAME_MM = 7.0, 3.6
FEW_PAGES = 2
FOOT_MM = 13.0  # the line to check the printer with, and what the page is
# Type of the lists, 8 pt, 7 pt and a little more than 6 pt, and what each is worth beside a larger drawing.
TYPES = {2.85: 1.0, 2.5: 0.9, 2.2: 0.75}
TURNED = 1.15  # how much better a turned page is for a wide sheet: it lies on the table as the sheet does
AROUND_MM = (30.0, 36.0)  # about what marks and key take of the width and of the height of a drawing
# Of the scale that a drawing alone on the page would have; smaller, and pages follow. Where there are many
# cuts their numbers need all the room there is.
LEAST_SHARE, LEAST_SHARE_OF_MANY, MANY_CUTS = 0.4, 0.85, 70
CUT_COLUMNS = (0.1, 0.19, 0.23, 0.2, 0.28)
NARROW_CUTS = (0.1, 0.17, 0.27, 0.24, 0.22)
NARROW_MM = 100.0
PIECE_COLUMNS = (0.07, 0.36, 0.22, 0.35)
FACT_COLUMNS = (0.3, 0.7)
KEPT_COLUMNS = (0.25, 0.41, 0.34)
ROW_MM = 0.35  # above and beneath the words of a row
SIZE_OF_SVG = 'viewBox="0 0 '

type Draw = Callable[[float, float], str]


@dataclass(frozen=True)
class Frame:
    """The places of a page, mm; for the left hand the words stand on the left, where no arm lies on them.

    is_stacked: whether the drawing is as wide as the page, both columns beneath it. type_mm: of the lists.
    """

    wide: float
    high: float
    is_left: bool
    is_stacked: bool
    type_mm: float

    @property
    def is_turned(self) -> bool:
        return self.wide > self.high

    @property
    def room(self) -> float:
        return self.wide - 2 * MARGIN_MM

    @property
    def side(self) -> float:
        return round(self.room * SIDE_SHARE[self.is_turned], 1)

    @property
    def main(self) -> float:
        return self.room - self.side - GAP_MM

    @property
    def main_x(self) -> float:
        return MARGIN_MM + (self.side + GAP_MM if self.is_left else 0.0)

    @property
    def side_x(self) -> float:
        return MARGIN_MM if self.is_left else MARGIN_MM + self.main + GAP_MM

    @property
    def bottom(self) -> float:
        return self.high - MARGIN_MM - FOOT_MM


def pages_of(layout: "SheetLayout", paper: Paper, draw: Draw) -> tuple[list[str], bool]:
    """The pages of one sheet, each an SVG document as large as the paper, and whether they are turned.

    draw: gives the drawing for a width and a height, mm.
    """
    draw = cache(draw)  # which is asked for alike for several sizes of type
    ways = [way for frame in _frames(layout, paper) if (way := _way(layout, frame)).worth > 0]
    best = max(ways, key=lambda way: way.worth, default=None)
    if best is None:
        first, *others = _frames(layout, paper)
        pages = _several_pages(layout, first, draw)
        for frame in others:  # in smaller type, if that spares a page
            if frame.is_stacked or len(pages) <= FEW_PAGES:
                break
            pages = min(pages, _several_pages(layout, frame, draw), key=len)
        return pages, first.is_turned
    return [_one_page(layout, best, draw)], best.frame.is_turned


def _frames(layout: "SheetLayout", paper: Paper) -> list[Frame]:
    """Ways to divide a page."""
    short, long = sorted((paper.width_mm, paper.height_mm))
    hand = layout.is_mirrored
    if layout.is_wide:
        turned = [Frame(long, short, hand, False, size) for size in TYPES]
        return turned + [Frame(short, long, hand, True, size) for size in TYPES]
    return [Frame(short, long, hand, False, size) for size in TYPES]


@dataclass(frozen=True)
class _Way:
    """All of a sheet on one page: its lists, the room of the drawing, and what that is worth, or 0."""

    frame: Frame
    words: list[Row]
    cuts: list[Row]
    room: tuple[float, float]
    worth: float


def _way(layout: "SheetLayout", frame: Frame) -> _Way:
    _, top = _first_head(layout, frame)
    high = frame.bottom - top - 0.5
    if frame.is_stacked:
        words, cuts = _balanced(layout, frame)
        room = frame.room, high - max(_deep(words), _deep(cuts))
    else:
        words, cuts = _words(layout, frame), _cuts(layout, frame.main, frame.type_mm)
        beside = [*_cuts(layout, frame.side, frame.type_mm), *words]
        if _deep(beside) <= high:
            words, cuts = beside, []
        room = frame.main, high - _deep(cuts) if _deep(words) <= high else 0.0
    scale, alone = (_scale(layout, each) for each in (room, (frame.room, high)))
    least = LEAST_SHARE_OF_MANY if layout.cut_count > MANY_CUTS else LEAST_SHARE
    is_good = scale >= least * alone and scale > 0
    worth = scale * TYPES[frame.type_mm] * (TURNED if frame.is_turned else 1.0)
    return _Way(frame, words, cuts, room, worth if is_good else 0.0)


def _balanced(layout: "SheetLayout", frame: Frame) -> tuple[list[Row], list[Row]]:
    """Both columns beneath a drawing: cautions and pieces stand where the longer one becomes shortest."""
    size = frame.type_mm
    narrow, wide = ((_care(layout, w), _pieces(layout, w, size)) for w in (frame.side, frame.main))
    facts, cuts = _facts(layout, frame.side, size), _cuts(layout, frame.main, size)
    ways = [
        (
            [*(narrow[0] if care else ()), *facts, *(narrow[1] if pieces else ())],
            [*(() if care else wide[0]), *cuts, *(() if pieces else wide[1])],
        )
        for care in (True, False)
        for pieces in (True, False)
    ]
    return min(ways, key=lambda way: max(map(_deep, way)))


def _deep(rows: Sequence[Row]) -> float:
    """How high rows are together, mm."""
    return sum(row.height_mm for row in rows)


def _scale(layout: "SheetLayout", room: tuple[float, float]) -> float:
    """About the scale of a drawing in a room, mm on paper to the mm."""
    sides = zip(room, AROUND_MM, layout.sides_mm, strict=True)
    return min((side - around) / own for side, around, own in sides)


def _one_page(layout: "SheetLayout", way: _Way, draw: Draw) -> str:
    frame = way.frame
    head, top = _first_head(layout, frame)
    drawing = draw(*way.room)
    below = top + _height(drawing) + 0.5
    x = MARGIN_MM if frame.is_stacked else frame.main_x
    columns = _column(way.words, frame.side_x, below if frame.is_stacked else top)
    columns += _column(way.cuts, frame.main_x, below)
    parts = [head, placed(drawing, x, top), *columns, *_foot(layout, frame, 1, 1)]
    return _page("".join(parts), frame, layout.title)


def _several_pages(layout: "SheetLayout", frame: Frame, draw: Draw) -> list[str]:
    """The drawing as large as the first page allows, the cuts from the second one on."""
    heads = _first_head(layout, frame), _next_head(layout, frame)
    rooms = [frame.bottom - top - 0.5 for _, top in heads]
    words = filled(_words(layout, frame), rooms)
    told = say("The cuts in their order are listed on the next page.")
    note = paragraph([(told, True)], frame.main)
    drawing = draw(frame.main, rooms[0] - 6.0)
    lists = [note, *filled(_cuts(layout, frame.main, frame.type_mm), [rooms[1]])]
    count = max(len(words), len(lists))
    pages = []
    for index in range(count):
        head, top = heads[min(index, 1)]
        parts = [head]
        if index == 0:
            parts.append(placed(drawing, frame.main_x, top))
        if index < len(lists):
            below = top + (_height(drawing) + 0.5 if index == 0 else 0.0)
            parts += _column(lists[index], frame.main_x, below)
        if index < len(words):
            parts += _column(words[index], frame.side_x, top)
        parts += _foot(layout, frame, index + 1, count)
        pages.append(_page("".join(parts), frame, layout.title))
    return pages


def _height(drawing: str) -> float:
    """How high a drawing is, mm."""
    return float(drawing.partition(SIZE_OF_SVG)[2].partition('"')[0].split()[1])


def _page(content: str, frame: Frame, title: str) -> str:
    wide, high = number(frame.wide), number(frame.high)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="sheet-page" width="{wide}mm" height="{high}mm" '
        f'viewBox="0 0 {wide} {high}" font-family="{FONT}"><title>{escape(title)}</title>{content}</svg>'
    )


def _column(rows: Sequence[Row], x: float, y: float) -> list[str]:
    drawn = []
    for row in rows:
        drawn.append(row.draw(x, y))
        y += row.height_mm
    return drawn


# ---- Words -----------------------------------------------------------------------------------------------


def _words(layout: "SheetLayout", frame: Frame) -> list[Row]:
    width, size = frame.side, frame.type_mm
    return [*_care(layout, width), *_facts(layout, width, size), *_pieces(layout, width, size)]


def _care(layout: "SheetLayout", width: float) -> list[Row]:
    return [
        row
        for words in (*layout.warnings, *layout.cautions)
        for row in paragraph([(words, True)], width, bar=True, indent_mm=2.5, after_mm=0.7)
    ]


def _facts(layout: "SheetLayout", width: float, size: float) -> list[Row]:
    """What the sheet is, and what of it is kept."""
    rows = [_row(((name, False), (value, True)), FACT_COLUMNS, width, size) for name, value in layout.facts]
    if layout.kept:
        rows += heading(say("Keep for the rack"), width)
        for piece in layout.kept:
            label = say("offcut {number}", number=piece.number) if piece.number else say("No.") + " ________"
            cells = (piece.name, True), (piece.size, False), (label, False)
            rows.append(_row(cells, KEPT_COLUMNS, width, size))
    return rows


def _pieces(layout: "SheetLayout", width: float, size: float) -> list[Row]:
    count = len(layout.pieces)
    rows = heading(say_count("{count} piece", "{count} pieces", count), width)
    for laid in layout.pieces:
        row = (laid.letter, True), (laid.name, True), (laid.box, False), (laid.size, False)
        rows.append(_row(row, PIECE_COLUMNS, width, size))
    return rows


def _cuts(layout: "SheetLayout", width: float, size: float) -> list[Row]:
    """The list of cuts; what is no cut of a part in hand is told in a sentence."""
    rows = heading(say("Cuts in their order"), width)
    columns = CUT_COLUMNS if width > NARROW_MM else NARROW_CUTS
    if any(not row.sentence for row in layout.cuts):
        heads = (
            say("Cut no."), say("Part"), say("Marks, from the sheet's corner"),
            say("From the part's own edge"), say("Comes off, from that edge on"),
        )  # fmt: skip
        rows.append(_row([(words, True) for words in heads], columns, width, size, is_head=True))
    first, *middle, last = columns
    for row in layout.cuts:
        if row.sentence:
            cells = (row.numbers or "—", True), (row.sentence, False), (row.gives, True)
            rows.append(_row(cells, (first, sum(middle), last), width, size))
        else:
            whole = (
                (row.numbers, True), (row.part, False), (row.running or "—", True), (row.marks, False),
                (row.gives, False),
            )  # fmt: skip
            rows.append(_row(whole, columns, width, size))
    return rows


def _row(
    cells: Sequence[tuple[str, bool]],
    columns: Sequence[float],
    width: float,
    size: float,
    is_head: bool = False,
) -> Row:
    """A row of a table in type of a size, a rule beneath. columns: their parts of the width."""
    widths = [share * width for share in columns]
    set_ = [wrap([cell], wide - 1.2, size) for cell, wide in zip(cells, widths, strict=True)]
    deep = lines_height(max(map(len, set_)), size)

    def draw(x: float, y: float) -> str:
        drawn, at = [], x
        for lines, wide in zip(set_, widths, strict=True):
            if lines:
                drawn.append(text_lines(lines, at, y + ROW_MM, size))
            at += wide
        return "".join(drawn) + rule(x, y + deep + 2 * ROW_MM, width, 0.25 if is_head else 0.1)

    return Row(deep + 2 * ROW_MM + 0.1, draw, keeps_next=is_head)


# ---- Heading and foot ------------------------------------------------------------------------------------


def _first_head(layout: "SheetLayout", frame: Frame) -> tuple[str, float]:
    """The heading of the first page, and where the columns begin beneath it."""
    x = y = MARGIN_MM
    room = frame.room - QR_MM - 3.0
    drawn = []
    for words, high, bold, most in (
        (layout.title, TITLE_MM, True, 1),
        (f"{layout.board} · {layout.campaign}", NAME_MM, True, 1),
        (layout.how, TEXT_MM, False, 3),
    ):
        lines = wrap([(words, bold)], room, high)[:most]
        drawn.append(text_lines(lines, x, y, high, "head"))
        y += lines_height(len(lines), high) + 0.6
    right = frame.wide - MARGIN_MM - QR_MM
    drawn.append(
        f'<image class="picture" href="{layout.qr}" x="{number(right)}" y="{number(MARGIN_MM)}" '
        f'width="{number(QR_MM)}" height="{number(QR_MM)}" image-rendering="optimizeSpeed"/>'
    )
    bottom = max(y, MARGIN_MM + QR_MM) + 0.4
    return "".join(drawn) + rule(MARGIN_MM, bottom, frame.room, 0.6), bottom + 1.2


def _next_head(layout: "SheetLayout", frame: Frame) -> tuple[str, float]:
    words = say("{title}, continued", title=layout.title)
    lines = wrap([(words, True), (f"· {layout.board} · {layout.campaign}", False)], frame.room, HEAD_MM)[:1]
    bottom = MARGIN_MM + lines_height(1, HEAD_MM) + 0.8
    drawn = text_lines(lines, MARGIN_MM, MARGIN_MM, HEAD_MM, "head")
    return drawn + rule(MARGIN_MM, bottom, frame.room, 0.6), bottom + 1.2


def _foot(layout: "SheetLayout", frame: Frame, page: int, count: int) -> list[str]:
    """The line to check the printer with, and which page this is."""
    told = say(
        "{title} · {campaign} · printed {date} · page {page} of {count}",
        title=layout.title, campaign=layout.campaign, date=layout.printed, page=page, count=count,
    )  # fmt: skip
    lines = wrap([(told, False)], frame.room)[:1]
    y = frame.high - MARGIN_MM - lines_height(1)
    return [
        ruler(MARGIN_MM, frame.bottom + 2.0, layout.unit, frame.room),
        text_lines(lines, MARGIN_MM, y),
    ]
