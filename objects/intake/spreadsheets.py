"""Spreadsheets (XLSX): the sheet that holds the list, its cells as people see them."""

from collections.abc import Iterator, Sequence

from python_calamine import CalamineError, CalamineWorkbook

from objects.core.list_rows import ListRows, NoList, ReadList
from objects.core.list_text import ListError
from objects.core.words import noted, say
from objects.intake.packages import DAMAGED, members_of, packed_again, unpacked
from objects.intake.shared_texts import take_texts
from objects.intake.sheet_cells import as_seen, notes_on_cells, notes_on_formulas
from objects.intake.workbooks import (
    MOST_AREA,
    WORKBOOK,
    Sheet,
    column_letters,
    extent_of,
    sheets_of,
)

_MOST_NAMED = 20  # other sheets in a note; assumed
_OTHER_PACKAGES = {
    "xl/workbook.bin": "a binary spreadsheet (XLSB)",
    "content.xml": "an OpenDocument file",
    "word/document.xml": "a text document",
    "ppt/presentation.xml": "a presentation",
}


def read_spreadsheet(data: bytes, *, sheet: str = "", max_rows: int = 200_000) -> ReadList:
    """Read a sheet of a workbook; blank takes the first visible one that holds a list.

    Raises ListError for what is no workbook, damaged, harmful, or holds no list.
    """
    members = members_of(data)
    _check_kind({member.filename for member in members})
    parts = unpacked(data, members)
    for part in parts.values():
        _check_encoding(part)
    sheets = sheets_of(parts)
    extents = {each.part: extent_of(parts[each.part]) for each in sheets}
    with_rows = [each for each in sheets if extents[each.part].has_cells]
    texts = take_texts(parts)
    refused: ListError | None = None
    for chosen in _candidates(with_rows, sheet):
        extent = extents[chosen.part]
        if extent.area > MOST_AREA:
            raise ListError(
                say(
                    "The sheet “{name}” reaches to the cell {last}, much too far for a list. Delete the "
                    "cells that lie apart from it, or copy the list into a new file.",
                    name=chosen.name,
                    last=extent.last,
                )
            )
        try:
            rows = _read_sheet(parts, sheets, chosen, texts, max_rows)
        except NoList as error:
            refused = refused or error
            continue
        return ReadList(
            rows.header,
            tuple(rows.rows),
            tuple(rows.lines),
            "UTF-8",
            "",
            (*rows.notes, *_note_on_sheets(chosen, with_rows, sheet)),
            "xlsx",
            chosen.name,
            tuple(each.name for each in with_rows),
        )
    raise refused or ListError(
        noted("The spreadsheet is empty. Choose a file with a list in one of its sheets.")
    )


def _check_kind(names: set[str]) -> None:
    if WORKBOOK in names:
        return
    what = next((said for name, said in _OTHER_PACKAGES.items() if name in names), "a ZIP file")
    raise ListError(
        say("This is {what}, not a list. Save the list as XLSX or CSV and choose that file.", what=what)
    )


def _check_encoding(part: bytes) -> None:
    """Only one encoding, so that every reader of a part sees the same signs."""
    declaration = part[:200].partition(b"?>")[0].lower() if part.lstrip()[:5] == b"<?xml" else b""
    is_utf_8 = b"encoding" not in declaration or b"utf-8" in declaration or b"us-ascii" in declaration
    if not is_utf_8 or b"\x00" in part[:200] or part[:2] in (b"\xff\xfe", b"\xfe\xff"):
        raise ListError(say(DAMAGED, why=say("it is not written in UTF-8")))


def _candidates(sheets: list[Sheet], wanted: str) -> list[Sheet]:
    if not wanted:
        return ([each for each in sheets if not each.is_hidden] or sheets)[:20]
    if found := [each for each in sheets if each.name == wanted][:1]:
        return found
    names = ", ".join(f"“{each.name}”" for each in sheets) or "none"
    raise ListError(
        say(
            "There is no sheet “{wanted}” with rows in it. Choose one of these: {names}.",
            wanted=wanted,
            names=names,
        )
    )


def _note_on_sheets(chosen: Sheet, sheets: list[Sheet], wanted: str) -> list[str]:
    others = [f"“{each.name}”" for each in sheets if each is not chosen]
    if wanted or not others:
        return []
    more = say(" and {others} more", others=len(others) - _MOST_NAMED) if len(others) > _MOST_NAMED else ""
    listed = ", ".join(others[:_MOST_NAMED])
    return [
        say(
            "The sheet “{name}” was read. Other sheets with rows: {listed}{more}.",
            name=chosen.name,
            listed=listed,
            more=more,
        )
    ]


def _read_sheet(
    parts: dict[str, bytes], sheets: list[Sheet], chosen: Sheet, texts: dict[str, str], max_rows: int
) -> ListRows:
    part = parts.pop(chosen.part).replace(b"_x0000_", b"")  # a NUL, which no text may hold
    notes_on_part = notes_on_formulas(part)
    # The other sheets are left out, so that nothing but what was measured can be read.
    others = {each.part for each in sheets}
    start, matrix = _cells(
        {chosen.part: part, **{name: each for name, each in parts.items() if name not in others}}, chosen.name
    )
    del part
    if not matrix:
        raise NoList(say("The sheet is empty. Choose one with a list."))
    first_row, first_column = start[0] + 1, start[1] + 1
    columns = list(zip(*matrix, strict=True))
    read = [as_seen(column, texts) for column in columns]
    rows = ListRows("Row", lambda place: column_letters(first_column + place), [])
    rows.gather(_records(read, first_row), max_rows)
    first = rows.lines[0] - first_row
    rows.notes += notes_on_cells(columns, read, rows.header, first, first_row)
    rows.notes += notes_on_part
    return rows


def _cells(parts: dict[str, bytes], name: str) -> tuple[tuple[int, int], list[list]]:
    """Where the cells begin, from 0, and their values."""
    try:
        cells = CalamineWorkbook.from_filelike(packed_again(parts)).get_sheet_by_name(name)
        return cells.start or (0, 0), cells.to_python()
    except (CalamineError, ValueError, OverflowError) as error:
        raise ListError(say(DAMAGED, why=say("the sheet “{name}” cannot be read", name=name[:60]))) from error
    except BaseException as error:
        if type(error).__name__ != "PanicException":  # how the reader, not written in Python, gives up
            raise
        raise ListError(say(DAMAGED, why=say("the sheet “{name}” cannot be read", name=name[:60]))) from error


def _records(columns: list[list[str]], first_row: int) -> Iterator[tuple[int, Sequence[str]]]:
    for row, cells in enumerate(zip(*columns, strict=True), first_row):
        if any(map(str.strip, cells)):
            yield row, cells
