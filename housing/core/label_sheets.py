"""How a sheet is divided into labels: described by what a ruler tells, complete and without contradiction."""

from collections.abc import Iterator
from dataclasses import dataclass

from housing.core.errors import EnclosureError
from objects.core.words import say

LEAST_MM = (20.0, 8.0)  # a smaller label does not hold an object number that can be read; assumed
LARGEST_PAGE_MM = 1200.0  # wider paper goes into no printer of an office; assumed
MOST_LABELS = 1000  # on one sheet; assumed
READS_MM = 0.5  # how exactly a ruler is read: figures that disagree by less are taken as one; assumed
MOST_SHIFT_MM = 20.0  # no printer shifts further; assumed


class LayoutRefused(EnclosureError):
    """A label sheet cannot be as it is described; the message is a sentence for the reader."""


@dataclass(frozen=True)
class LabelLayout:
    """A sheet of equal labels, all in mm: its page, and the first label's place, the sizes and the gaps.

    offset: by how much to move all that is printed, to the right and down, for a printer that shifts.
    Raises LayoutRefused for labels that do not lie on the page or are too small.
    """

    page_width_mm: float
    page_height_mm: float
    columns: int
    rows: int
    label_width_mm: float
    label_height_mm: float
    left_mm: float = 0.0
    top_mm: float = 0.0
    gap_x_mm: float = 0.0
    gap_y_mm: float = 0.0
    offset_x_mm: float = 0.0
    offset_y_mm: float = 0.0

    def __post_init__(self) -> None:
        _refuse_page(self.page_width_mm, self.page_height_mm)
        _refuse_numbers(self.columns, self.rows)
        _refuse_small(self.label_width_mm, self.label_height_mm)
        if min(self.left_mm, self.top_mm, self.gap_x_mm, self.gap_y_mm) < 0:
            raise LayoutRefused(say("A margin or a gap is negative. Measure it again; it is 0 or more."))
        for over in (
            _too_wide(self.page_width_mm - self.left_mm, self.columns, self.label_width_mm, self.gap_x_mm),
            _too_high(self.page_height_mm - self.top_mm, self.rows, self.label_height_mm, self.gap_y_mm),
        ):
            if over:
                raise LayoutRefused(over)
        if max(abs(self.offset_x_mm), abs(self.offset_y_mm)) > MOST_SHIFT_MM:
            raise LayoutRefused(
                say(
                    "A shift of more than {most:g} mm is no printer's. Look whether the right sheet "
                    "lies in it.",
                    most=MOST_SHIFT_MM,
                )
            )

    @property
    def on_a_sheet(self) -> int:
        return self.columns * self.rows

    @property
    def right_mm(self) -> float:
        """What is left to the right of the last column."""
        return self.page_width_mm - self.left_mm - _run(self.columns, self.label_width_mm, self.gap_x_mm)

    @property
    def bottom_mm(self) -> float:
        """What is left beneath the last row."""
        return self.page_height_mm - self.top_mm - _run(self.rows, self.label_height_mm, self.gap_y_mm)

    def places_mm(self, *, shifted: bool = True) -> list[tuple[float, float]]:
        """(Left, top) of each label on the page, row by row; where it is printed, or where it lies."""
        x, y = (self.offset_x_mm, self.offset_y_mm) if shifted else (0.0, 0.0)
        return [
            (
                round(self.left_mm + x + column * (self.label_width_mm + self.gap_x_mm), 3),
                round(self.top_mm + y + row * (self.label_height_mm + self.gap_y_mm), 3),
            )
            for row in range(self.rows)
            for column in range(self.columns)
        ]


@dataclass(frozen=True)
class Along:
    """What a ruler told along one side of the sheet, mm; None where it was not measured.

    page: the whole side. number: of labels along it. before, after: margins. size: of a label. gap: between
    two labels.
    """

    page: float
    number: int
    before: float | None
    after: float | None
    size: float | None
    gap: float | None


