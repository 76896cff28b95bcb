"""Delimited lists as offices hand them over: encoding, delimiter and header found out and told."""

import csv
import io
import re
import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

MOST_COLUMNS = 500
DELIMITERS = {",": "comma", ";": "semicolon", "\t": "tab", "|": "vertical bar"}
_SIGNATURES = {
    b"PK\x03\x04": "a spreadsheet or ZIP file",
    b"%PDF": "a PDF",
    b"\x89PNG": "a picture",
    b"\xff\xd8\xff": "a picture",
    b"\xd0\xcf\x11\xe0": "an old spreadsheet or document file",
}


class ListError(ValueError):
    """What was handed in is not a usable list; the message is a sentence for the reader."""


@dataclass(frozen=True)
class ReadList:
    """A list as read: header, rows of equal length, the line each began on, and how it was read."""

    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    line_numbers: tuple[int, ...]
    encoding: str
    delimiter: str
    notes: tuple[str, ...] = ()


def read_list(data: bytes, *, max_rows: int = 200_000) -> ReadList:
    """Read a delimited list.

    data: the file. max_rows: most rows taken.
    Returns every cell as text, nothing guessed; short rows are filled up and long ones cut, with a note.
    Raises ListError when it is empty, not a list, has no usable header or too many columns or rows.
    Source: RFC 4180 for quoting.
    """
    text, encoding = _decode(data)
    delimiter = _delimiter(text)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter)
    header: tuple[str, ...] | None = None
    rows: list[tuple[str, ...]] = []
    lines: list[int] = []
    notes: list[str] = []
    start = 1
    try:
        for cells in reader:
            line, start = start, reader.line_num + 1
            if not any(cell.strip() for cell in cells):
                continue
            if header is None:
                header = _checked_header(cells)
                continue
            if len(rows) == max_rows:
                raise ListError(f"The list has more than {max_rows} rows. Split it and import the parts.")
            rows.append(_fitted(cells, len(header), line, notes))
            lines.append(line)
    except csv.Error as error:
        raise ListError(
            f"Line {reader.line_num} cannot be read ({error}). Save the list again as CSV."
        ) from error
    if header is None or not rows:
        raise ListError("The list holds no rows below its header. Check that the right file was chosen.")
    return ReadList(header, tuple(rows), tuple(lines), encoding, DELIMITERS[delimiter], tuple(notes))


def _decode(data: bytes) -> tuple[str, str]:
    if not data.strip():
        raise ListError("The file is empty. Choose a list with a header line and at least one row.")
    for signature, what in _SIGNATURES.items():
        if data.startswith(signature):
            raise ListError(f"This is {what}, not a text list. Open it and save it as CSV, then choose that.")
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        try:
            return data.decode("utf-16"), "UTF-16"
        except UnicodeDecodeError as error:
            raise ListError(
                "The file starts like UTF-16 text but is damaged. Save it again as CSV."
            ) from error
    if b"\x00" in data:
        raise ListError("The file holds NUL bytes, so it is not a text list. Save it as CSV in UTF-8.")
    try:
        return data.decode("utf-8-sig"), "UTF-8"
    except UnicodeDecodeError:
        text = data.decode("cp1252", errors="replace")
    strange = sum(unicodedata.category(c) == "Cc" and c not in "\r\n\t" for c in text) + text.count("\ufffd")
    if strange > len(text) / 100:
        raise ListError("This does not look like a text list. Save it as CSV and choose that file.")
    return text, "Windows-1252"


def _delimiter(text: str) -> str:
    """The delimiter that splits the first rows into the same number of columns, the more the better."""
    sample = io.StringIO("".join(text.splitlines(keepends=True)[:200]), newline="").getvalue()
    scores: dict[str, tuple[float, int]] = {}
    for delimiter in DELIMITERS:
        try:
            widths = [
                len(cells)
                for cells in csv.reader(io.StringIO(sample, newline=""), delimiter=delimiter)
                if cells
            ]
        except csv.Error:
            continue
        if widths and widths[0] > 1:
            scores[delimiter] = (sum(width == widths[0] for width in widths) / len(widths), widths[0])
    if not scores:
        raise ListError(
            "Only one column was found. Separate columns by commas, semicolons, tabs or vertical bars."
        )
    return max(scores, key=lambda delimiter: scores[delimiter])


def _checked_header(cells: Sequence[str]) -> tuple[str, ...]:
    names = tuple(" ".join(cell.split()) for cell in cells)
    if len(names) > MOST_COLUMNS:
        raise ListError(
            f"The list has {len(names)} columns; at most {MOST_COLUMNS} can be read. Leave some out."
        )
    twice = next((name for name in names if name and names.count(name) > 1), None)
    if twice:
        raise ListError(f"Two columns are both called “{twice}”. Rename one of them in the list.")
    return names


def _fitted(cells: Sequence[str], width: int, line: int, notes: list[str]) -> tuple[str, ...]:
    if len(cells) < width:
        notes.append(
            f"Line {line} has {len(cells)} cells instead of {width}; the missing ones were left blank."
        )
    elif any(cell.strip() for cell in cells[width:]):
        notes.append(f"Line {line} has {len(cells)} cells instead of {width}; what is beyond was left out.")
    return tuple(cell.strip() for cell in (*cells, *[""] * width)[:width])


def match_columns(header: Sequence[str], fields: Mapping[str, Sequence[str]]) -> dict[str, str]:
    """Which column means which of our fields, by name.

    header: the list's columns. fields: our field to the names it goes by. Returns field to column; fields
    without a column are left out, and no column is taken twice.
    """
    plain = {_plain(column): column for column in reversed(header) if _plain(column)}
    matched: dict[str, str] = {}
    for field, names in fields.items():
        for name in (field, *names):
            column = plain.get(_plain(name))
            if column and column not in matched.values():
                matched[field] = column
                break
    return matched


def _plain(name: str) -> str:
    return re.sub(r"[^a-z0-9]+", " ", name.casefold()).strip()
