"""One sheet of a cutting plan: the pieces on it, the cuts in their order, and what is left over."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from html import escape

from boards.core.nesting.shapes import Corners, Cut, CutSheet, Offcut, Placement, Sheet
from housing.core.drawing import legend
from housing.core.drawing.badges import BADGE_MM, Badges, disc, overlap
from housing.core.drawing.cut_order import is_free, numbered_cuts
from housing.core.drawing.fitting import Box, Fitted, fit_words
from housing.core.drawing.sheet_corners import WasteCorner, corners_in_use
from housing.core.drawing.svg import SMALL_MM, document, element, hatching, line
from housing.core.drawing.symbols import arrow, centred
from housing.core.errors import PaperTooSmall

SIZE_ROW_MM = 5.0  # beside and below the sheet, for its size
BORDER_MM = BADGE_MM + 0.2  # above and to the right of the sheet, for discs on its edges
HATCH_MM = 1.5
OFFCUT_FILL = "#f1f1f1"


def layout_svg(
    cut_sheet: CutSheet,
    sheet: Sheet,
    *,
    labels: Mapping[str, str],
    format_length: Callable[[float], str],
    paper_width_mm: float,
    paper_height_mm: float | None = None,
    corners: Mapping[str, Corners] | None = None,
    links: Mapping[str, str] | None = None,
    title: str = "Cutting plan of one sheet",
    direction: str = "flutes",
) -> str:
    """Draw a sheet as wide as the paper, or as high where that is less; flutes run from left to right.

    cut_sheet: placements, cuts in order and offcuts, mm from the sheet's near left corner. sheet: its sides
    in mm. labels: what to write on each piece, by its key. format_length: writes mm for the reader.
    corners: by the key of each piece with others in its waste corners, their sides in its own axes, mm.
    links: address of each piece's page, by its key. title: for screen readers. direction: what runs through
    the board, "flutes" or "grain".
    Returns an SVG no larger than the paper. A piece too small for its label carries it for the pointer and
    for screen readers.
    Raises PaperTooSmall when the size written beside the sheet fills the paper.
    """
    used = corners_in_use(cut_sheet, corners or {})
    drawing = _Layout(cut_sheet, sheet, used, format_length, paper_width_mm, paper_height_mm, direction)
    pieces = len(cut_sheet.placements)
    description = (
        f"Sheet {format_length(sheet.along_mm)} along by {format_length(sheet.across_mm)} across the "
        f"{direction}, with {pieces} {'piece' if pieces == 1 else 'pieces'}: "
        f"{', '.join(_name(placement, labels) for placement in cut_sheet.placements)}."
    )
    parts = drawing.parts(labels, links or {})
    return document(drawing.width_mm, drawing.height_mm, title, description, parts, "drawing layout")


class _Layout:
    """One sheet on paper: where things lie, and what has taken up room already."""

    def __init__(
        self,
        cut_sheet: CutSheet,
        sheet: Sheet,
        corners: Sequence[WasteCorner],
        format_length: Callable[[float], str],
        paper_width_mm: float,
        paper_height_mm: float | None,
        direction: str,
    ) -> None:
        self.cut_sheet, self.sheet, self.corners = cut_sheet, sheet, corners
        self.format_length, self.direction = format_length, direction
        self.numbered = numbered_cuts(cut_sheet)
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
        self.badges = Badges(self.width_mm, self.top + self.high + BORDER_MM)

    def parts(self, labels: Mapping[str, str], links: Mapping[str, str]) -> Iterator[str]:
        yield self._rectangle("sheet", 0, 0, self.sheet.along_mm, self.sheet.across_mm, "#fff", 0.5)
        for offcut in self.cut_sheet.offcuts:
            yield self._offcut(offcut)
        # corners and what lies in them on top of the blanks that they fall off
        hosts = [placement for placement in self.cut_sheet.placements if placement.host is None]
        guests = [placement for placement in self.cut_sheet.placements if placement.host is not None]
        for placement in hosts:
            yield self._piece(placement, labels, links.get(placement.key))
        for corner in self.corners:
            yield self._corner(corner)
        for placement in guests:
            yield self._piece(placement, labels, links.get(placement.key))
        for cut in self.cut_sheet.cuts:
            if cut.is_trim:
                yield line(*self._ends(cut)[0], *self._ends(cut)[1], "trim", 0.15)
        for cut in self.numbered:
            yield line(*self._ends(cut)[0], *self._ends(cut)[1], "cut", 0.25)
        for number, cut in enumerate(self.numbered, start=1):
            yield self.badges.draw(*self._ends(cut), number)
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

    def _corner(self, corner: WasteCorner) -> str:
        left, top, right, bottom = self._box(corner.x_mm, corner.y_mm, corner.along_mm, corner.across_mm)
        return _falling_off(left, top, right - left, bottom - top)

    def _piece(self, placement: Placement, labels: Mapping[str, str], link: str | None) -> str:
        label = labels[placement.key]
        size = f"{self.format_length(placement.along_mm)} × {self.format_length(placement.across_mm)}"
        size += ", turned" if placement.turned else ""
        number, _, part = label.rpartition(" ")
        ways = [(label, size), (label,), *([(number, part)] if number else [])]
        rooms = self._rooms(placement)
        fitted = next((f for way in ways for room in rooms if (f := fit_words([way], room))), None)
        sides = placement.x_mm, placement.y_mm, placement.along_mm, placement.across_mm
        drawn = self._rectangle("piece guest" if placement.host else "piece", *sides, "#fff", 0.35)
        origin = f", cut from a corner that falls off {labels[placement.host]}" if placement.host else ""
        group = self._group(f"{label}, {size}{origin}", drawn, fitted, "piece-label")
        return element("a", group, href=link, class_="piece-link") if link else group

    def _rooms(self, placement: Placement) -> list[Box]:
        """Where the words of a piece may stand: in the whole of it, or between corners that others lie in."""
        left, top, right, bottom = self._box(
            placement.x_mm, placement.y_mm, placement.along_mm, placement.across_mm
        )
        boxes = [
            self._box(corner.x_mm, corner.y_mm, corner.along_mm, corner.across_mm)
            for corner in self.corners
            if corner.host == placement.key
        ]
        middle_x, middle_y = (left + right) / 2, (top + bottom) / 2
        upper = max((box[3] for box in boxes if box[3] < middle_y), default=top)
        lower = min((box[1] for box in boxes if box[1] > middle_y), default=bottom)
        before = max((box[2] for box in boxes if box[2] < middle_x), default=left)
        beyond = min((box[0] for box in boxes if box[0] > middle_x), default=right)
        bands = ((left, upper, right, lower), (before, top, beyond, bottom))
        return [band for band in bands if not any(overlap(band, box) for box in boxes)] or [bands[0]]

    def _group(self, title: str, drawn: str, fitted: Fitted | None, class_: str) -> str:
        if fitted:
            self.badges.taken += fitted.boxes
            drawn += fitted.draw(class_)
        return element("g", element("title", escape(title)) + drawn)

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
            items.append(legend.sample("cut in this order", lambda x, y: disc(x + BADGE_MM, y, 1), 4))
        if is_free(self.cut_sheet):
            items.append(legend.words("cut round each blank"))
        if self.corners:
            items.append(legend.sample("cut from a corner that falls off", _guest_sample, 6))
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


def _name(placement: Placement, labels: Mapping[str, str]) -> str:
    """A piece for a list, with the piece from whose corner it is cut."""
    if placement.host is None:
        return labels[placement.key]
    return f"{labels[placement.key]} from a corner of {labels[placement.host]}"


def _falling_off(x: float, y: float, wide: float, high: float) -> str:
    """A rectangle that falls off, hatched; x, y is its upper left corner."""
    outline = element(
        "rect", class_="corner", x=x, y=y, width=wide, height=high, fill="#fff", stroke="#888",
        stroke_width=0.2,
    )  # fmt: skip
    return outline + hatching(x, y, wide, high, HATCH_MM, "waste")


def _guest_sample(x: float, y: float) -> str:
    guest = element(
        "rect", class_="key guest", x=x, y=y - 0.4, width=3.8, height=1.9, fill="#fff", stroke="#000",
        stroke_width=0.35,
    )  # fmt: skip
    return _falling_off(x, y - 1.5, 6, 3) + guest
