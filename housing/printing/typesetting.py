"""Words set into lines and rows of a known height, as SVG: what a page is put together from."""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from html import escape

from housing.core.drawing.svg import number
from housing.printing.typefaces import width_of

Run = tuple[str, bool]  # words, and whether they are bold

TEXT_MM = 2.85  # 8 pt and a little: the least for what is read while cutting, at arm's length
HEAD_MM = 3.35
LEADING = 1.1  # from one line to the next, in parts of the type size
RISE = 0.95  # from the top of a line to its baseline, in parts of the type size
FIXED = "\u00a0"  # a space at which no line is broken
_FRACTION = re.compile(
    r"(?<=\d) (?=\d+/\d)|(?<=\d) (?=(?:in|mm|lb|oz|kg|g)\b)"
)  # and none before a fraction or unit


@dataclass(frozen=True)
class Row:
    """A piece of a column that is not broken: its height, what draws it from its upper left corner, and
    whether it stays with the row after it."""

    height_mm: float
    draw: Callable[[float, float], str]
    keeps_next: bool = False


def wrap(runs: Sequence[Run], width_mm: float, size_mm: float = TEXT_MM) -> list[list[Run]]:
    """Words broken into lines no wider than asked; a single word that is wider is broken within."""
    lines: list[list[Run]] = [[]]
    used, room = 0.0, width_mm / size_mm
    for words, bold in runs:
        for word in _FRACTION.sub(FIXED, words).split(" "):
            gap = width_of(" ", bold) if lines[-1] else 0.0
            long = width_of(word, bold)
            if lines[-1] and used + gap + long > room:
                lines.append([])
                used = gap = 0.0
            while long > room:
                fits = max(
                    1, next(n for n in range(len(word), 0, -1) if width_of(word[:n], bold) <= room or n == 1)
                )
                lines[-1].append((word[:fits], bold))
                lines.append([])
                word = word[fits:]
                long = width_of(word, bold)
            _add(lines[-1], (" " if gap else "") + word, bold)
            used += gap + long
    return [[(words.replace(FIXED, " "), bold) for words, bold in line] for line in lines if line]


def _add(line: list[Run], words: str, bold: bool) -> None:
    if line and line[-1][1] == bold:
        line[-1] = line[-1][0] + words, bold
    else:
        line.append((words, bold))


def text_lines(
    lines: Sequence[Sequence[Run]], x: float, y: float, size_mm: float = TEXT_MM, class_: str = "words"
) -> str:
    """Lines below one another as one text, the first with its top at y."""
    parts = []
    for i, line in enumerate(lines):
        at = f'x="{number(x)}" y="{number(y + size_mm * (RISE + i * LEADING))}"'
        for words, bold in line:
            weight = ' font-weight="bold"' if bold else ""
            parts.append(f"<tspan {at}{weight}>{escape(words)}</tspan>".replace("<tspan  ", "<tspan "))
            at = ""
        if i < len(lines) - 1 and parts:  # so that a reader of the text finds a space between the lines
            parts[-1] = parts[-1].replace("</tspan>", " </tspan>")
    return f'<text class="{class_}" font-size="{number(size_mm)}">{"".join(parts)}</text>'


def lines_height(count: int, size_mm: float = TEXT_MM) -> float:
    return count * size_mm * LEADING


def rule(x: float, y: float, width: float, thick: float = 0.1, ink: str = "#000") -> str:
    """A level rule."""
    return (
        f'<line x1="{number(x)}" y1="{number(y)}" x2="{number(x + width)}" y2="{number(y)}" stroke="{ink}" '
        f'stroke-width="{number(thick)}"/>'
    )


def heading(words: str, width_mm: float) -> list[Row]:
    """A heading with a rule beneath; stays with what follows."""
    lines = wrap([(words, True)], width_mm, HEAD_MM)
    deep = lines_height(len(lines), HEAD_MM)

    def draw(x: float, y: float) -> str:
        return text_lines(lines, x, y + 1.1, HEAD_MM, "head") + rule(x, y + 1.4 + deep, width_mm, 0.3)

    return [Row(deep + 2.0, draw, keeps_next=True)]


def paragraph(
    runs: Sequence[Run], width_mm: float, *, mark: str = "", indent_mm: float = 0.0, after_mm: float = 0.5,
    bar: bool = False,
) -> list[Row]:  # fmt: skip
    """A paragraph, whole where it has few lines. mark: stands before it, in the indent. bar: beside it."""
    lines = wrap(runs, width_mm - indent_mm)
    size = 5 if len(lines) <= 5 else 3
    pieces = [lines[at : at + size] for at in range(0, len(lines), size)]

    def row(piece: list[list[Run]], is_first: bool, is_last: bool) -> Row:
        high = lines_height(len(piece))

        def draw(x: float, y: float) -> str:
            drawn = text_lines(piece, x + indent_mm, y)
            if mark and is_first:
                drawn = text_lines([[(mark, True)]], x, y) + drawn
            if bar:
                drawn += f'<rect x="{number(x)}" y="{number(y + 0.2)}" width="1.2" height="{number(high)}"/>'
            return drawn

        return Row(high + (after_mm if is_last else 0.0), draw)

    return [row(piece, i == 0, i == len(pieces) - 1) for i, piece in enumerate(pieces)]


def table_row(
    cells: Sequence[Sequence[Run]], widths_mm: Sequence[float], *, is_head: bool = False, gap_mm: float = 1.2
) -> Row:
    """A row of a table with a rule beneath; cells broken within their columns."""
    set_ = [wrap(cell, width - gap_mm) for cell, width in zip(cells, widths_mm, strict=True)]
    deep = lines_height(max(map(len, set_)))

    def draw(x: float, y: float) -> str:
        drawn, at = [], x
        for lines, width in zip(set_, widths_mm, strict=True):
            if lines:
                drawn.append(text_lines(lines, at, y + 0.2))
            at += width
        drawn.append(rule(x, y + deep + 0.4, sum(widths_mm), 0.25 if is_head else 0.1))
        return "".join(drawn)

    return Row(deep + 0.5, draw, keeps_next=is_head)


def filled(rows: Sequence[Row], heights_mm: Sequence[float]) -> list[list[Row]]:
    """Rows put into columns of the heights given, further ones as high as the last; headings stay with what
    follows. A row higher than a column has one to itself."""
    columns: list[list[Row]] = [[]]
    used = 0.0
    for row in rows:
        height = heights_mm[min(len(columns), len(heights_mm)) - 1]
        if columns[-1] and used + row.height_mm > height:
            kept: list[Row] = []
            while columns[-1] and columns[-1][-1].keeps_next:
                kept.insert(0, columns[-1].pop())
            if not columns[-1]:
                columns[-1], kept = kept, []
            columns.append(kept)
            used = sum(each.height_mm for each in kept)
        columns[-1].append(row)
        used += row.height_mm
    return columns
