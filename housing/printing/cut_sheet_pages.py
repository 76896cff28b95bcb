"""The pages of a cut sheet as drawings at their true size: heading, drawings, words, title block.

A right-handed maker has the drawings in the left column and the words in the right one, where the hand that
points and ticks off comes from, and measures from the near left corner. For a left-handed maker the columns
change places, so that the arm does not lie over the drawing, and lengths along the near edge run from the
near right corner: the right hand holds the end of the rule there, and the left one marks away from it without
covering the figures still to come. The drawing itself is never mirrored; that would be another box.
"""

from base64 import b64decode
from collections.abc import Sequence
from dataclasses import dataclass
from html import escape
from io import BytesIO

from PIL import Image

from housing.core.drawing.blank_key import Key, key_svg
from housing.core.drawing.blank_svg import BlankDrawing
from housing.core.drawing.svg import FONT, number
from housing.printing.box_parts import PartSheet
from housing.printing.cut_lines import LineRow
from housing.printing.papers import Paper
from housing.printing.typefaces import width_of
from housing.printing.typesetting import (
    HEAD_MM,
    LEADING,
    TEXT_MM,
    Row,
    Run,
    filled,
    heading,
    lines_height,
    paragraph,
    rule,
    table_row,
    text_lines,
    wrap,
)
from objects.core.words import noted, say

MARGIN_MM = 8.0
GAP_MM = 4.0  # between the columns
DRAWINGS_SHARE = 0.49  # of the width
BLOCK_MM = 9.5  # title block
RULER_MM = 6.0  # the line to check the printer with, across the page
NUMBER_MM, SMALLEST_NUMBER_MM, NAME_MM = 7.0, 4.4, 3.7
QR_MM, PHOTO_MM = 24.0, (32.0, 27.0)
CAPTION_MM = 2.2  # names of the cells in the title block: read once, not while cutting
VERSION_MM = 4.2
OUTSIDE = noted("Outside, h × w × d")

Picture = tuple[str, float, float]  # SVG, and its sides in mm


@dataclass(frozen=True)
class Frame:
    """The places of a page, mm: where columns begin, how wide they are, and where they end."""

    wide: float
    high: float
    is_left: bool

    @property
    def room(self) -> float:
        return self.wide - 2 * MARGIN_MM

    @property
    def drawings_wide(self) -> float:
        return round((self.room - GAP_MM) * DRAWINGS_SHARE, 1)

    @property
    def words_wide(self) -> float:
        return self.room - GAP_MM - self.drawings_wide

    @property
    def drawings_x(self) -> float:
        return MARGIN_MM + (self.words_wide + GAP_MM if self.is_left else 0.0)

    @property
    def words_x(self) -> float:
        return MARGIN_MM + (0.0 if self.is_left else self.drawings_wide + GAP_MM)

    @property
    def foot(self) -> float:
        """Where the title block begins."""
        return self.high - MARGIN_MM - BLOCK_MM

    @property
    def bottom(self) -> float:
        """Where the columns end."""
        return self.foot - RULER_MM


def pages_of(sheet, paper: Paper) -> list[str]:  # type: ignore[no-untyped-def] - a CutSheet, made beside this
    """The pages, each an SVG document as large as the paper; one where everything fits."""
    frame = Frame(paper.width_mm, paper.height_mm, sheet.hand == "left")
    heads = [_first_head(sheet, frame), _next_head(sheet, frame)]
    tops = [head[1] for head in heads]
    laid = _beside(sheet, frame, tops)
    if not laid.is_whole or any(not page.drawings for page in laid.pages):
        apart = _apart(sheet, frame, tops)
        if (laid.undrawn, len(laid.pages)) >= (apart.undrawn, len(apart.pages)):
            laid = apart
    count = len(laid.pages)
    return [
        _page(
            heads[min(index, 1)][0]
            + "".join(page.drawings + page.words)
            + ruler(MARGIN_MM, frame.bottom, sheet.parts[0].unit, frame.room)
            + _title_block(sheet, frame, index + 1, count),
            frame,
            say("Cut sheet of {box}", box=sheet.box),
        )
        for index, page in enumerate(laid.pages)
    ]


