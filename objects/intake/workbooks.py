"""What the parts of a spreadsheet say before its cells are read: its sheets, and how far they reach."""

import posixpath
import re
from collections.abc import Iterator
from dataclasses import dataclass

from objects.core.list_rows import MOST_CELLS
from objects.core.list_text import ListError
from objects.core.words import say
from objects.intake.packages import DAMAGED
from objects.intake.safe_xml import events, forget

WORKBOOK, RELATIONS = "xl/workbook.xml", "xl/_rels/workbook.xml.rels"
MOST_AREA = 2 * MOST_CELLS  # between the outermost cells; the reader makes room for all of it
_LARGEST_INDEX_PART = 5_000_000  # bytes of the list of sheets; a thousand sheets take 200,000; assumed
_PREFIXED_CELL = re.compile(rb"<[^\s<>/:]+:c[\s/>]")
_OTHER_C = (b"<co", b"<cf", b"<cu")  # how the names of a sheet's elements other than cells begin
_ATTRIBUTES = rb'"(?: (?:s|t|cm|vm|ph)="\w*")*/?>'
# Columns and rows that make no area too large, and a cell that lies beyond or is written in another way.
_WITHIN = (
    (26, 299_999, re.compile(rb'<c r="(?![A-Z](?:\d{1,5}|[12]\d{5})' + _ATTRIBUTES + rb")")),
    (702, 9_999, re.compile(rb'<c r="(?![A-Z]{1,2}\d{1,4}' + _ATTRIBUTES + rb")")),
)
_ADDRESS = re.compile(rb'<c r="([A-Z]{1,3})(\d{1,7})"(?: (?:s|t|cm|vm|ph)="\w*")*(/?)>')
_PIECE = 4_000_000
_FILLED = re.compile(rb'<c r="[A-Z]+\d+"(?! s="\d+"/>|/>)')
_NO_RESULT = re.compile(
    rb"""<c r="([A-Z]{1,3})\d+"[^<>]*>\s*<f[^<>]*(?:/>|>[^<]*</f>)\s*(?:<v\s*/>|<v>\s*</v>)?\s*</c>"""
)
_HIDDEN = ("hidden", "veryHidden")


@dataclass(frozen=True)
class Sheet:
    """A sheet with cells. part: where in the file it is."""

    name: str
    part: str
    is_hidden: bool


@dataclass(frozen=True)
class Extent:
    """Whether a sheet holds cells, and how many there are from the first to the last row and column."""

    has_cells: bool
    area: int
    last: str = ""


def sheets_of(parts: dict[str, bytes]) -> list[Sheet]:
    """The sheets in the order of their tabs; charts and what cannot be found are left out."""
    for name in (WORKBOOK, RELATIONS):
        if len(parts.get(name, b"")) > _LARGEST_INDEX_PART:
            raise ListError(say(DAMAGED, why=say("its list of sheets is far too long")))
    targets = {
        relation.get("Id"): posixpath.normpath(posixpath.join("/xl", relation.get("Target", ""))).lstrip("/")
        for relation in _elements(parts.get(RELATIONS, b""), "Relationship")
        if relation.get("Type", "").endswith("/worksheet")
    }
    sheets = []
    for element in _elements(parts[WORKBOOK], "sheet"):
        key = next((value for name, value in element.items() if name.endswith("}id")), "")
        part = targets.pop(key, "")  # each part once
        if part in parts:
            sheets.append(Sheet(element.get("name", ""), part, element.get("state") in _HIDDEN))
    return sheets


def extent_of(part: bytes) -> Extent:
    """How far the cells of a sheet reach, at most; those that are only formatted may be left out.

    Most sheets are written in one way and are small enough, which is quickly seen. Others are measured.
    """
    cells = part.count(b'<c r="')
    is_usual = cells == part.count(b"<c") - sum(map(part.count, _OTHER_C)) and not _PREFIXED_CELL.search(part)
    if not is_usual:
        return _counted_extent(part)
    for columns, rows, beyond in _WITHIN:
        if not beyond.search(part):
            return Extent(_FILLED.search(part) is not None, columns * rows if cells else 0)
    return _measured_extent(part, cells) or _counted_extent(part)


def _measured_extent(part: bytes, cells: int) -> Extent | None:
    """The same by the addresses of all cells; None where not every one is written in the usual way."""
    rows: set[int] = set()
    columns: set[str] = set()
    at = 0
    while at < len(part):
        end = part.find(b"<", at + _PIECE)  # before an element, so that no address is torn
        end = len(part) if end < 0 else end
        found = _ADDRESS.findall(part, at, end)
        cells -= len(found)
        rows.update({int(row) for _, row, is_empty in found if not is_empty})
        columns.update({column.decode() for column, _, is_empty in found if not is_empty})
        at = end
    return None if cells else _extent(rows, set(map(column_number, columns)))


def _counted_extent(part: bytes) -> Extent:
    """The same, cell by cell, where cells do not all say where they are."""
    rows: set[int] = set()
    columns: set[int] = set()
    row = column = count = 0
    last = (0, 0)
    for event, element in events(part, "spreadsheet"):
        name = element.tag.rpartition("}")[2]
        if event == "end":
            if name in ("c", "row"):
                forget(element)
            continue
        if name == "row":
            row, column = _given(element.get("r", ""), row, 0)
        elif name == "c":
            row, column = _given(element.get("r", ""), row - 1, column)
            last = row, column
        elif name in ("v", "is", "f"):
            rows.add(last[0])
            columns.add(last[1])
        if (count := count + 1) > 2 * MOST_CELLS:
            raise ListError(
                say("The spreadsheet has more than {most_cells:,} cells. Split it.", most_cells=MOST_CELLS)
            )
    return _extent(rows, columns)


def _given(address: str, row: int, column: int) -> tuple[int, int]:
    """Row and column of an address, else those that follow the last ones."""
    found = re.fullmatch(r"\$?([A-Za-z]{0,3})\$?(\d{1,7})", address)
    if not found:
        return row + 1, column + 1
    return int(found[2]), column_number(found[1]) if found[1] else 0


def _extent(rows: set[int], columns: set[int]) -> Extent:
    if not rows:
        return Extent(False, 0)
    area = (max(rows) - min(rows) + 1) * (max(columns) - min(columns) + 1)
    return Extent(True, area, f"{column_letters(max(columns))}{max(rows)}")


def formulas_without_result(part: bytes) -> dict[str, int]:
    """Column letters to how many formulas there have no result, as in files that no spreadsheet saved."""
    counts: dict[str, int] = {}
    for letters in _NO_RESULT.findall(part) if b"<f" in part else ():
        counts[letters.decode()] = counts.get(letters.decode(), 0) + 1
    return counts


def _elements(part: bytes, name: str) -> Iterator:
    for event, element in events(part, "spreadsheet") if part else ():
        if event == "start" and element.tag.rpartition("}")[2] == name:
            yield element


def column_number(letters: str) -> int:
    """1 for A, 27 for AA."""
    number = 0
    for letter in letters.upper():
        number = 26 * number + ord(letter) - 64
    return number


def column_letters(number: int) -> str:
    letters = ""
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(65 + rest) + letters
    return letters
