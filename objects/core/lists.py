"""Delimited lists as offices hand them over: encoding, delimiter and header found out and told."""

import csv
import io
import re
import unicodedata
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from itertools import islice

from objects.core.list_text import ListError, decode

MOST_COLUMNS = 500
DELIMITERS = {",": "comma", ";": "semicolon", "\t": "tab", "|": "vertical bar"}
_SAMPLE_ROWS, _SAMPLE_CHARACTERS = 200, 1_000_000  # looked at to find the delimiter; assumed
_MOST_NOTES = 50  # lines of odd length that are named one by one; assumed, what a person still reads


@dataclass(frozen=True)
class ReadList:
    """A list as read.

    header: the columns' names. rows: cells as they stand, each row as long as the header. line_numbers: the
    line of the file each row begins on, from 1. encoding, delimiter: as named to a person. format: delimited,
    xlsx or lido. sheet, sheets: of a spreadsheet the one that was read, and all that hold rows.
    """

    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    line_numbers: tuple[int, ...]
    encoding: str
    delimiter: str
    notes: tuple[str, ...] = ()
    format: str = "delimited"
    sheet: str = ""
    sheets: tuple[str, ...] = ()


@dataclass
class _Rows:
    """Rows gathered under a header, and the notes about those of another length."""

    header: tuple[str, ...]
    rows: list[tuple[str, ...]] = field(default_factory=list)
    lines: list[int] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)

    def add(self, line: int, cells: Sequence[str]) -> None:
        width = len(self.header)
        if len(cells) < width:
            self.notes.append(
                f"Line {line} has {len(cells)} cells instead of {width}; the missing ones were left blank."
            )
        elif any(cell.strip() for cell in cells[width:]):
            self.notes.append(
                f"Line {line} has {len(cells)} cells instead of {width}; what is beyond was left out."
            )
        self.rows.append(tuple((*cells, *[""] * (width - len(cells)))[:width]))
        self.lines.append(line)

    @property
    def few_notes(self) -> list[str]:
        rest = len(self.notes) - _MOST_NOTES
        more = [f"{rest} more lines have too many or too few cells."] if rest > 0 else []
        return self.notes[:_MOST_NOTES] + more


def read_list(data: bytes, *, max_rows: int = 200_000) -> ReadList:
    """Read a delimited list.

    data: the file. max_rows: the most rows below the header.
    Returns every cell as it stands, nothing guessed. Blank lines are left out; a row too short is filled up
    and one too long cut, each with a note that tells its line.
    Raises ListError when the file is empty, no list, or has no usable header, no rows, or too many of either.
    Source: RFC 4180 for quoting; the delimiters besides the comma are common practice, no source.
    """
    text, encoding, notes = decode(data)
    text, lines_before, announced = _without_announcement(text)
    delimiter = announced or _delimiter(text)
    gathered: _Rows | None = None
    for line, cells in _records(text, delimiter, lines_before):
        if gathered is None:
            if _is_title(cells):
                notes.append(
                    f"Line {line}, “{''.join(cells).strip()[:80]}”, was taken as a title and left out."
                )
            else:
                gathered = _Rows(_checked_header(cells, notes))
        elif len(gathered.rows) == max_rows:
            raise ListError(f"The list has more than {max_rows} rows. Split it and take in the parts.")
        else:
            gathered.add(line, cells)
    if gathered is None:
        raise ListError("No line with column headings was found. The first line must name the columns.")
    if not gathered.rows:
        raise ListError("The list holds only headings and no rows. Check that the right file was chosen.")
    return ReadList(
        gathered.header,
        tuple(gathered.rows),
        tuple(gathered.lines),
        encoding,
        DELIMITERS[delimiter],
        (*notes, *gathered.few_notes),
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
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    start = lines_before + 1
    try:
        for cells in reader:
            line, start = start, lines_before + reader.line_num + 1
            if any(cell.strip() for cell in cells):
                yield line, cells
    except csv.Error as error:
        raise ListError(_why_unreadable(str(error), start)) from error


def _why_unreadable(error: str, line: int) -> str:
    if "unexpected end" in error or "field larger" in error:
        return (
            f"A quotation mark opens a cell in the row on line {line} and is never closed. "
            "Close it, or save the list again as CSV."
        )
    return (
        f"The row on line {line} has a quotation mark inside a cell that is in quotation marks. "
        "Save the list again as CSV, so that such marks are doubled."
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
            "Only one column was found. Separate the columns by commas, semicolons, tabs or vertical bars; "
            "saving the list as CSV does so."
        )
    return scores[max(scores)]


def _widths(sample: str, delimiter: str) -> list[int]:
    """How many cells each of the first rows has, up to one that cannot be read."""
    widths: list[int] = []
    reader = csv.reader(io.StringIO(sample, newline=""), delimiter=delimiter)
    with suppress(csv.Error):
        widths.extend(len(cells) for cells in islice(filter(any, reader), _SAMPLE_ROWS))
    return widths


def _is_title(cells: Sequence[str]) -> bool:
    return sum(bool(cell.strip()) for cell in cells) == 1


def _checked_header(cells: Sequence[str], notes: list[str]) -> tuple[str, ...]:
    names = tuple(" ".join(cell.split()) for cell in cells)
    if len(names) > MOST_COLUMNS:
        raise ListError(
            f"The list has {len(names)} columns; at most {MOST_COLUMNS} can be read. Leave some out."
        )
    counts = Counter(name.casefold() for name in names if name)
    twice = [
        name for place, name in enumerate(names) if counts[name.casefold()] > 1 and name not in names[:place]
    ]
    if twice:
        listed = ", ".join(f"“{name}”" for name in twice)
        raise ListError(f"Several columns have the same heading: {listed}. Give each its own.")
    unnamed = [str(place) for place, name in enumerate(names, 1) if not name]
    if unnamed:
        notes.append(f"Columns without a heading cannot be used: {', '.join(unnamed)}.")
    figures = [name for name in names if re.fullmatch(r"[\d\s.,/-]+", name)]
    if figures:
        notes.append(f"The heading “{figures[0]}” looks like a value. Check that the list names its columns.")
    return names


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