@dataclass(frozen=True)
class Laid:
    """What lies on one page besides heading and foot."""

    drawings: list[str]
    words: list[str]


@dataclass(frozen=True)
class Layout:
    """All pages; whether every drawing has its marks at both ends of a line, and how many are left out."""

    pages: list[Laid]
    is_whole: bool
    undrawn: int


def _beside(sheet, frame: Frame, tops: Sequence[float]) -> Layout:  # type: ignore[no-untyped-def]
    """Drawings in one column, words in the other, on as many pages as both need."""
    columns = filled(_words(sheet, frame.words_wide), [frame.bottom - top - 0.5 for top in tops])
    key = _key(sheet, frame.drawings_wide)
    plates = _plates(sheet.parts, frame.drawings_wide, frame, tops, key[2], len(columns))
    pages = []
    for index in range(max(len(columns), len(plates))):
        top = tops[min(index, 1)]
        words = _column(columns[index], frame.words_x, top) if index < len(columns) else []
        drawings = (
            _drawn(plates[index], frame.drawings_x, frame.drawings_wide, top) if index < len(plates) else []
        )
        pages.append(Laid(drawings, words))
    pages[0].drawings.append(placed(key[0], frame.drawings_x, frame.bottom - key[2] - 1.5))
    return Layout(pages, _is_whole(plates), _undrawn(plates))


def _apart(sheet, frame: Frame, tops: Sequence[float]) -> Layout:  # type: ignore[no-untyped-def]
    """Drawings as wide as the page on the first pages, then the words in two columns."""
    key = _key(sheet, frame.room)
    plates = _plates(sheet.parts, frame.room, frame, tops, key[2], 1)
    pages = [
        Laid(_drawn(plate, MARGIN_MM, frame.room, tops[min(index, 1)]), [])
        for index, plate in enumerate(plates)
    ]
    pages[0].drawings.append(placed(key[0], MARGIN_MM, frame.bottom - key[2] - 1.5))
    half = (frame.room - GAP_MM) / 2
    columns = filled(_words(sheet, half), [frame.bottom - tops[1] - 0.5])
    for at in range(0, len(columns), 2):
        words = _column(columns[at], MARGIN_MM, tops[1])
        if at + 1 < len(columns):
            words += _column(columns[at + 1], MARGIN_MM + half + GAP_MM, tops[1])
        pages.append(Laid([], words))
    return Layout(pages, _is_whole(plates), _undrawn(plates))


def _page(content: str, frame: Frame, title: str) -> str:
    wide, high = number(frame.wide), number(frame.high)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="sheet-page" width="{wide}mm" height="{high}mm" '
        f'viewBox="0 0 {wide} {high}" font-family="{FONT}"><title>{escape(title)}</title>{content}</svg>'
    )


# ---- Words -----------------------------------------------------------------------------------------------


def _words(sheet, width: float) -> list[Row]:  # type: ignore[no-untyped-def]
    rows = [row for note in sheet.notes for row in paragraph([(note, True)], width, bar=True, indent_mm=2.5)]
    rows += heading(say("Cutting list"), width)
    for name, count, size, place in sheet.listed:
        rows += paragraph([(f"{count} × {name} ", True), (f"{size}: {place}.", False)], width)
    if sheet.supplies:
        needed = say("Also needed: {what}.", what="; ".join(sheet.supplies))
        rows += paragraph([(needed, False)], width)
    for part in sheet.parts:
        rows += _tables(part, sheet, width)
    for told in sheet.shifts:
        rows += paragraph([(told, False)], width)
    rows += heading(say("Take care"), width)
    for caution in sheet.cautions:
        rows += paragraph([(caution, True)], width, bar=True, indent_mm=2.5, after_mm=0.9)
    rows += heading(say("Steps"), width)
    for at, step in enumerate(sheet.steps, start=1):
        rows += paragraph([(step, False)], width, mark=f"{at}", indent_mm=5.5, after_mm=0.7)
    return rows


