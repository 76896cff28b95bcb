"""One sheet of a cutting plan: the pieces on it, the cuts in their order, and what is left over."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from html import escape

from boards.core.nesting.shapes import Corners, Cut, CutSheet, Offcut, Placement, Sheet
from housing.core.drawing import legend
from housing.core.drawing.badges import BADGE_MM, Badges, overlap
from housing.core.drawing.cut_order import is_free, numbered_cuts
from housing.core.drawing.fitting import Box, Fitted, fit_words
from housing.core.drawing.layout_key import OFFCUT_FILL, falling_off, key_items
from housing.core.drawing.running_marks import Marks, choose, drawn, marks_of
from housing.core.drawing.sheet_corners import WasteCorner, corners_in_use
from housing.core.drawing.svg import SMALL_MM, document, element, line
from housing.core.drawing.symbols import centred, corner
from housing.core.errors import PaperTooSmall
from objects.core.words import say, say_count

SIZE_ROW_MM = 5.0  # beside and below the sheet, for its size
BORDER_MM = BADGE_MM + 0.2  # above and to the right of the sheet, for discs on its edges
MANY_CUTS = 80  # from so many on their numbers stand in smaller discs
SMALL_BADGE_MM = 1.4
TIGHT_MM = 0.4  # kept free about a letter in a narrow piece


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
    title: str = "",
    direction: str = "flutes",
    format_mark: Callable[[float], str] | None = None,
    letters: Mapping[str, str] | None = None,
    offcut_names: Sequence[str] = (),
    is_mirrored: bool = False,
) -> str:
    """Draw a sheet as wide as the paper, or as high where that is less; flutes run from left to right.

    cut_sheet: placements, cuts in order and offcuts, mm from the sheet's near left corner. sheet: its sides
    in mm. labels: what to write on each piece, by its key. format_length: writes mm for the reader.
    corners: by the key of each piece with others in its waste corners, their sides in its own axes, mm.
    links: address of each piece's page, by its key. title: for screen readers. direction: what runs through
    the board, "flutes" or "grain". format_mark: writes a running mark; with it, all four edges carry the
    marks of every line. letters: of each piece in a list, by its key, written on it or beside it whatever its
    size. offcut_names: what is written on what is left over. is_mirrored: left and right exchanged, marks
    from the near right corner.
    Returns an SVG no larger than the paper. A piece too small for its label carries it for the pointer and
    for screen readers.
    Raises PaperTooSmall when the size written beside the sheet fills the paper.
    """
    used = corners_in_use(cut_sheet, corners or {})
    drawing = _Layout(
        cut_sheet, sheet, used, format_length, paper_width_mm, paper_height_mm, direction, format_mark,
        letters or {}, offcut_names, is_mirrored,
    )  # fmt: skip
    described = {
        "along": format_length(sheet.along_mm),
        "across": format_length(sheet.across_mm),
        "list": ", ".join(_name(placement, labels) for placement in cut_sheet.placements),
    }
    pieces = len(cut_sheet.placements)
    if direction == "flutes":
        description = say_count(
            "Sheet {along} along by {across} across the flutes, with {count} piece: {list}.",
            "Sheet {along} along by {across} across the flutes, with {count} pieces: {list}.",
            pieces, **described,
        )  # fmt: skip
    else:
        description = say_count(
            "Sheet {along} along by {across} across the grain, with {count} piece: {list}.",
            "Sheet {along} along by {across} across the grain, with {count} pieces: {list}.",
            pieces, **described,
        )  # fmt: skip
    parts = drawing.parts(labels, links or {})
    return document(
        drawing.width_mm,
        drawing.height_mm,
        title or say("Cutting plan of one sheet"),
        description,
        parts,
        "drawing layout",
    )


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
        format_mark: Callable[[float], str] | None,
        letters: Mapping[str, str],
        offcut_names: Sequence[str],
        is_mirrored: bool,
    ) -> None:
        self.cut_sheet, self.sheet, self.corners = cut_sheet, sheet, corners
        self.format_length, self.is_mirrored = format_length, is_mirrored
        self.letters, self.offcut_names = letters, offcut_names
        self.unwritten: list[
            tuple[str, Box]
        ] = []  # letters of pieces too small for them, and where these lie
        self.numbered = numbered_cuts(cut_sheet)
        items = key_items(
            direction,
            trims=len(self.numbered) < len(cut_sheet.cuts),
            numbers=bool(self.numbered),
            is_free=is_free(cut_sheet),
            corners=bool(corners),
            offcuts=bool(cut_sheet.offcuts),
            origin=format_mark is not None,
        )
        self.key_x = SIZE_ROW_MM if format_mark is None else 0.5
        self.key = legend.flow(list(items), paper_width_mm - SIZE_ROW_MM)
        self.marks: tuple[Marks, Marks] | None = None
        self.left = self.below = SIZE_ROW_MM
        self.top = right = BORDER_MM
        if format_mark is not None:
            room = paper_width_mm, paper_height_mm or paper_width_mm
            self.marks = self._chosen(format_mark, room)
            self.top = self.below = self.marks[0].depth_mm
            self.left = right = self.marks[1].depth_mm
        key_mm = self.key.height_mm + (legend.ROW_MM if self.marks else 0.0)  # with a bar for the scale
        self.scale = (paper_width_mm - self.left - right) / sheet.along_mm
        if paper_height_mm is not None:
            deep = paper_height_mm - self.top - self.below - key_mm
            self.scale = min(self.scale, deep / sheet.across_mm)
        if self.marks:
            self.scale = min(self.scale, 1.0)  # a small offcut is drawn no larger than it is
        if self.scale <= 0:
            raise PaperTooSmall(say("The sheet's own size leaves no room to draw it. Give it a larger page."))
        self.wide, self.high = sheet.along_mm * self.scale, sheet.across_mm * self.scale
        self.width_mm = max(self.left + self.wide + right, self.key_x + self.key.width_mm)
        self.height_mm = self.top + self.high + self.below + key_mm
        self.badges = Badges(self.width_mm, self.top + self.high + BORDER_MM)
        if len(self.numbered) > MANY_CUTS:
            self.badges.radius = SMALL_BADGE_MM
        if self.marks:  # which stand around the sheet
            self.badges.room = self.left, self.top, self.left + self.wide, self.top + self.high

    def _chosen(self, write: Callable[[float], str], room: tuple[float, float]) -> tuple[Marks, Marks]:
        """Marks on the near and far, and on the left and right edges, for the room that is left to each."""
        found = [marks_of(self.cut_sheet, self.sheet, upright) for upright in (True, False)]
        beside = [choose(each, write, side) for each, side in zip(found, room, strict=True)]
        used = [room[0] - 2 * beside[1].depth_mm, room[1] - 2 * beside[0].depth_mm - self.key.height_mm]
        scale = min(used[0] / self.sheet.along_mm, used[1] / self.sheet.across_mm)
        # figures on the near and far edges may stand beyond the corners, above and below those at the sides
        along = scale * self.sheet.along_mm + 2 * beside[1].depth_mm - 4
        return choose(found[0], write, along), choose(found[1], write, scale * self.sheet.across_mm)

    def parts(self, labels: Mapping[str, str], links: Mapping[str, str]) -> Iterator[str]:
        yield self._rectangle("sheet", 0, 0, self.sheet.along_mm, self.sheet.across_mm, "#fff", 0.5)
        names = self.offcut_names or [say("left over")] * len(self.cut_sheet.offcuts)
        for offcut, name in zip(self.cut_sheet.offcuts, names, strict=True):
            yield self._offcut(offcut, name)
        # corners and what lies in them on top of the blanks that they fall off
        hosts = [placement for placement in self.cut_sheet.placements if placement.host is None]
        guests = [placement for placement in self.cut_sheet.placements if placement.host is not None]
        for placement in hosts:
            yield self._piece(placement, labels, links.get(placement.key))
        for waste in self.corners:
            yield self._corner(waste)
        for placement in guests:
            yield self._piece(placement, labels, links.get(placement.key))
        for cut in self.cut_sheet.cuts:
            if cut.is_trim:
                yield line(*self._ends(cut)[0], *self._ends(cut)[1], "trim", 0.15)
        for cut in self.numbered:
            yield line(*self._ends(cut)[0], *self._ends(cut)[1], "cut", 0.25)
        for number, cut in enumerate(self.numbered, start=1):
            yield self.badges.draw(*self._ends(cut), number)
        for letter, box in self.unwritten:
            yield self.badges.beside(((box[0] + box[2]) / 2, (box[1] + box[3]) / 2), letter)
        yield from self._around() if self.marks else self._size()
        yield self.key.draw(self.key_x, self.top + self.high + self.below)

    def paper(self, x: float, y: float) -> tuple[float, float]:
        """A point of the sheet on paper."""
        x = self.sheet.along_mm - x if self.is_mirrored else x
        return self.left + x * self.scale, self.top + self.high - y * self.scale

    def _ends(self, cut: Cut) -> tuple[tuple[float, float], tuple[float, float]]:
        return self.paper(cut.x0_mm, cut.y0_mm), self.paper(cut.x1_mm, cut.y1_mm)

    def _box(self, x: float, y: float, along: float, across: float) -> Box:
        left, top = self.paper(x + along if self.is_mirrored else x, y + across)
        return left, top, left + along * self.scale, top + across * self.scale

    def _rectangle(
        self, class_: str, x: float, y: float, along: float, across: float, fill: str, stroke: float
    ) -> str:
        left, top, right, bottom = self._box(x, y, along, across)
        return element(
            "rect", class_=class_, x=left, y=top, width=right - left, height=bottom - top, fill=fill,
            stroke="#000", stroke_width=stroke,
        )  # fmt: skip

    def _offcut(self, area: Offcut, name: str) -> str:
        sides = area.x_mm, area.y_mm, area.along_mm, area.across_mm
        size = f"{self.format_length(area.along_mm)} × {self.format_length(area.across_mm)}"
        fitted = fit_words(((name, size), (f"{name} {size}",), (name,)), self._box(*sides), SMALL_MM)
        drawn = self._rectangle("offcut", *sides, OFFCUT_FILL, 0.15)
        return self._group(f"{name}, {size}", drawn, fitted, "offcut-label")

    def _corner(self, waste: WasteCorner) -> str:
        left, top, right, bottom = self._box(waste.x_mm, waste.y_mm, waste.along_mm, waste.across_mm)
        return falling_off(left, top, right - left, bottom - top)

    def _piece(self, placement: Placement, labels: Mapping[str, str], link: str | None) -> str:
        label = labels[placement.key]
        size = f"{self.format_length(placement.along_mm)} × {self.format_length(placement.across_mm)}"
        if placement.turned:
            size = say("{size}, turned", size=size)
        rooms, letter = self._rooms(placement), self.letters.get(placement.key, "")
        ways = _ways(letter, label, size)
        fitted = next((f for way in ways for room in rooms if (f := fit_words([way], room))), None)
        if fitted is None and letter:
            fitted = next(
                (f for room in rooms if (f := fit_words([(letter,)], room, margin_mm=TIGHT_MM))), None
            )
            if fitted is None:
                self.unwritten.append((letter, rooms[0]))
        sides = placement.x_mm, placement.y_mm, placement.along_mm, placement.across_mm
        drawn = self._rectangle("piece guest" if placement.host else "piece", *sides, "#fff", 0.35)
        told = f"{label}, {size}"
        if placement.host:
            host = labels[placement.host]
            told = say("{piece}, cut from a corner that falls off {host}", piece=told, host=host)
        group = self._group(told, drawn, fitted, "piece-label")
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

    def _around(self) -> Iterator[str]:
        """The running marks on all four edges, and the sign at the corner that they run from."""
        assert self.marks is not None
        along, across = self.marks
        right, below = self.left + self.wide, self.top + self.high
        beyond = across.depth_mm - along.pitch_mm / 2
        for edge, out in ((below, 1), (self.top, -1)):
            yield from drawn(
                along, lambda at: self.paper(at, 0)[0], edge, out, True, self.left - beyond, right + beyond
            )
        for edge, out in ((self.left, -1), (right, 1)):
            yield from drawn(across, lambda at: self.paper(0, at)[1], edge, out, False, self.top, below)
        yield corner(*self.paper(0, 0))
        bar = legend.scale_bar(self.scale, f"1 : {1 / self.scale:.1f}", self.format_length)
        yield bar.draw(self.key_x, self.height_mm - legend.ROW_MM)

    def _size(self) -> Iterator[str]:
        x, y = self.paper(self.sheet.along_mm / 2, self.sheet.across_mm / 2)
        along, across = self.format_length(self.sheet.along_mm), self.format_length(self.sheet.across_mm)
        beneath = self.top + self.high + SIZE_ROW_MM / 2
        yield centred(along, x, beneath, "dim", SMALL_MM, 0)
        yield centred(across, SIZE_ROW_MM / 2, y, "dim", SMALL_MM, -90)


def _name(placement: Placement, labels: Mapping[str, str]) -> str:
    """A piece for a list, with the piece from whose corner it is cut."""
    if placement.host is None:
        return labels[placement.key]
    return say("{piece} from a corner of {host}", piece=labels[placement.key], host=labels[placement.host])


def _ways(letter: str, label: str, size: str) -> list[tuple[str, ...]]:
    """Ways to write on a piece what it is, the more telling ones first."""
    number, _, part = label.rpartition(" ")
    if not letter:
        return [(label, size), (label,), *([(number, part)] if number else [])]
    ways: list[tuple[str, ...]] = [(f"{letter}  {label}", size), (letter, label), (f"{letter}  {label}",)]
    return [*ways, *([(letter, number, part)] if number else []), (letter,)]
