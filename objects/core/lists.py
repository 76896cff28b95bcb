"""Delimited lists as offices hand them over: encoding, delimiter and header found out and told."""

import csv
import io
import re
import unicodedata
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import suppress
from itertools import islice

from objects.core.cells import plain_cell
from objects.core.list_rows import ListRows, ReadList
from objects.core.list_text import ListError, decode
from objects.core.words import noted, say

__all__ = ["ListError", "ReadList", "match_columns", "plain_heading", "read_list"]

DELIMITERS = {
    ",": noted("comma"),
    ";": noted("semicolon"),
    "\t": noted("tab"),
    "|": noted("vertical bar"),
}
_SAMPLE_ROWS, _SAMPLE_CHARACTERS = 200, 1_000_000  # looked at to find the delimiter; assumed
_LONGEST_CELL = 131_072  # characters; what Python's csv module takes unless told otherwise
_MOST_LINES = 2_000_000  # ten to each of the most rows; assumed
_NEUTRAL_CELL = re.compile("'[=+\\-@\t\r]")


def read_list(data: bytes, *, max_rows: int = 200_000) -> ReadList:
    """Read a delimited list.

    data: the file. max_rows: the most rows below the header.
    Returns every cell as it stands, nothing guessed; only an apostrophe that keeps a spreadsheet from running
    a cell is taken off. Blank lines are left out; a row too short is filled up and one too long cut, each
    with a note that tells its line.
    Raises ListError when the file is empty, no list, or has no usable header, no rows, or too many of either.
    Source: RFC 4180 for quoting; the delimiters besides the comma are common practice, no source.
    """
    text, encoding, notes = decode(data)
    if max(text.count("\n"), text.count("\r")) > _MOST_LINES:
        raise ListError(
            say(
                "The file has more than {most_lines:,} lines. Take the blank ones out, or split the list.",
                most_lines=_MOST_LINES,
            )
        )
    text, lines_before, announced = _without_announcement(text)
    delimiter = announced or _delimiter(text)
    gathered = ListRows("Line", lambda place: str(place + 1), notes)
    gathered.gather(_records(text, delimiter, lines_before), max_rows)
    return ReadList(
        gathered.header,
        tuple(gathered.rows),
        tuple(gathered.lines),
        encoding,
        DELIMITERS[delimiter],
        tuple(gathered.notes),
    )


def _without_announcement(text: str) -> tuple[str, int, str | None]:
    """The text below a first line such as sep=; by which spreadsheets tell the delimiter."""
    first, _, rest = text.partition("\n")
    announced = first[4:].strip("\r ")
    if first[:4].lower() == "sep=" and announced in DELIMITERS:
        return rest, 1, announced
    return text, 0, None


def _records(text: str, delimiter: str, lines_before: int) -> Iterator[tuple[int, list[str]]]:
    """Each row that is not blank with the line it begins on; a quoted cell may run over several lines."""
    has_neutral_cells = _NEUTRAL_CELL.search(text) is not None
    lines = _Lines(text, delimiter, lines_before)
    reader = csv.reader(lines, delimiter=delimiter, strict=True)
    start = lines_before + 1
    try:
        for cells in reader:
            line, start = start, lines_before + reader.line_num + 1
            if not any(map(str.strip, cells)):
                continue
            if has_neutral_cells:
                cells = [plain_cell(cell) if cell[:1] == "'" else cell for cell in cells]
            yield line, cells
    except csv.Error as error:
        raise ListError(_why_unreadable(str(error), start, lines.last)) from error


class _Lines:
    """The lines of a text one by one; one that no list has is refused before its cells are made."""

    def __init__(self, text: str, delimiter: str, lines_before: int) -> None:
        self.lines, self.delimiter = io.StringIO(text, newline=""), delimiter
        self.number, self.last = lines_before, ""

    def __iter__(self) -> "_Lines":
        return self

    def __next__(self) -> str:
        self.last = next(self.lines)
        self.number += 1
        if len(self.last) > _LONGEST_CELL and self.last.count(self.delimiter) > _LONGEST_CELL:
            raise ListError(
                say(
                    "Line {number} is split into more than {longest_cell:,} cells; no list has as many. "
                    "Save the list as CSV again.",
                    number=self.number,
                    longest_cell=_LONGEST_CELL,
                )
            )
        return self.last


