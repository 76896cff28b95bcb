"""Lists for the ends of shelves: which box stands there and what is in it, to be read from the aisle."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from housing.core.type_widths import em_width
from housing.printing.labels import box_name
from housing.printing.papers import Paper, listed, shortened
from housing.printing.pick_list import printed_on
from housing.queries.prints import boxes_on_shelves
from objects.models.locations import SEPARATOR

# As in print_lists.css: margins of the page, the heading, the line beneath it with the table's head, a row.
MARGINS_MM, SIDES_MM = 26.0, 24.0
NAME_MM, NAME_LINE_MM = 14.2, 15.0
HEAD_MM = 26.0
WORDS_MM, WORDS_LINE_MM, ROW_EDGES_MM = 3.9, 5.5, 2.4
BOX_COLUMN_MM, GAP_MM = 30.0, 2.0
BOX_NUMBERS = 4  # objects named of a box; more are counted


@dataclass(frozen=True)
class BoxLine:
    """A box of the shelf: its number, the numbers of what is in it, their names."""

    box: str
    numbers: str
    names: str


@dataclass(frozen=True)
class ShelfList:
    """The list of one shelf. place: its last two steps, large; path: all of it. is_half: on half a page."""

    place: str
    path: str
    lines: tuple[BoxLine, ...]
    is_half: bool

    @property
    def number(self) -> int:
        return len(self.lines)


def box_lists_context(keys: Sequence[int], paper: Paper, *, by: str = "") -> dict:
    """All that the lists show, a page or half a page a shelf; nothing where no shelf has a box any more.

    keys: of the shelves, in walking order. by: who prints them.
    """
    half_mm = (paper.height_mm - MARGINS_MM) / 2 - 1
    shelves = []
    for place, boxes in boxes_on_shelves(keys):
        lines = tuple(
            BoxLine(
                box_name(housing),
                shortened(listed((thing.number for thing in things), BOX_NUMBERS), 90),
                shortened(listed(dict.fromkeys(thing.name for thing in things), BOX_NUMBERS), 90),
            )
            for housing, things in boxes
        )
        short = SEPARATOR.join(place.path.split(SEPARATOR)[-2:])
        is_half = height_mm(short, lines, paper) <= half_mm
        shelves.append(ShelfList(short, place.path, lines, is_half))
    if not shelves:
        return {}
    return {
        "shelves": shelves,
        "half_mm": round(half_mm, 1),
        "by": by,
        "printed": printed_on(),
        "paper": paper.key,
    }


def height_mm(place: str, lines: Sequence[BoxLine], paper: Paper) -> float:
    """How high the list of a shelf is at most, so that none is cut off at half a page."""
    wide = paper.width_mm - SIDES_MM
    column = (wide - BOX_COLUMN_MM) / 2 - GAP_MM
    high = HEAD_MM + NAME_LINE_MM * _rows(place, wide, NAME_MM)
    for line in lines:
        rows = max(_rows(line.box, BOX_COLUMN_MM - GAP_MM, WORDS_MM), *(
            _rows(words, column, WORDS_MM) for words in (line.numbers, line.names)
        ))  # fmt: skip
        high += ROW_EDGES_MM + WORDS_LINE_MM * rows
    return high


def _rows(words: str, width_mm: float, type_mm: float) -> int:
    """On how many lines a text stands at most; a word at an end leaves a fifth of a line free, assumed."""
    wide = em_width(words, True) * type_mm
    return 1 if wide <= width_mm else math.ceil(wide / (0.8 * width_mm))
