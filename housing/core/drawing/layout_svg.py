"""One sheet of a cutting plan: the pieces on it, the cuts in their order, and what is left over."""

from collections.abc import Callable, Iterator, Mapping
from html import escape

from boards.core.nesting.shapes import Cut, CutSheet, Offcut, Placement, Sheet
from housing.core.drawing import legend
from housing.core.drawing.fitting import Fitted, fit_words
from housing.core.drawing.svg import SMALL_MM, document, element, line
from housing.core.drawing.symbols import arrow, centred
from housing.core.errors import PaperTooSmall

Box = tuple[float, float, float, float]  # left, top, right, bottom, mm on paper

SIZE_ROW_MM = 5.0  # beside and below the sheet, for its size
BADGE_MM = 1.9  # radius of the disc that carries the number of a cut
BORDER_MM = BADGE_MM + 0.2  # above and to the right of the sheet, for discs on its edges
BADGE_TEXT_MM = 2.2
OFFCUT_FILL = "#f1f1f1"


def layout_svg(
    cut_sheet: CutSheet,
    sheet: Sheet,
    *,
    labels: Mapping[str, str],
    format_length: Callable[[float], str],
    paper_width_mm: float,
    paper_height_mm: float | None = None,
    links: Mapping[str, str] | None = None,
    title: str = "Cutting plan of one sheet",
    direction: str = "flutes",
) -> str:
    """Draw a sheet as wide as the paper, or as high where that is less; flutes run from left to right.

    cut_sheet: placements, cuts in order and offcuts, mm from the sheet's near left corner. sheet: its sides
    in mm. labels: what to write on each piece, by its key. format_length: writes mm for the reader.
    links: address of each piece's page, by its key. title: for screen readers. direction: what runs through
    the board, "flutes" or "grain".
    Returns an SVG no larger than the paper. A piece too small for its label carries it for the pointer and
    for screen readers.
    Raises PaperTooSmall when the size written beside the sheet fills the paper.
    """
    drawing = _Layout(cut_sheet, sheet, format_length, paper_width_mm, paper_height_mm, direction)
    pieces = len(cut_sheet.placements)
    description = (
        f"Sheet {format_length(sheet.along_mm)} along by {format_length(sheet.across_mm)} across the "
        f"{direction}, with {pieces} {'piece' if pieces == 1 else 'pieces'}: "
        f"{', '.join(labels[placement.key] for placement in cut_sheet.placements)}."
    )
    parts = drawing.parts(labels, links or {})
    return document(drawing.width_mm, drawing.height_mm, title, description, parts, "drawing layout")