def _tables(part: PartSheet, sheet, width: float) -> list[Row]:  # type: ignore[no-untyped-def]
    rows = heading(say("{part}, in {unit}", part=part.name, unit=sheet.unit_name), width)
    if part.cuts:
        what = say("Cut / {flutes}", flutes=say(part.manner.direction))
        heads = [_bold("№"), _bold(what), _bold(say("From edge")), _bold(say("Runs"))]
        rows += _table(
            heads, [[_bold(r.numbers), _plain(r.what), _from(r), _plain(r.runs)] for r in part.cuts], width
        )
    if part.scores:
        heads = [
            _bold(say("Score")),
            _bold(say("From edge")),
            _bold(say("Runs, {face} face", face=sheet.face)),
        ]
        rows += _table(heads, [[_plain(r.what), _from(r), _plain(r.runs)] for r in part.scores], width)
    for told in part.openings:
        rows += paragraph([(say("Cut out {opening}.", opening=told), False)], width)
    return rows + paragraph([(say("Panels: {panels}.", panels=part.panels), False)], width)


def _table(heads: list[list[Run]], body: list[list[list[Run]]], width: float) -> list[Row]:
    """A table whose columns are as wide as what stands in them, within bounds; the last takes the rest."""
    bounds = {4: (0.14, 0.30, 0.38), 3: (0.2, 0.4)}[len(heads)]
    widths = []
    for at, most in enumerate(bounds):
        set_ = [width_of(" ".join(words for words, _ in row[at]), True) for row in (heads, *body)]
        widths.append(min(max(set_) * TEXT_MM + 2.0, most * width))
    words = [word for row in (heads, *body) for run in row[-1] for word in run[0].split(" ")]
    short = TEXT_MM * max(map(width_of, words)) + 1.4 - (width - sum(widths))
    widths[-1] -= max(0.0, short)  # so that no length of the last column is broken
    widths.append(width - sum(widths))
    return [table_row(heads, widths, is_head=True), *(table_row(row, widths) for row in body)]


def _bold(words: str) -> list[Run]:
    return [(words, True)]


def _plain(words: str) -> list[Run]:
    return [(words, False)]


def _from(row: LineRow) -> list[Run]:
    return [(row.edge, False), (row.at, True)]


def _column(rows: Sequence[Row], x: float, y: float) -> list[str]:
    drawn = []
    for row in rows:
        drawn.append(row.draw(x, y))
        y += row.height_mm
    return drawn


# ---- Drawings --------------------------------------------------------------------------------------------


def _key(sheet, width: float) -> Picture:  # type: ignore[no-untyped-def]
    blanks = [part.blank for part in sheet.parts]
    scores = [score for blank in blanks for score in blank.scores]
    key = Key(
        scored=sheet.manner.scored if scores else None,
        has_flaps=any(score.is_flap for score in scores),
        from_right=sheet.manner.from_right,
        has_waste=any(blank.waste for blank in blanks),
        cuts=any(blank.cuts or blank.openings for blank in blanks),
        joints=any(part.manner.joints for part in sheet.parts),
    )
    return key_svg(key, say("Key"), width)


type Plate = list[tuple[PartSheet, BlankDrawing | None]]


def _plates(
    parts: Sequence[PartSheet], width: float, frame: Frame, tops: Sequence[float], key_mm: float, least: int
) -> list[Plate]:
    """The drawings by page: on as few pages as let every line have its marks at both ends.

    key_mm: height of the key on the first page. least: pages there are anyhow.
    """
    best: list[Plate] = []
    for count in range(least, max(least, len(parts)) + 1):
        for groups in _splits(parts, count):
            plates = []
            for index, group in enumerate(groups):
                bottom = frame.bottom - (key_mm + 3.0 if index == 0 else 0.0)
                plates.append(_fitted(group, width, bottom - tops[min(index, 1)]))
            if _is_whole(plates):
                return plates
            if not best or _undrawn(plates) < _undrawn(best):
                best = plates
    return best


