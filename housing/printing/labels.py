"""Labels for the boxes: how a label sheet is divided, and what stands on each label."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from housing.core.choosing import MARKS, mark_names
from housing.core.drawing.svg import text_width
from housing.models import Housing
from housing.models.housings import marks_of
from housing.printing.papers import TWO_PEOPLE_G, Paper, contents_of, hazards_of, listed, shortened, weight_g
from housing.printing.photos import photo_data_uri
from housing.printing.qr import label_address, qr_data_uri
from housing.queries.handling import handling_of
from objects.core.lengths import MM_PER_INCH
from objects.core.refusals import Refusal
from objects.models import CatalogueObject
from objects.models.locations import SEPARATOR

LEAST_MM = (45.0, 22.0)  # below this a code that a telephone reads leaves no room for words; assumed
EDGE_MM = 2.0
CODE_MM = 20.0
PHOTO_MM = 14.0
TALL_MM = 33.0  # from here there is room beneath the code for a name, a place and a line on handling; assumed
PT_PER_MM = 72 / float(MM_PER_INCH)
NUMBER_MM = (1.5, 5.3)  # least and greatest size of the object number
SMALL_NUMBER_MM = 3.2  # on a short label crowded with marks, about 9 points; assumed
ONE_LINE_MM = 3.0  # a number that would be smaller than this on one line is broken onto two
TWO_LINES = 1.7  # not 2, for the break seldom falls in the middle; assumed
BOLD = 1.12  # how much wider bold type runs; assumed
# As in print_sheets.css: the head of a tall label, the type of its words, and of those of a short one.
HEAD_MM, TALL_PT, SHORT_PT = 20.4, 7.5, 6.5
EDGES_MM = 2.2  # above and below the words
LINE = 1.2  # from line to line, in type sizes
DOT = " · "


class LayoutRefused(Refusal):
    """Labels do not fit the paper as asked; the message is a sentence for the reader."""


@dataclass(frozen=True)
class LabelLayout:
    """How a sheet is divided; margins and gaps in mm, the same left and right, above and below."""

    columns: int = 3
    rows: int = 8
    margin_x_mm: float = 7.0
    margin_y_mm: float = 12.0
    gap_x_mm: float = 2.5
    gap_y_mm: float = 0.0

    @property
    def on_a_sheet(self) -> int:
        return self.columns * self.rows

    def label_mm(self, paper: Paper) -> tuple[float, float]:
        """Width and height of one label; raises LayoutRefused for one too small to be read."""
        wide = _share(paper.width_mm, self.margin_x_mm, self.gap_x_mm, self.columns)
        high = _share(paper.height_mm, self.margin_y_mm, self.gap_y_mm, self.rows)
        for size, least, many, names in (
            (wide, LEAST_MM[0], self.columns, "columns"), (high, LEAST_MM[1], self.rows, "rows"),
        ):  # fmt: skip
            if size < least:
                room = f"{size:.1f} mm each" if size > 0 else "no room at all"
                raise LayoutRefused(
                    f"{many} {names} do not fit this paper: margins and gaps leave {room}, and a label needs "
                    f"{least:g} mm. Take fewer {names}, or smaller margins and gaps."
                )
        return wide, high


# Common practice, no source: 3 x 8 on A4; 3 x 10 on US Letter, each label 1 in high.
DEFAULT_LAYOUTS = {
    "A4": LabelLayout(),
    "letter": LabelLayout(3, 10, margin_x_mm=4.7625, margin_y_mm=12.7, gap_x_mm=3.175),
}


@dataclass(frozen=True)
class Label:
    """One label, everything in words; the object number's size so that it stays inside."""

    numbers: str
    number_pt: float
    name: str
    box: str
    location: str
    photo: str
    qr: str
    code: str
    hazards: str
    handling: tuple[str, ...]
    marks: tuple[str, ...]