def _why_unreadable(error: str, line: int, last: str) -> str:
    is_too_long = "field larger" in error
    if is_too_long and '"' not in last and len(last) > _LONGEST_CELL:
        return say(
            "A cell in the row on line {line} has more than {longest_cell:,} characters. "
            "Shorten it, or check that the file is a list.",
            line=line,
            longest_cell=_LONGEST_CELL,
        )
    if is_too_long or "unexpected end" in error:
        return say(
            "A quotation mark opens a cell in the row on line {line} and is never closed. Close "
            "it, or save the list again as CSV.",
            line=line,
        )
    return say(
        "The row on line {line} has a quotation mark inside a cell that is in quotation "
        "marks. Save the list again as CSV, so that such marks are doubled.",
        line=line,
    )


def _delimiter(text: str) -> str:
    """The delimiter that splits most rows into as many cells as the headings; of equals the one with more."""
    scores: dict[tuple[bool, float, int], str] = {}
    for delimiter in DELIMITERS:
        widths = _widths(text[:_SAMPLE_CHARACTERS], delimiter)
        if not widths:
            return delimiter  # the first row cannot be read; reading it will say why
        width, count = Counter(widths).most_common(1)[0]
        if width > 1:
            scores.setdefault((widths[0] == width, count / len(widths), width), delimiter)
    if not scores:
        raise ListError(
            say(
                "Only one column was found. Separate the columns by commas, semicolons, tabs or vertical "
                "bars; saving the list as CSV does so."
            )
        )
    return scores[max(scores)]


def _widths(sample: str, delimiter: str) -> list[int]:
    """How many cells each of the first rows has, up to one that cannot be read."""
    widths: list[int] = []
    reader = csv.reader(io.StringIO(sample, newline=""), delimiter=delimiter)
    with suppress(csv.Error):
        widths.extend(len(cells) for cells in islice(filter(any, reader), _SAMPLE_ROWS))
    return widths


def match_columns(header: Sequence[str], fields: Mapping[str, Sequence[str]]) -> dict[str, str]:
    """Which column means which of our fields, by name.

    header: the list's columns. fields: our field to the names it goes by, the best first. Capitals, accents,
    signs and spaces do not count; where a whole heading is no such name, what it says in brackets is left
    out, as in Dimensions (cm). Returns field to column; fields without a column are left out, and no column
    is taken twice. A field's better names are tried before any field's lesser ones.
    """
    matched: dict[str, str] = {}
    ranks = max((len(names) for names in fields.values()), default=0) + 1
    for columns in (_by_name(header), _by_name(header, _without_brackets)):
        for rank in range(ranks):
            for field_name, names in fields.items():
                name = (field_name, *names)[rank : rank + 1]
                column = columns.get(plain_heading(name[0])) if name else None
                if column and field_name not in matched and column not in matched.values():
                    matched[field_name] = column
    return matched


def _by_name(header: Sequence[str], shorten: Callable[[str], str] = str) -> dict[str, str]:
    """Columns by their plain name; of several with the same the first."""
    return {
        plain_heading(shorten(column)): column
        for column in reversed(header)
        if plain_heading(shorten(column))
    }


def _without_brackets(heading: str) -> str:
    return re.sub(r"[(\[].*?[)\]]", " ", heading)


def plain_heading(name: str) -> str:
    """A heading without capitals, accents, signs and doubled spaces."""
    letters = unicodedata.normalize("NFKD", name.casefold())
    unaccented = "".join(letter for letter in letters if not unicodedata.combining(letter))
    return re.sub(r"[\W_]+", " ", unaccented).strip()
