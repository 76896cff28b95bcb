"""The pages of a cut sheet as drawings at their true size: heading, drawings, words, title block.

A right-handed maker has the drawings in the left column and the words in the right one, where the hand that
points and ticks off comes from, and measures from the near left corner. For a left-handed maker the columns
change places, so that the arm does not lie over the drawing, and lengths along the near edge run from the
near right corner: the right hand holds the end of the rule there, and the left one marks away from it without
covering the figures still to come. The drawing itself is never mirrored; that would be another box.
"""

from html import escape

from housing.core.drawing.svg import FONT, number
from housing.printing.cut_sheet_content import CutSheet
from housing.printing.cut_sheet_foot import ruler, title_block
from housing.printing.cut_sheet_frame import MARGIN_MM, Frame
from housing.printing.cut_sheet_heading import first_heading, next_heading
from housing.printing.cut_sheet_layouts import laid_out
from housing.printing.papers import Paper
from objects.core.words import say


def pages_of(sheet: CutSheet, paper: Paper) -> list[str]:
    """The pages, each an SVG document as large as the paper; one where everything fits."""
    frame = Frame(paper.width_mm, paper.height_mm, sheet.hand == "left")
    heads = [first_heading(sheet, frame), next_heading(sheet, frame)]
    laid = laid_out(sheet, frame, [head[1] for head in heads])
    return [
        _page(
            heads[min(index, 1)][0]
            + "".join(drawn)
            + ruler(MARGIN_MM, frame.bottom, sheet.parts[0].unit, frame.room)
            + title_block(sheet, frame, index + 1, len(laid)),
            frame,
            say("Cut sheet of {box}", box=sheet.box),
        )
        for index, drawn in enumerate(laid)
    ]


def _page(content: str, frame: Frame, title: str) -> str:
    wide, high = number(frame.wide), number(frame.high)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="sheet-page" width="{wide}mm" height="{high}mm" '
        f'viewBox="0 0 {wide} {high}" font-family="{FONT}"><title>{escape(title)}</title>{content}</svg>'
    )
