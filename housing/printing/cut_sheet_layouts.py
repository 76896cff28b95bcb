"""Ways to lay drawings and words on the pages of a cut sheet; one page where there is any way to."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from housing.printing.cut_sheet_content import CutSheet
from housing.printing.cut_sheet_drawings import (
    Plate,
    fitted,
    height_of_plate,
    is_whole,
    key_of,
    laid_down,
    plates_of,
    reduced,
    undrawn,
)
from housing.printing.cut_sheet_frame import DRAWINGS_SHARE, GAP_MM, MARGIN_MM, Frame, placed
from housing.printing.cut_sheet_words import Sections, column, height_of, sections_of
from housing.printing.typesetting import Row, filled

SHARES = (DRAWINGS_SHARE, 0.45, 0.41, 0.37)  # of the width that drawings may have beside words
# Sections that may stand beneath the drawings where the other column has no room for them.
BENEATH = ((), ("cautions",), ("listed",), ("listed", "cautions"), ("steps",), ("cautions", "steps"))
MOST_REDUCED = 25.0  # a drawing at 1 : 25 is still read with ease; assumed
MOST_TRIES = 3  # ways beside the usual one: each takes some 30 ms where drawings are intricate
MUCH = 1.5  # times larger must drawings become to be worth a page more; assumed
KEY_GAP_MM = 3.0
LEAST_DRAWN_MM = 30.0  # height of a column in which drawings are tried at all


@dataclass(frozen=True)
class Layout:
    """The elements of every page, and the drawings they hold."""

    pages: list[list[str]]
    plates: list[Plate]

    @property
    def reduction(self) -> float:
        return reduced(self.plates)


def laid_out(sheet: CutSheet, frame: Frame, tops: Sequence[float]) -> list[list[str]]:
    """What lies on each page besides heading and foot.

    tops: where columns begin on the first page and on further ones, mm.
    """
    one = _on_one(sheet, frame, tops[0])
    if one is not None and one.reduction <= MOST_REDUCED:
        return one.pages
    more = _on_more(sheet, frame, tops)
    if one is not None and one.reduction <= MUCH * more.reduction:
        return one.pages
    return more.pages


# ---- One page --------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class _Try:
    """Room left to the drawings by the words of a page, and where those go."""

    wide: float
    high: float
    frame: Frame
    beside: list[Row]  # in the other column
    beneath: list[list[Row]]  # in columns beneath the drawings


def _on_one(sheet: CutSheet, frame: Frame, top: float) -> Layout | None:
    """The way that shows the drawings largest, or None where no way has them with all their marks."""
    best: Layout | None = None
    for tried in _tries(sheet, frame, top):
        key = key_of(sheet, tried.wide)
        plate = fitted(sheet.parts, tried.wide, tried.high - key[2] - KEY_GAP_MM, MOST_REDUCED)
        if not is_whole([plate]):
            continue
        reduction = reduced([plate])
        if best is None or reduction < best.reduction:
            best = Layout([_laid(tried, plate, key, top)], [plate])
        if not any(tried.beneath) and tried.frame.share == DRAWINGS_SHARE:
            break  # the usual way will do
    return best


def _tries(sheet: CutSheet, frame: Frame, top: float) -> Iterator[_Try]:
    """Ways in which the words fit, the usual one first, then those that leave drawings most room."""
    room = frame.bottom - top - 0.5
    found: list[_Try] = []
    for share in SHARES:
        here = replace(frame, share=share)
        right, left = sections_of(sheet, here.words_wide), None
        for moved in BENEATH:
            beside = right.all_but(moved)
            if height_of(beside) > room:
                continue
            beneath: list[Row] = []
            if moved:
                left = left or sections_of(sheet, here.drawings_wide)
                beneath = left.all_but({*_NAMES} - {*moved})
            high = room - height_of(beneath)
            if high > LEAST_DRAWN_MM:
                found.append(_Try(here.drawings_wide, high, here, beside, [beneath] if beneath else []))
            if not moved:
                break  # nothing need be moved
    half = (frame.room - GAP_MM) / 2
    columns = balanced(sections_of(sheet, half).all_but(), 2)
    high = room - max(map(height_of, columns))
    if high > LEAST_DRAWN_MM:
        found.append(_Try(frame.room, high, frame, [], columns))
    usual, rest = found[:1], found[1:]
    if usual and (usual[0].beneath or usual[0].frame.share != DRAWINGS_SHARE):
        usual, rest = [], found
    yield from usual
    yield from sorted(rest, key=lambda tried: -tried.wide * tried.high)[:MOST_TRIES]


_NAMES = ("notes", "listed", "tables", "shifts", "cautions", "steps")


def _laid(tried: _Try, plate: Plate, key: tuple[str, float, float], top: float) -> list[str]:
    frame = tried.frame
    is_wide = len(tried.beneath) > 1
    x = MARGIN_MM if is_wide else frame.drawings_x
    drawn = laid_down(plate, x, tried.wide, top)
    if not tried.beneath:
        drawn.append(placed(key[0], x, frame.bottom - key[2] - 1.5))
        return drawn + column(tried.beside, frame.words_x, top)
    y = top + height_of_plate(plate)
    drawn.append(placed(key[0], x, y))
    y = max(y + key[2] + 1.0, frame.bottom - 0.5 - max(map(height_of, tried.beneath)))
    step = (frame.room + GAP_MM) / 2
    for at, rows in enumerate(tried.beneath):
        drawn += column(rows, x + at * step, y)
    return drawn + column(tried.beside, frame.words_x, top)


def balanced(rows: Sequence[Row], count: int) -> list[list[Row]]:
    """Rows in columns of about the same height, the least that takes them."""
    high = height_of(rows) / count
    while len(columns := filled(rows, [high])) > count:
        high += 1.0
    return columns


# ---- More pages ------------------------------------------------------------------------------------------


def _on_more(sheet: CutSheet, frame: Frame, tops: Sequence[float]) -> Layout:
    beside = _beside(sheet, frame, tops)
    if is_whole(beside.plates) and len(beside.plates) == len(beside.pages):
        return beside
    apart = _apart(sheet, frame, tops)
    if (undrawn(beside.plates), len(beside.pages)) >= (undrawn(apart.plates), len(apart.pages)):
        return apart
    return beside


def _beside(sheet: CutSheet, frame: Frame, tops: Sequence[float]) -> Layout:
    """Drawings in one column, words in the other, on as many pages as both need."""
    sections = sections_of(sheet, frame.words_wide)
    heights = [frame.bottom - top - 0.5 for top in tops]
    columns = filled(sections.all_but(), heights)
    key = key_of(sheet, frame.drawings_wide)
    plates = plates_of(sheet.parts, frame.drawings_wide, frame, tops, key[2], len(columns))
    if len(plates) == 2 and (parted := _by_part(sections, plates, heights)):
        columns = parted
    pages = []
    for index in range(max(len(columns), len(plates))):
        top = tops[min(index, 1)]
        words = column(columns[index], frame.words_x, top) if index < len(columns) else []
        drawings = []
        if index < len(plates):
            drawings = laid_down(plates[index], frame.drawings_x, frame.drawings_wide, top)
        pages.append(drawings + words)
    pages[0].append(placed(key[0], frame.drawings_x, frame.bottom - key[2] - 1.5))
    return Layout(pages, plates)


def _by_part(sections: Sections, plates: Sequence[Plate], heights: Sequence[float]) -> list[list[Row]] | None:
    """Each part's tables beside its drawing, the steps on the second page; None where there is no room."""
    first = len(plates[0])
    begun = [*sections.notes, *sections.listed, *sum(sections.tables[:first], []), *sections.shifts]
    ended = sum(sections.tables[first:], [])
    for one, two in (
        ([*begun, *sections.cautions], [*ended, *sections.steps]),
        (begun, [*ended, *sections.cautions, *sections.steps]),
    ):
        if height_of(one) <= heights[0] and height_of(two) <= heights[1]:
            return [one, two]
    return None


def _apart(sheet: CutSheet, frame: Frame, tops: Sequence[float]) -> Layout:
    """Drawings as wide as the page on the first pages, then the words in two columns."""
    key = key_of(sheet, frame.room)
    plates = plates_of(sheet.parts, frame.room, frame, tops, key[2], 1)
    pages = [
        laid_down(plate, MARGIN_MM, frame.room, tops[min(index, 1)]) for index, plate in enumerate(plates)
    ]
    pages[0].append(placed(key[0], MARGIN_MM, frame.bottom - key[2] - 1.5))
    half = (frame.room - GAP_MM) / 2
    columns = filled(sections_of(sheet, half).all_but(), [frame.bottom - tops[1] - 0.5])
    for at in range(0, len(columns), 2):
        words = column(columns[at], MARGIN_MM, tops[1])
        if at + 1 < len(columns):
            words += column(columns[at + 1], MARGIN_MM + half + GAP_MM, tops[1])
        pages.append(words)
    return Layout(pages, plates)
