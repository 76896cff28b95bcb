"""The pages of a cut sheet as drawings at their true size: heading, drawings, words, title block.

A right-handed maker has the drawings in the left column and the words in the right one, where the hand that
points and ticks off comes from, and measures from the near left corner. For a left-handed maker the columns
change places, so that the arm does not lie over the drawing, and lengths along the near edge run from the
near right corner: the right hand holds the end of the rule there, and the left one marks away from it without
covering the figures still to come. The drawing itself is never mirrored; that would be another box.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

from housing.core.drawing.svg import FONT, number
from housing.printing.cut_sheet_content import CutSheet
from housing.printing.cut_sheet_drawings import is_whole, key_of, laid_down, plates_of, undrawn
from housing.printing.cut_sheet_foot import ruler, title_block
from housing.printing.cut_sheet_frame import GAP_MM, MARGIN_MM, Frame, placed
from housing.printing.cut_sheet_heading import first_heading, next_heading
from housing.printing.cut_sheet_words import column, words_of
from housing.printing.papers import Paper
from housing.printing.typesetting import filled
from objects.core.words import say


def pages_of(sheet: CutSheet, paper: Paper) -> list[str]:
    """The pages, each an SVG document as large as the paper; one where everything fits."""
    frame = Frame(paper.width_mm, paper.height_mm, sheet.hand == "left")
    heads = [first_heading(sheet, frame), next_heading(sheet, frame)]
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
            + title_block(sheet, frame, index + 1, count),
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


def _beside(sheet: CutSheet, frame: Frame, tops: Sequence[float]) -> Layout:
    """Drawings in one column, words in the other, on as many pages as both need."""
    columns = filled(words_of(sheet, frame.words_wide), [frame.bottom - top - 0.5 for top in tops])
    key = key_of(sheet, frame.drawings_wide)
    plates = plates_of(sheet.parts, frame.drawings_wide, frame, tops, key[2], len(columns))
    pages = []
    for index in range(max(len(columns), len(plates))):
        top = tops[min(index, 1)]
        words = column(columns[index], frame.words_x, top) if index < len(columns) else []
        drawings = (
            laid_down(plates[index], frame.drawings_x, frame.drawings_wide, top)
            if index < len(plates)
            else []
        )
        pages.append(Laid(drawings, words))
    pages[0].drawings.append(placed(key[0], frame.drawings_x, frame.bottom - key[2] - 1.5))
    return Layout(pages, is_whole(plates), undrawn(plates))


def _apart(sheet: CutSheet, frame: Frame, tops: Sequence[float]) -> Layout:
    """Drawings as wide as the page on the first pages, then the words in two columns."""
    key = key_of(sheet, frame.room)
    plates = plates_of(sheet.parts, frame.room, frame, tops, key[2], 1)
    pages = [
        Laid(laid_down(plate, MARGIN_MM, frame.room, tops[min(index, 1)]), [])
        for index, plate in enumerate(plates)
    ]
    pages[0].drawings.append(placed(key[0], MARGIN_MM, frame.bottom - key[2] - 1.5))
    half = (frame.room - GAP_MM) / 2
    columns = filled(words_of(sheet, half), [frame.bottom - tops[1] - 0.5])
    for at in range(0, len(columns), 2):
        words = column(columns[at], MARGIN_MM, tops[1])
        if at + 1 < len(columns):
            words += column(columns[at + 1], MARGIN_MM + half + GAP_MM, tops[1])
        pages.append(Laid([], words))
    return Layout(pages, is_whole(plates), undrawn(plates))


def _page(content: str, frame: Frame, title: str) -> str:
    wide, high = number(frame.wide), number(frame.high)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="sheet-page" width="{wide}mm" height="{high}mm" '
        f'viewBox="0 0 {wide} {high}" font-family="{FONT}"><title>{escape(title)}</title>{content}</svg>'
    )
