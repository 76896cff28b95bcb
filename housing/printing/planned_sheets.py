"""The sheets of a cutting plan as they are shown: drawn, their cuts in words, and what lies on each."""

from collections.abc import Sequence
from dataclasses import dataclass
from string import ascii_uppercase

from django.urls import reverse
from django.utils.safestring import mark_safe

from housing.core.drawing.cut_order import CutStep, cut_steps
from housing.core.drawing.layout_svg import layout_svg
from housing.models import PlannedBlank, PlannedSheet
from housing.queries.plans import corners_of_hosts, cut_sheet_of, label_of, placements_of
from objects.core.lengths import format_length
from objects.core.words import DECIMAL_SIGNS, say, say_count, spoken
from objects.readers import Reader

ROOM_MM = (180, 130)  # for the drawing of one sheet
# Marks are told to half the step of other lengths: rounded by 1/64 in at most, neighbours stay within a gap
# of 1 mm. A rule that shows thirty-seconds is common practice, no source.
MARK_STEP = {"in": 1 / 32}


@dataclass(frozen=True)
class Piece:
    """A blank on a sheet: its letter in a drawing that several sheets share, its name, its object's page."""

    letter: str
    name: str
    url: str


@dataclass(frozen=True)
class DrawnSheets:
    """Sheets that are cut alike, one or more: their one drawing and, sheet by sheet, the blanks on it."""

    sheets: list[tuple[PlannedSheet, list[Piece]]]
    title: str
    svg: str
    caption: str
    steps: list[CutStep]
    rack: list[str]

    @property
    def only(self) -> PlannedSheet | None:
        """The sheet, where there is but one."""
        return self.sheets[0][0] if len(self.sheets) == 1 else None

    @property
    def is_cut_edge_to_edge(self) -> bool:
        """Whether cuts are listed, or the blanks lie so that each is cut round by itself."""
        return any(not cut.get("is_trim") and not cut.get("host") for cut in self.sheets[0][0].cuts)

    @property
    def pieces(self) -> list[tuple[str, str]]:
        """Name and page of each blank on the first sheet."""
        return [(piece.name, piece.url) for piece in self.sheets[0][1]]


def drawn_sheets(sheets: Sequence[PlannedSheet], reader: Reader) -> DrawnSheets:
    """Draw sheets that are cut alike. One alone carries the names of its blanks, several carry letters."""
    first, is_one = sheets[0], len(sheets) == 1
    placed = [placements_of(sheet) for sheet in sheets]
    letters = [""] * len(placed[0]) if is_one else list(map(letter_of, range(len(placed[0]))))
    pieces = [
        [Piece(letter, label_of(blank), _address(blank)) for letter, blank in zip(letters, row, strict=True)]
        for row in placed
    ]
    keys = [str(blank.pk) for blank in placed[0]]
    names = [piece.name for piece in pieces[0]] if is_one else _shared_names(letters, placed)
    labels = dict(zip(keys, names, strict=True))
    links = dict(zip(keys, (piece.url for piece in pieces[0]), strict=True)) if is_one else {}
    made, shape = cut_sheet_of(first)
    corners = corners_of_hosts(first)
    title = (
        say("Sheet {number}", number=first.position)
        if is_one
        else say("{count} sheets alike: {numbers}", count=len(sheets), numbers=_numbers(sheets))
    )
    svg = layout_svg(
        made,
        shape,
        labels=labels,
        format_length=reader.length,
        paper_width_mm=ROOM_MM[0],
        paper_height_mm=ROOM_MM[1],
        corners=corners,
        links=links,
        title=f"{title}, {first.board}",
        direction="flutes" if first.board.to_core().is_fluted else "grain",
    )
    steps = cut_steps(
        made,
        shape,
        labels=labels,
        write=lambda lengths: marks_in_a_row(lengths, reader),
        write_size=lambda sides: unbroken(reader.size(sides)),
        corners=corners,
        kerf_mm=float(first.plan.kerf_mm),
    )
    rack = [unbroken(reader.size((offcut.along_mm, offcut.across_mm))) for offcut in made.offcuts]
    sheets_with_pieces = list(zip(sheets, pieces, strict=True))
    return DrawnSheets(sheets_with_pieces, title, mark_safe(svg), _caption(sheets, reader), steps, rack)


def _numbers(sheets: Sequence[PlannedSheet]) -> str:
    """Their numbers in order, three or more in a row as the first and the last: 1 to 4, 7, 9."""
    runs: list[list[int]] = []
    for number in sorted(sheet.position for sheet in sheets):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(
        say("{first} to {last}", first=run[0], last=run[-1]) if len(run) > 2 else ", ".join(map(str, run))
        for run in runs
    )


def _caption(sheets: Sequence[PlannedSheet], reader: Reader) -> str:
    """Board, size and, of offcuts, which they are."""
    first = sheets[0]
    told = {
        "board": first.board,
        "along": reader.length(first.along_mm),
        "across": reader.length(first.across_mm),
    }
    offcuts = [str(sheet.offcut_id) for sheet in sheets if sheet.offcut_id]
    if not offcuts:
        return say("{board}: {along} along by {across} across", **told)
    return say_count(
        "{board}: {along} along by {across} across, from offcut {numbers}",
        "{board}: {along} along by {across} across, from offcuts {numbers}",
        len(offcuts),
        numbers=", ".join(offcuts),
        **told,
    )


def _shared_names(letters: Sequence[str], placed: Sequence[Sequence[PlannedBlank]]) -> list[str]:
    """What is written on the blanks of sheets alike: a letter, and the part where it is the same on all."""
    names = []
    for letter, same in zip(letters, zip(*placed, strict=True), strict=True):
        parts = {say(blank.blank.part.replace("_", " ")) for blank in same}
        names.append(f"{letter} {parts.pop()}" if len(parts) == 1 else letter)
    return names


def letter_of(number: int) -> str:
    """A to Z, then AA, AB and so on."""
    more, last = divmod(number, len(ascii_uppercase))
    return (letter_of(more - 1) if more else "") + ascii_uppercase[last]


def mark(length_mm: float, reader: Reader) -> str:
    """A mark without its unit, such as 4 3/4."""
    return unbroken(format_length(length_mm, reader.unit, MARK_STEP.get(reader.unit), with_unit=False))


def marks_in_a_row(lengths: Sequence[float], reader: Reader) -> str:
    """Several marks with the unit once, such as 4 3/4, 10 1/4, 15 3/4 in."""
    between = ", " if DECIMAL_SIGNS[spoken()] == "." else "; "  # beside commas in the figures
    return f"{between.join(mark(mm, reader) for mm in lengths)}\N{NO-BREAK SPACE}{reader.unit}"


def unbroken(length: str) -> str:
    """A length that is never broken between two rows."""
    return length.replace(" ", "\N{NO-BREAK SPACE}")


def _address(placed: PlannedBlank) -> str:
    """The page of the object that a blank is for, of the first where there are several."""
    ties = placed.blank.housing.contents.all()
    return reverse("housing:object-detail", args=[ties[0].object_id])
