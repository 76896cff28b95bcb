"""The foot of a cut sheet: a line to check the printer with, and the title block."""

from housing.core.drawing.svg import number
from housing.printing.cut_sheet_content import CutSheet
from housing.printing.cut_sheet_frame import BLOCK_MM, MARGIN_MM, Frame
from housing.printing.typefaces import width_of
from housing.printing.typesetting import HEAD_MM, LEADING, lines_height, text_lines, wrap
from objects.core.words import say

CAPTION_MM = 2.2  # names of the cells in the title block: read once, not while cutting


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


def title_block(sheet: CutSheet, frame: Frame, page: int, count: int) -> str:
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
