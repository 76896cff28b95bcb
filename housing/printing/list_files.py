"""Lists as files: text with delimiters, and spreadsheets. No cell of either is ever run as a formula."""

import csv
import io
import os
import re
from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal
from pathlib import Path
from typing import IO, Any

from openpyxl import Workbook
from openpyxl.cell import WriteOnlyCell
from openpyxl.styles import Font
from openpyxl.utils import get_column_letter

from objects.core.cells import neutral_cell
from objects.core.refusals import Refusal

BYTE_ORDER_MARK = "\ufeff"
LONGEST_CELL = 32_767  # characters; ECMA-376 and every program that follows it
SAFE_DIGITS = 15  # of a number in a spreadsheet, which keeps it as a double
WIDEST, NARROWEST = 50, 8  # characters of a column; assumed, what still fits a screen
_CHUNK_ROWS = 500
# What XML does not keep, and what would be read as standing for it: ECMA-376-1, 22.9.2.19, ST_Xstring.
_ESCAPED = re.compile("[\x01-\x08\x0b-\x1f\ufffe\uffff]|_(?=x[0-9A-Fa-f]{4}_)")

type Cell = str | int | Decimal


class ListRefused(Refusal):
    """A list cannot be written so; the message is a sentence for the reader."""


def delimited(rows: Iterable[Sequence[Cell]], delimiter: str = ",", *, mark: bool = True) -> Iterator[bytes]:
    """Rows as UTF-8 text in chunks, quoted as RFC 4180 has it. mark: begin with a byte order mark."""
    held = io.StringIO(newline="")
    writer = csv.writer(held, delimiter=delimiter, lineterminator="\r\n")
    if mark:
        held.write(BYTE_ORDER_MARK)
    for count, row in enumerate(rows, start=1):
        writer.writerow([neutral_cell(cell) if isinstance(cell, str) else _figure(cell) for cell in row])
        if count % _CHUNK_ROWS == 0:
            yield held.getvalue().encode()
            held.seek(0)
            held.truncate()
    yield held.getvalue().encode()


def _figure(value: int | Decimal) -> str:
    """Never in powers of ten."""
    return f"{value:f}" if isinstance(value, Decimal) else str(value)


def spreadsheet(rows: Iterable[Sequence[Cell]], file: IO[bytes], widths: Sequence[int]) -> None:
    """Write rows, headings first, as one sheet: headings bold and fixed, text as text, numbers as numbers.

    widths: characters that each column should show. Raises ListRefused for text that no cell can hold.
    """
    book = Workbook(write_only=True)
    book.properties.creator = "Collection Housing Planner"
    sheet = book.create_sheet("Objects")
    sheet.freeze_panes = "A2"
    for place, width in enumerate(widths, start=1):
        letter = get_column_letter(place)
        sheet.column_dimensions[letter].width = max(NARROWEST, min(width + 2, WIDEST))
    try:
        for line, row in enumerate(rows, start=1):
            sheet.append([_cell(sheet, value, line) for value in row])
    except BaseException:
        with Path(os.devnull).open("wb") as nothing:  # saving is what takes its temporary files away
            book.save(nothing)
        raise
    book.save(file)


def _heading(sheet, text: str) -> Any:
    cell = _text(sheet, escaped(text))
    cell.font = Font(bold=True)
    return cell


def _cell(sheet, value: Cell, line: int):
    """A value as a spreadsheet cell; a text that could be taken for anything else is marked as text."""
    if line == 1:
        return _heading(sheet, str(value))
    if isinstance(value, str):
        if not value:
            return None
        if len(value) > LONGEST_CELL:
            raise ListRefused(
                f"The text “{value[:40]}…” on line {line} has {len(value):,} characters, and a cell of a "
                f"spreadsheet holds {LONGEST_CELL:,}. Take the list out as CSV, or shorten the text."
            )
        text = escaped(value)
        return _text(sheet, text) if text[:1] in "=#" else text
    digits = len(value.normalize().as_tuple().digits) if isinstance(value, Decimal) else len(str(value))
    return value if digits <= SAFE_DIGITS else _figure(value)


def _text(sheet, text: str) -> Any:
    cell = WriteOnlyCell(sheet, text)
    cell.data_type = "s"
    return cell


def escaped(text: str) -> str:
    """The text as a cell of a spreadsheet keeps it."""
    return _ESCAPED.sub(lambda found: f"_x{ord(found[0]):04X}_", text)