def complete(along: Along, *, is_width: bool) -> tuple[float, float, float]:
    """(Margin before, size of a label, gap between two), mm; what was not measured follows from the rest.

    is_width: whether the side goes across, for the words. A gap that is not told is 0 where a size could not
    be told without it, else what the sizes and margins leave; margins that are not told are equal.
    Raises LayoutRefused where the figures contradict one another by more than READS_MM, or nothing is left.
    Source: margin + number x size + (number - 1) x gap + margin = side; arithmetic.
    """
    n, before, after, size, gap = along.number, along.before, along.after, along.size, along.gap
    _refuse_numbers(n, 1)
    if size is None:
        before, after, gap = _margins(before, after), _margins(after, before), gap or 0.0
        size = (along.page - before - after - (n - 1) * gap) / n
        least = LEAST_MM[0 if is_width else 1]
        if size < least:
            raise LayoutRefused(_no_room(size, n, least, is_width))
        return before, size, gap
    if gap is None:
        gap = 0.0
        if n > 1 and before is not None and after is not None:
            gap = (along.page - before - after - n * size) / (n - 1)
            gap = 0.0 if abs(gap) * (n - 1) <= READS_MM else gap
    rest = along.page - n * size - (n - 1) * max(gap, 0.0)
    if gap < 0 or rest < -1e-6:
        over = (_too_wide if is_width else _too_high)(along.page - (before or 0.0), n, size, max(gap, 0.0))
        raise LayoutRefused(over or _adds_up(along, before, after, size, 0.0, is_width))
    if before is None:
        before = rest - after if after is not None else rest / 2
    if before < -1e-6 or (after is not None and abs(rest - before - after) > READS_MM):
        raise LayoutRefused(_adds_up(along, max(before, 0.0), after, size, gap, is_width))
    return max(before, 0.0), size, gap


def label_numbers(layout: LabelLayout, number: int, start: int = 1) -> Iterator[list[tuple[int, int]]]:
    """(Place on the sheet from 0, which label from 0) of so many labels, sheet by sheet.

    start: the first free place of the first sheet, counted from 1. Raises LayoutRefused past its end.
    """
    if not 1 <= start <= layout.on_a_sheet:
        raise LayoutRefused(past_the_end(layout, start))
    for first in range(0, start - 1 + number, layout.on_a_sheet):
        places = range(max(first, start - 1), min(first + layout.on_a_sheet, start - 1 + number))
        if places:
            yield [(place - first, place - start + 1) for place in places]


def past_the_end(layout: LabelLayout, start: int) -> str:
    """That the first free place is not on the sheet."""
    return say(
        "A sheet has {number} labels; {start} is past its end. Take a lower.",
        number=layout.on_a_sheet,
        start=start,
    )


def _margins(one: float | None, other: float | None) -> float:
    """A margin; as wide as the other one where it was not measured, and 0 where neither was."""
    return one if one is not None else other or 0.0


def _run(number: int, size: float, gap: float) -> float:
    return number * size + (number - 1) * gap


def _refuse_page(wide: float, high: float) -> None:
    if not (LEAST_MM[0] <= wide <= LARGEST_PAGE_MM and LEAST_MM[1] <= high <= LARGEST_PAGE_MM):
        raise LayoutRefused(
            say(
                "A page of {wide:.1f} mm × {high:.1f} mm is no label sheet; it is at least {least_wide:g} mm "
                "× {least_high:g} mm, and at most {most:g} mm long. Check the figures and the unit.",
                wide=wide,
                high=high,
                least_wide=LEAST_MM[0],
                least_high=LEAST_MM[1],
                most=LARGEST_PAGE_MM,
            )  # fmt: skip
        )


def _refuse_numbers(columns: int, rows: int) -> None:
    if min(columns, rows) < 1:
        raise LayoutRefused(say("A sheet has at least 1 label across and 1 down. Count them again."))
    if columns * rows > MOST_LABELS:
        raise LayoutRefused(
            say(
                "{number} labels on a sheet are too many; at most {most} can be printed.",
                number=columns * rows,
                most=MOST_LABELS,
            )
        )


def _refuse_small(wide: float, high: float) -> None:
    if wide < LEAST_MM[0] - 1e-6 or high < LEAST_MM[1] - 1e-6:
        raise LayoutRefused(
            say(
                "A label of {wide:.1f} mm × {high:.1f} mm is too small to be read; it needs {least_wide:g} "
                "mm × {least_high:g} mm.",
                wide=wide,
                high=high,
                least_wide=LEAST_MM[0],
                least_high=LEAST_MM[1],
            )
        )


