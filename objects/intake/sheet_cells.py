"""Cells of a spreadsheet as people see them, and what the spreadsheet may have done to what was typed."""

from collections.abc import Sequence
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from typing import Any

from objects.core.cells import plain_cell
from objects.core.lists import plain_heading
from objects.core.words import say_count
from objects.intake.headings import HEADINGS
from objects.intake.workbooks import formulas_without_result

_NUMBER_HEADINGS = {plain_heading(name) for name in ("number", "object number", *HEADINGS.get("number", ()))}


def as_seen(column: Sequence[Any], texts: dict[str, str]) -> list[str]:
    """The cells of a column as text. texts: what stands for a mark where cells share a text."""
    if set(map(type, column)) == {str}:
        read = [texts.get(value, value) for value in column] if texts else list(column)
    else:
        read = [
            texts.get(value, value) if type(value) is str else _VIEWS.get(type(value), str)(value)
            for value in column
        ]
    return [plain_cell(text) for text in read] if "'" in {text[:1] for text in read} else read


def _number(value: float) -> str:
    """As many digits as a spreadsheet keeps, 15, and no .0 behind a whole number."""
    if value.is_integer() and abs(value) < 1e15:
        return str(int(value))
    text = f"{value:.15g}"
    return f"{Decimal(text):f}" if "e" in text and 1e-15 < abs(value) < 1e30 else text


def _moment(value: datetime) -> str:
    return _day(value) if value.time() == time() else f"{_day(value)} {_clock(value.time())}"


def _day(value: date) -> str:
    return f"{value.year:04}-{value.month:02}-{value.day:02}"


def _clock(value: time) -> str:
    return value.isoformat("seconds" if value.second else "minutes")


_VIEWS = {
    float: _number,
    bool: lambda value: "yes" if value else "no",
    datetime: _moment,
    date: _day,
    time: _clock,
    timedelta: str,
}


def notes_on_cells(
    columns: list[tuple], read: list[list[str]], header: tuple[str, ...], first: int, first_row: int
) -> list[str]:
    """What to look at because numbers or sizes may not be as they were typed.

    columns, read: the cells as stored and as text. first: how many rows stand above the first one below the
    headings. first_row: the number of the topmost row.
    """
    notes = []
    for column, texts in zip(columns, read, strict=True):
        heading = next((name for text in texts[:first] if (name := " ".join(text.split())) in header), "")
        if heading:
            notes += _note_on_dates(heading, column[first:], first_row + first)
        if plain_heading(heading) in _NUMBER_HEADINGS:
            notes += _note_on_decimals(heading, column[first:], texts[first:])
    return notes


def _note_on_dates(heading: str, cells: Sequence[Any], row: int) -> list[str]:
    if not {date, datetime} & set(map(type, cells)):
        return []
    dates = [place for place, value in enumerate(cells) if isinstance(value, date)]
    if not 0 < 2 * len(dates) < len(cells) - cells.count(""):
        return []
    return [
        say_count(
            "{heading}: {count} cell is a date, the first in row {row}. If a number or a size was typed "
            "there, the spreadsheet has changed it: format the column as text and type it again.",
            "{heading}: {count} cells are dates, the first in row {row}. If a number or a size was typed "
            "there, the spreadsheet has changed it: format the column as text and type it again.",
            len(dates),
            heading=heading,
            row=row + dates[0],
        )
    ]


def _note_on_decimals(heading: str, cells: Sequence[Any], texts: list[str]) -> list[str]:
    found = [text for value, text in zip(cells, texts, strict=True) if _has_decimals(value)]
    if not found:
        return []
    return [
        say_count(
            "{heading}: {count} cell is stored as a number, such as {found}. A zero typed at the end of one "
            "is lost ({found}0 becomes {found}): compare them with the register, and format the column as "
            "text before typing such.",
            "{heading}: {count} cells are stored as numbers, such as {found}. A zero typed at the end of one "
            "is lost ({found}0 becomes {found}): compare them with the register, and format the column as "
            "text before typing such.",
            len(found),
            heading=heading,
            found=found[0],
        )
    ]


def _has_decimals(value: Any) -> bool:
    return type(value) is float and not value.is_integer()


def notes_on_formulas(part: bytes) -> list[str]:
    """Formulas that no spreadsheet has worked out yet, and those that failed."""
    notes = [
        say_count(
            "Column {letters}: {count} formula has no stored result, read as blank. Open the file in a "
            "spreadsheet program, save it there, and choose it again.",
            "Column {letters}: {count} formulas have no stored result, read as blank. Open the file in a "
            "spreadsheet program, save it there, and choose it again.",
            count,
            letters=letters,
        )
        for letters, count in sorted(formulas_without_result(part).items())
    ]
    if errors := part.count(b' t="e"'):
        notes.append(
            say_count(
                "{count} cell holds an error such as #N/A, read as blank. Put right what the formula refers "
                "to.",
                "{count} cells hold an error such as #N/A, read as blank. Put right what the formula refers "
                "to.",
                errors,
            )
        )
    return notes