class _Layout:
    """One sheet on paper: where things lie, and what has taken up room already."""

    def __init__(
        self,
        cut_sheet: CutSheet,
        sheet: Sheet,
        format_length: Callable[[float], str],
        paper_width_mm: float,
        paper_height_mm: float | None,
        direction: str,
    ) -> None:
        self.cut_sheet, self.sheet = cut_sheet, sheet
        self.format_length, self.direction = format_length, direction
        self.numbered = [cut for cut in cut_sheet.cuts if not cut.is_trim]
        self.key = legend.flow(self._key(), paper_width_mm - SIZE_ROW_MM)
        around = SIZE_ROW_MM + BORDER_MM
        below = around + self.key.height_mm
        self.scale = (paper_width_mm - around) / sheet.along_mm
        if paper_height_mm is not None:
            self.scale = min(self.scale, (paper_height_mm - below) / sheet.across_mm)
        if self.scale <= 0:
            raise PaperTooSmall("The sheet's own size leaves no room to draw it. Give it a larger page.")
        self.left, self.top = SIZE_ROW_MM, BORDER_MM
        self.wide, self.high = sheet.along_mm * self.scale, sheet.across_mm * self.scale
        self.width_mm = max(self.wide + around, self.left + self.key.width_mm)
        self.height_mm = self.high + below
        self.taken: list[Box] = []

    def parts(self, labels: Mapping[str, str], links: Mapping[str, str]) -> Iterator[str]:
        yield self._rectangle("sheet", 0, 0, self.sheet.along_mm, self.sheet.across_mm, "#fff", 0.5)
        for offcut in self.cut_sheet.offcuts:
            yield self._offcut(offcut)
        for placement in self.cut_sheet.placements:
            yield self._piece(placement, labels[placement.key], links.get(placement.key))
        for cut in self.cut_sheet.cuts:
            start, end = self._ends(cut)
            yield line(*start, *end, "trim" if cut.is_trim else "cut", 0.15 if cut.is_trim else 0.25)
        for number, cut in enumerate(self.numbered, start=1):
            yield self._badge(cut, number)
        yield from self._size()
        yield self.key.draw(self.left, self.top + self.high + SIZE_ROW_MM)

    def paper(self, x: float, y: float) -> tuple[float, float]:
        """A point of the sheet on paper."""
        return self.left + x * self.scale, self.top + self.high - y * self.scale

    def _ends(self, cut: Cut) -> tuple[tuple[float, float], tuple[float, float]]:
        return self.paper(cut.x0_mm, cut.y0_mm), self.paper(cut.x1_mm, cut.y1_mm)

    def _box(self, x: float, y: float, along: float, across: float) -> Box:
        left, top = self.paper(x, y + across)
        return left, top, left + along * self.scale, top + across * self.scale

    def _rectangle(
        self, class_: str, x: float, y: float, along: float, across: float, fill: str, stroke: float
    ) -> str:
        left, top, right, bottom = self._box(x, y, along, across)
        return element(
            "rect", class_=class_, x=left, y=top, width=right - left, height=bottom - top, fill=fill,
            stroke="#000", stroke_width=stroke,
        )  # fmt: skip

    def _offcut(self, area: Offcut) -> str:
        sides = area.x_mm, area.y_mm, area.along_mm, area.across_mm
        size = f"{self.format_length(area.along_mm)} × {self.format_length(area.across_mm)}"
        fitted = fit_words((("left over", size), ("left over",)), self._box(*sides), SMALL_MM)
        drawn = self._rectangle("offcut", *sides, OFFCUT_FILL, 0.15)
        return self._group(f"left over, {size}", drawn, fitted, "offcut-label")

    def _piece(self, placement: Placement, label: str, link: str | None) -> str:
        sides = placement.x_mm, placement.y_mm, placement.along_mm, placement.across_mm
        size = f"{self.format_length(placement.along_mm)} × {self.format_length(placement.across_mm)}"
        size += ", turned" if placement.turned else ""
        number, _, part = label.rpartition(" ")
        ways = [(label, size), (label,), *([(number, part)] if number else [])]
        drawn = self._rectangle("piece", *sides, "#fff", 0.35)
        group = self._group(f"{label}, {size}", drawn, fit_words(ways, self._box(*sides)), "piece-label")
        return element("a", group, href=link, class_="piece-link") if link else group

    def _group(self, title: str, drawn: str, fitted: Fitted | None, class_: str) -> str:
        if fitted:
            self.taken += fitted.boxes
            drawn += fitted.draw(class_)
        return element("g", element("title", escape(title)) + drawn)

    def _badge(self, cut: Cut, number: int) -> str:
        """The cut's number in a disc on its line, at the first place from its start that is free."""
        start, end = self._ends(cut)
        long = abs(end[0] - start[0]) + abs(end[1] - start[1])
        along = ((end[0] - start[0]) / long, (end[1] - start[1]) / long)
        steps = [BADGE_MM + 0.6 + i for i in range(int(max(long - 2 * BADGE_MM, 0)))]
        for step in (*steps, long / 2):
            x, y = start[0] + along[0] * step, start[1] + along[1] * step
            box = (x - BADGE_MM, y - BADGE_MM, x + BADGE_MM, y + BADGE_MM)
            if not any(_overlap(box, other) for other in self.taken):
                break
        self.taken.append(box)
        return _disc(x, y, number)

    def _size(self) -> Iterator[str]:
        x, y = self.paper(self.sheet.along_mm / 2, self.sheet.across_mm / 2)
        along, across = self.format_length(self.sheet.along_mm), self.format_length(self.sheet.across_mm)
        beneath = self.top + self.high + SIZE_ROW_MM / 2
        yield centred(along, x, beneath, "dim", SMALL_MM, 0)
        yield centred(across, SIZE_ROW_MM / 2, y, "dim", SMALL_MM, -90)

    def _key(self) -> list[legend.Item]:
        items = [legend.sample(self.direction, lambda x, y: arrow(x + 5, y, 10, "x"), 10)]
        if len(self.numbered) < len(self.cut_sheet.cuts):
            items.append(legend.words("trim the edges first"))
        if self.numbered:
            items.append(legend.sample("cut in this order", lambda x, y: _disc(x + BADGE_MM, y, 1), 4))
        if self.cut_sheet.offcuts:
            items.append(
                legend.sample(
                    "left over",
                    lambda x, y: element(
                        "rect", class_="key offcut", x=x, y=y - 1.5, width=6, height=3, fill=OFFCUT_FILL,
                        stroke="#000", stroke_width=0.15,
                    ),
                    6,
                )
            )  # fmt: skip
        return items


def _disc(x: float, y: float, number: int) -> str:
    circle = element(
        "circle", class_="cut-number", cx=x, cy=y, r=BADGE_MM, fill="#fff", stroke="#000", stroke_width=0.2
    )
    return circle + centred(str(number), x, y, "cut-number", BADGE_TEXT_MM, 0)


def _overlap(a: Box, b: Box) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]