def _no_room(size: float, number: int, least: float, is_width: bool) -> str:
    if size <= 0:
        message = (
            say("{number} labels across do not fit: margins and gaps leave no room at all.", number=number)
            if is_width
            else say("{number} labels down do not fit: margins and gaps leave no room at all.", number=number)
        )
    elif is_width:
        message = say(
            "{number} labels across do not fit: margins and gaps leave {size:.1f} mm for each, and a label "
            "needs {least:g} mm.",
            number=number, size=size, least=least,
        )  # fmt: skip
    else:
        message = say(
            "{number} labels down do not fit: margins and gaps leave {size:.1f} mm for each, and a label "
            "needs {least:g} mm.",
            number=number, size=size, least=least,
        )  # fmt: skip
    return message + " " + say("Take fewer labels, or smaller margins and gaps.")


def _too_wide(room: float, number: int, size: float, gap: float) -> str:
    run = _run(number, size, gap)
    if run - room <= 1e-6:
        return ""
    return say(
        "The labels are {over:.1f} mm too wide for the page: {number} across with their gaps take {run:.1f} "
        "mm, and {room:.1f} mm are there beside the left margin. Measure again, or take fewer.",
        over=run - room, number=number, run=run, room=max(room, 0.0),
    )  # fmt: skip


def _too_high(room: float, number: int, size: float, gap: float) -> str:
    run = _run(number, size, gap)
    if run - room <= 1e-6:
        return ""
    return say(
        "The labels are {over:.1f} mm too high for the page: {number} down with their gaps take {run:.1f} "
        "mm, and {room:.1f} mm are there beneath the upper margin. Measure again, or take fewer.",
        over=run - room, number=number, run=run, room=max(room, 0.0),
    )  # fmt: skip


def _adds_up(
    along: Along, before: float | None, after: float | None, size: float, gap: float, is_width: bool
) -> str:
    """That the figures do not add up to the side, and by how much."""
    total = (before or 0.0) + (after or 0.0) + _run(along.number, size, gap)
    off = total - along.page
    values = {"total": total, "page": along.page, "off": abs(off)}
    if is_width and off > 0:
        message = say(
            "Margins, labels and gaps across add up to {total:.1f} mm, {off:.1f} mm more than the page's "
            "{page:.1f} mm.", **values
        )  # fmt: skip
    elif is_width:
        message = say(
            "Margins, labels and gaps across add up to {total:.1f} mm, {off:.1f} mm less than the page's "
            "{page:.1f} mm.", **values
        )  # fmt: skip
    elif off > 0:
        message = say(
            "Margins, labels and gaps down add up to {total:.1f} mm, {off:.1f} mm more than the page's "
            "{page:.1f} mm.", **values
        )  # fmt: skip
    else:
        message = say(
            "Margins, labels and gaps down add up to {total:.1f} mm, {off:.1f} mm less than the page's "
            "{page:.1f} mm.", **values
        )  # fmt: skip
    return (
        message + " " + say("Measure again, or leave one of the figures blank: it follows from the others.")
    )


# Common practice, no source: sheets as they are bought in many places, told by their measures alone, and two
# rolls of label printers. US Letter is 8 1/2 x 11 in, A4 is 210 x 297 mm (ISO 216).
A4_MM, LETTER_MM = (210.0, 297.0), (215.9, 279.4)
USUAL: tuple[tuple[str, LabelLayout], ...] = (
    ("3 × 8 on A4", LabelLayout(*A4_MM, 3, 8, 63.6667, 34.125, 7.0, 12.0, 2.5)),
    ("2 × 7 on A4", LabelLayout(*A4_MM, 2, 7, 99.1, 38.1, 4.65, 15.15, 2.5)),
    ("2 × 4 on A4", LabelLayout(*A4_MM, 2, 4, 99.1, 67.7, 4.65, 13.1, 2.5)),
    ("3 × 10 on Letter", LabelLayout(*LETTER_MM, 3, 10, 66.675, 25.4, 4.7625, 12.7, 3.175)),
    ("2 × 5 on Letter", LabelLayout(*LETTER_MM, 2, 5, 101.6, 50.8, 3.96875, 12.7, 4.7625)),
    ("60 × 30 mm, one a page", LabelLayout(60.0, 30.0, 1, 1, 60.0, 30.0)),
    ("100 × 50 mm, one a page", LabelLayout(100.0, 50.0, 1, 1, 100.0, 50.0)),
)