def make_label(housing: Housing, label_mm: tuple[float, float], base_url: str) -> Label:
    """The label of one box. base_url: the site's address, for the code that leads to it."""
    things = contents_of(housing)
    photo = next((photo for thing in things if (photo := photo_data_uri(thing))), "")
    hazards = f"Hazard: {', '.join(named)}" if (named := hazards_of(things)) else ""
    advised = mark_names(marks_of(housing.advice))
    handling = tuple(_handling(housing, things, may_stack=MARKS["do_not_stack"] not in advised))
    marks = [mark for mark in advised if mark not in handling]
    if label_mm[1] < TALL_MM:
        handling, marks = (), most_urgent_first([*handling, *marks])
    words = _words(label_mm, listed((thing.number for thing in things), 2), photo, hazards, handling, marks)
    return Label(
        numbers=words.numbers,
        number_pt=words.number_pt,
        name=shortened(listed((thing.name for thing in things), 2), 80),
        box=housing.box_number,
        location=_nearest(things[0]),
        photo=words.photo,
        qr=qr_data_uri(label_address(housing, base_url)),
        code=housing.code or "",
        hazards=hazards,
        handling=handling,
        marks=words.marks,
    )


@dataclass(frozen=True)
class _Words:
    numbers: str
    number_pt: float
    photo: str
    marks: tuple[str, ...]


def _words(
    label_mm: tuple[float, float],
    numbers: str,
    photo: str,
    hazards: str,
    handling: Sequence[str],
    marks: Sequence[str],
) -> _Words:
    """The head of a label with as many marks as go onto it.

    On a short label marks go before the photo and before the size of the number, and neither name nor place
    is left out for them: the photo goes first, then the number becomes smaller, then marks are counted.
    """
    tries = [(photo, NUMBER_MM[1])]
    if label_mm[1] < TALL_MM:
        tries += [("", NUMBER_MM[1]), ("", SMALL_NUMBER_MM)]
    for kept, largest_mm in tries:
        wide = words_mm(label_mm[0], bool(kept))
        of_number = number_pt(numbers, wide, largest_mm)
        room = lines_for_marks(label_mm[1], wide, of_number, hazards, handling)
        shown = fitting(marks, wide, room, _type_pt(label_mm[1]))
        words = _Words(numbers, of_number, kept, tuple(shown))
        if shown == list(marks) and _lines(shown, wide, _type_pt(label_mm[1])) <= room:
            break
    return words


def most_urgent_first(words: Sequence[str]) -> list[str]:
    """Marks in their order, the weight right after the two people who lift it, a height of stacking last."""
    order = {name: place for place, name in enumerate(MARKS.values())}
    heavy = order[MARKS["two_people"]] + 0.5
    return sorted(words, key=lambda word: order.get(word, heavy if word.endswith(" kg") else len(order)))


def words_mm(label_width_mm: float, has_photo: bool) -> float:
    """Width left for words beside the code and the photo."""
    return label_width_mm - 3 * EDGE_MM - CODE_MM - (PHOTO_MM + EDGE_MM if has_photo else 0)


def number_pt(numbers: str, width_mm: float, greatest: float = NUMBER_MM[1]) -> float:
    """Type size of an object number in points: large, smaller for a long one, then for two lines."""
    least = NUMBER_MM[0]
    fitting = width_mm / (text_width(numbers, 1.0) * BOLD)
    if fitting < ONE_LINE_MM:
        fitting = min(ONE_LINE_MM, TWO_LINES * fitting)
    return int(10 * PT_PER_MM * max(least, min(greatest, fitting))) / 10


def sheets_of(labels: Sequence[Label], layout: LabelLayout, start: int) -> Iterator[list[tuple[int, Label]]]:
    """(Place on the sheet from 0, label), sheet by sheet. start: the first free place, counted from 1."""
    placed = list(enumerate(labels, start=start - 1))
    for first in range(0, start - 1 + len(labels), layout.on_a_sheet):
        on_it = [(at - first, label) for at, label in placed if 0 <= at - first < layout.on_a_sheet]
        if on_it:
            yield on_it


def places_mm(layout: LabelLayout, paper: Paper) -> list[tuple[float, float]]:
    """(Left, top) of each place, row by row."""
    wide, high = layout.label_mm(paper)
    return [
        (
            round(layout.margin_x_mm + column * (wide + layout.gap_x_mm), 3),
            round(layout.margin_y_mm + row * (high + layout.gap_y_mm), 3),
        )
        for row in range(layout.rows)
        for column in range(layout.columns)
    ]