def _is_whole(plates: Sequence[Plate]) -> bool:
    return all(drawing and drawing.both_edges for plate in plates for _, drawing in plate)


def _undrawn(plates: Sequence[Plate]) -> int:
    return sum(drawing is None for plate in plates for _, drawing in plate)


def _splits(parts: Sequence[PartSheet], count: int) -> list[list[list[PartSheet]]]:
    """Ways to put parts in their order on some pages: evenly, the first page, which has the key too, with the
    fewest; where there are more pages than parts also on the last ones."""
    filled_pages = min(count, len(parts))
    sizes = [len(parts) // filled_pages] * filled_pages
    for i in range(len(parts) % filled_pages):
        sizes[-1 - i] += 1
    groups, at = [], 0
    for size in sizes:
        groups.append(list(parts[at : at + size]))
        at += size
    empty: list[list[PartSheet]] = [[] for _ in range(count - filled_pages)]
    return [groups + empty] + ([empty + groups] if empty else [])


def _fitted(
    parts: Sequence[PartSheet], width: float, height: float
) -> list[tuple[PartSheet, BlankDrawing | None]]:
    """Drawings that share a height; what low ones leave goes to those that can use it."""
    if not parts:
        return []
    room = height - len(parts) * _HEADED
    share = room / len(parts)
    drawn = [part.draw(width, share) for part in parts]
    used = [drawing.height_mm if drawing else share for drawing in drawn]
    spare = room - sum(used)
    if len(parts) > 1 and spare > 8:
        order = sorted(range(len(parts)), key=lambda i: used[i], reverse=True)
        for i in order:
            again = parts[i].draw(width, used[i] + spare)
            if again and (not drawn[i] or again.height_mm > used[i]):
                spare -= again.height_mm - used[i]
                drawn[i] = again
                break
    return list(zip(parts, drawn, strict=True))


_HEADED = HEAD_MM * LEADING + 4.5  # heading of a drawing and the gap beneath it


def _drawn(plate: Plate, x: float, wide: float, y: float) -> list[str]:
    found = []
    for part, drawing in plate:
        runs = [(part.name, True), (f"{part.size}, {drawing.scale}" if drawing else part.size, False)]
        found.append(text_lines([_spaced(runs)], x, y + 0.8, HEAD_MM, "head"))
        found.append(rule(x, y + 0.8 + HEAD_MM * LEADING + 0.5, wide, 0.3))
        y += _HEADED - 1.0
        if drawing is None:
            told = say(
                "The drawing does not fit this page. Work from the tables, or print on a larger paper."
            )
            found.append(text_lines(wrap([(told, False)], wide), x, y))
            continue
        found.append(placed(drawing.svg, x + max(0.0, (wide - drawing.width_mm) / 2), y))
        y += drawing.height_mm + 1.0
    return found


def _spaced(runs: list[Run]) -> list[Run]:
    (name, bold), (rest, plain) = runs
    return [(f"{name}  ", bold), (rest, plain)]


def placed(svg: str, x: float, y: float) -> str:
    """A drawing laid on a page with its upper left corner at a point, as large as it is drawn."""
    head, _, content = svg.partition(">")
    kind = head.partition('class="')[2].partition('"')[0]
    return (
        f'<g class="{kind}" role="img" transform="translate({number(x)} {number(y)})">'
        f"{content.removesuffix('</svg>')}</g>"
    )


# ---- Heading, ruler and title block ----------------------------------------------------------------------


def _first_head(sheet, frame: Frame) -> tuple[str, float]:  # type: ignore[no-untyped-def]
    """The heading of the first page, and where the columns begin beneath it."""
    x, y = MARGIN_MM, MARGIN_MM
    right = frame.wide - MARGIN_MM
    left = right - QR_MM - 3.0
    pictures = []
    if sheet.closed:
        svg, wide, high = sheet.closed
        under = max(wide, 30.0, TEXT_MM * max(width_of(sheet.outside, True), width_of(say(OUTSIDE))))
        left -= under
        pictures.append(_closed(sheet, left, under))
        left -= 3.0
    if photo := _photo(sheet, left):
        pictures.append(photo[0])
        left -= photo[1] + 3.0
    room = left - x
    size = max(SMALLEST_NUMBER_MM, min(NUMBER_MM, 0.97 * room / max(width_of(sheet.numbers, True), 1.0)))
    drawn = pictures

    def lines(runs: list[Run], high: float, most: int = 2, gap: float = 0.6) -> None:
        nonlocal y
        set_ = wrap(runs, room, high)[:most]
        drawn.append(text_lines(set_, x, y, high, "head"))
        y += lines_height(len(set_), high) + gap

    lines([(sheet.numbers, True)], size, 3)
    lines([(sheet.name, False)], NAME_MM)
    lines([(sheet.box, True), (f"· {sheet.location}", False)], TEXT_MM)
    lines(_told([*sheet.things, *sheet.facts]), TEXT_MM, 5)
    if sheet.hazards:
        lines([(say("Hazards: {hazards}", hazards=sheet.hazards), True)], HEAD_MM, 3)
    drawn.append(_picture(sheet.qr, right - QR_MM, MARGIN_MM, QR_MM, QR_MM))
    under = [(sheet.code, TEXT_MM, False), (say("Version {code}", code=sheet.version), HEAD_MM, True)]
    at = MARGIN_MM + QR_MM - 0.6
    for words, high, bold in under:
        if words:
            drawn.append(
                _centred(words, right - QR_MM / 2, at, min(high, QR_MM / width_of(words, bold)), bold)
            )
            at += high * LEADING
    bottom = max(y, at + 0.6, MARGIN_MM + (PHOTO_MM[1] if photo or sheet.closed else 0.0)) + 0.8
    drawn.append(rule(MARGIN_MM, bottom, frame.room, 0.6))
    return "".join(drawn), bottom + 0.8


def _closed(sheet, x: float, wide: float) -> str:  # type: ignore[no-untyped-def]
    """The closed box with its outside sizes beneath it."""
    svg, drawn_wide, drawn_high = sheet.closed
    words = (say(OUTSIDE), False), (sheet.outside, True)
    top = MARGIN_MM + max(0.0, (21.0 - drawn_high) / 2)
    found = [placed(svg, x + (wide - drawn_wide) / 2, top)]
    for i, (told, bold) in enumerate(words):
        found.append(_centred(told, x + wide / 2, MARGIN_MM + 21.0 + i * TEXT_MM * LEADING, TEXT_MM, bold))
    return "".join(found)


def _told(facts: Sequence[tuple[str, str]]) -> list[Run]:
    """Facts in a row, each with its name: Outside, closed 10 3/4 × ..."""
    runs: list[Run] = []
    for i, (name, value) in enumerate(facts):
        runs += [(name.replace(" ", "\u00a0") if len(name) < 12 else name, False)]
        runs += [(value + (";" if i < len(facts) - 1 else ""), True)]
    return runs


def _next_head(sheet, frame: Frame) -> tuple[str, float]:  # type: ignore[no-untyped-def]
    """The heading of a further page."""
    number_mm, y = 5.0, MARGIN_MM
    version = say("Version {code}", code=sheet.version)
    room = frame.room - width_of(version, True) * HEAD_MM - 4.0
    size = min(number_mm, 0.97 * room / max(width_of(sheet.numbers, True), 1.0))
    name = wrap([(sheet.box, True), (f"· {sheet.name}", False)], frame.room)[:1]
    drawn = [
        text_lines([[(sheet.numbers, True)]], MARGIN_MM, y, size, "head"),
        f'<text class="head" x="{number(frame.wide - MARGIN_MM)}" y="{number(y + HEAD_MM * 1.2)}" '
        f'font-size="{number(HEAD_MM)}" font-weight="bold" text-anchor="end">{escape(version)}</text>',
        text_lines(name, MARGIN_MM, y + number_mm * LEADING + 0.4),
    ]
    bottom = y + number_mm * LEADING + 0.4 + lines_height(1) + 1.0
    return "".join(drawn) + rule(MARGIN_MM, bottom, frame.room, 0.6), bottom + 0.8


def _photo(sheet, right: float) -> tuple[str, float] | None:  # type: ignore[no-untyped-def]
    """The photo with its right side at a place, as wide as it is then."""
    if not sheet.photo:
        return None
    with Image.open(BytesIO(b64decode(sheet.photo.partition(",")[2]))) as picture:
        wide_px, high_px = picture.size
    scale = min(PHOTO_MM[0] / wide_px, PHOTO_MM[1] / high_px)
    wide, high = wide_px * scale, high_px * scale
    return _picture(sheet.photo, right - wide, MARGIN_MM, wide, high), wide


def _picture(address: str, x: float, y: float, wide: float, high: float) -> str:
    return (
        f'<image class="picture" href="{address}" x="{number(x)}" y="{number(y)}" width="{number(wide)}" '
        f'height="{number(high)}" image-rendering="optimizeSpeed"/>'
    )


def _centred(words: str, x: float, y: float, size: float, bold: bool) -> str:
    weight = ' font-weight="bold"' if bold else ""
    return (
        f'<text class="head" x="{number(x)}" y="{number(y + size)}" font-size="{number(size)}"{weight} '
        f'text-anchor="middle">{escape(words)}</text>'
    )


def ruler(x: float, y: float, unit: str, width: float) -> str:
    """A line to check the printer with a ruler, 100 mm or 4 in long, and what it is for."""
    step, long, ticks = (25.4, 101.6, 8) if unit == "in" else (10.0, 100.0, 10)
    base = y + 4.4
    d = f"M{number(x)} {number(base)} L{number(x + long)} {number(base)}"
    for i in range(ticks + 1):
        at = x + long * i / ticks
        is_long = i in (0, ticks) or (unit == "in" and i % 2 == 0) or (unit != "in" and i == 5)
        d += f" M{number(at)} {number(base - (2.8 if is_long else 1.4))} L{number(at)} {number(base)}"
    named = say("{inches} inches", inches=f"{long / step:.0f}") if unit == "in" else f"{long:.0f} mm"
    told = say("This line is {length} long. If your ruler says otherwise, print again at 100%.", length=named)
    lines = wrap([(told, False)], width - long - 3.0)
    return f'<path class="ruler" d="{d}" fill="none" stroke="#000" stroke-width="0.25"/>' + text_lines(
        lines, x + long + 3.0, base + 0.6 - lines_height(len(lines))
    )


def _title_block(sheet, frame: Frame, page: int, count: int) -> str:  # type: ignore[no-untyped-def]
    """The cells at the foot: which sheet, which version, when, by whom, which page."""
    pages = say("{page} of {count}", page=page, count=count)
    cells = [*sheet.title_cells, (say("Page"), pages)]
    wanted = [
        max(width_of(name) * CAPTION_MM, width_of(value, True) * HEAD_MM) + 3.0 for name, value in cells
    ]
    spare = (frame.room - sum(wanted)) / len(cells)
    x, y = MARGIN_MM, frame.foot
    drawn = [
        f'<rect class="block" x="{number(x)}" y="{number(y)}" width="{number(frame.room)}" '
        f'height="{number(BLOCK_MM)}" fill="none" stroke="#000" stroke-width="0.5"/>'
    ]
    for i, ((name, value), wide) in enumerate(zip(cells, wanted, strict=True)):
        wide += spare
        size = min(HEAD_MM, max(wide - 3.0, 1.0) / max(width_of(value, True), 1.0))
        drawn.append(text_lines([[(name, False)]], x + 1.5, y + 0.9, CAPTION_MM, "block"))
        drawn.append(
            text_lines([[(value, True)]], x + 1.5, y + 0.9 + CAPTION_MM * LEADING + 0.5, size, "block")
        )
        if i:
            drawn.append(
                f'<line x1="{number(x)}" y1="{number(y)}" x2="{number(x)}" y2="{number(y + BLOCK_MM)}" '
                'stroke="#000" stroke-width="0.2"/>'
            )
        x += wide
    return "".join(drawn)