def labels_context(
    housings: Sequence[Housing], paper: Paper, base_url: str, layout: LabelLayout, start: int = 1
) -> dict:
    """All that the label page shows; raises LayoutRefused."""
    size = layout.label_mm(paper)
    labels = [make_label(housing, size, base_url) for housing in housings]
    return {
        "pages": list(sheets_of(labels, layout, start)),
        "places": places_mm(layout, paper),
        "width_mm": round(size[0], 3),
        "height_mm": round(size[1], 3),
        "is_tall": size[1] >= TALL_MM,
        "paper": paper.key,
        "paper_mm": (paper.width_mm, paper.height_mm),
        "type_sizes": sorted({label.number_pt for label in labels}),
    }


def _handling(housing: Housing, things: list[CatalogueObject], may_stack: bool) -> Iterator[str]:
    """What to heed in handling. Source: names of the marks as in ISO 780 where it has them.

    may_stack: whether no rule forbids it, whatever the box would bear.
    """
    if any(thing.condition == CatalogueObject.Condition.FRAGILE for thing in things):
        yield MARKS["fragile"]
    if any(blank.assembly.get("seat") == "over" for blank in housing.blanks.all()):
        yield MARKS["this_way_up"]
    handling = handling_of(housing)
    if handling.two_people or (handling.gross_g is None and weight_g(things) > TWO_PEOPLE_G):
        yield MARKS["two_people"]
    if handling.lifting is not None and handling.lifting.shows_weight:
        yield f"{handling.lifting.gross_kg:.1f} kg"
    if handling.boxes_high == 1:
        yield MARKS["do_not_stack"]
    elif handling.boxes_high and may_stack:
        yield f"Stack {handling.boxes_high} high at most"


def lines_for_marks(
    height_mm: float, width_mm: float, of_number_pt: float, hazards: str, handling: Sequence[str]
) -> int:
    """Lines that advised marks may take on a label, at least one, as a hazard goes before the place's name.

    On a tall label they stand beside the code under number and hazards; on a short one all the words share
    the height: number, box, hazards, name and place, and what is said of handling is among the marks.
    """
    is_tall, size_pt = height_mm >= TALL_MM, _type_pt(height_mm)
    left_mm = (HEAD_MM if is_tall else height_mm - EDGES_MM) - of_number_pt * LINE / PT_PER_MM
    others = 1 + _lines([hazards] if hazards else [], width_mm, size_pt)
    if not is_tall:
        others += _lines(handling, width_mm, size_pt) + 2
    return max(1, int(left_mm / (size_pt * LINE / PT_PER_MM)) - others)


def fitting(marks: Sequence[str], width_mm: float, lines: int, size_pt: float) -> list[str]:
    """As many marks as go onto some lines, the most urgent first; where not all do, then how many more."""
    for kept in range(len(marks), 0, -1):
        more = len(marks) - kept
        shown = [*marks[:kept], *([f"+ {more} more"] if more else [])]
        if _lines(shown, width_mm, size_pt) <= lines:
            return shown
    return list(marks[:1])


def _lines(words: Sequence[str], width_mm: float, size_pt: float) -> int:
    """Lines that some words take in bold type, a dot between them, none of them broken unless it must be."""
    lines, at_mm = 0, width_mm
    for word in words:
        long_mm = text_width(word + DOT, size_pt / PT_PER_MM) * BOLD
        if at_mm + long_mm > width_mm:
            lines, at_mm = lines + max(1, math.ceil(long_mm / width_mm)), 0.0
        at_mm += long_mm
    return lines


def _type_pt(height_mm: float) -> float:
    return TALL_PT if height_mm >= TALL_MM else SHORT_PT


def _nearest(thing: CatalogueObject) -> str:
    """The last two steps of where an object is kept: those that are looked for in the store."""
    return SEPARATOR.join(thing.location.path.split(SEPARATOR)[-2:]) if thing.location else ""


def _share(side_mm: float, margin_mm: float, gap_mm: float, number: int) -> float:
    return (side_mm - 2 * margin_mm - (number - 1) * gap_mm) / number
