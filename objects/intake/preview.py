"""Reading a whole list: what its columns and rows were taken for, before anything is saved."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from objects.core.lists import ListError, ReadList, match_columns, read_list
from objects.intake.fields import Field, IntakeRefused
from objects.intake.kinds import ListKind
from objects.intake.rows import CHANGED, CHECK, NEW, REFUSED, STATUS_NAMES, UNCHANGED, Row, RowReading


@dataclass(frozen=True)
class Preview:
    """What was understood of a list. columns: our field to the list's column."""

    kind: ListKind
    columns: dict[str, str]
    headings: tuple[str, ...]
    rows: tuple[RowReading, ...]
    encoding: str
    delimiter: str
    notes: tuple[str, ...] = ()

    @property
    def unmatched(self) -> tuple[str, ...]:
        """The list's columns that are not used."""
        return tuple(name for name in self.headings if name and name not in self.columns.values())

    @property
    def missing(self) -> tuple[Field, ...]:
        """Fields the list must tell but has no column for."""
        return missing_fields(self.kind, self.columns)

    @property
    def counts(self) -> dict[str, int]:
        """Rows by status, every status named."""
        found = Counter(row.status for row in self.rows)
        return {status: found[status] for status in STATUS_NAMES}

    @property
    def problems(self) -> list[list]:
        """Line, row, status and sentences of each row refused or to be checked, the refused first."""
        return [
            [row.line, row.key, row.status, list(row.messages)]
            for row in self.rows_by_urgency
            if row.status in (REFUSED, CHECK)
        ]

    @property
    def rows_by_urgency(self) -> list[RowReading]:
        """Rows with a problem first, otherwise in the order of the list."""
        order = list(STATUS_NAMES)
        return sorted(self.rows, key=lambda row: (order.index(row.status), row.line))


def missing_fields(kind: ListKind, columns: Mapping[str, str]) -> tuple[Field, ...]:
    return tuple(field for field in kind.fields if field.required and field.key not in columns)


def preview(kind: ListKind, data: bytes, columns: Mapping[str, str] | None = None, unit: str = "") -> Preview:
    """Read a list without saving anything.

    kind: a fresh instance. columns: our field to the list's column, where a person has matched them; None
    matches them by name. unit: in, cm or mm for figures without a unit.
    Raises IntakeRefused when the file is no usable list.
    """
    try:
        read = read_list(data)
    except ListError as refused:
        raise IntakeRefused(str(refused)) from refused
    if columns is None:
        columns = match_columns(
            read.header, {field.key: (field.label, *field.synonyms) for field in kind.fields}
        )
    known = {field.key for field in kind.fields}
    columns = {key: name for key, name in columns.items() if key in known and name in read.header}
    rows = () if missing_fields(kind, columns) else tuple(_read_rows(kind, read, columns, unit))
    return Preview(kind, columns, read.header, rows, read.encoding, read.delimiter, read.notes)


def _read_rows(kind: ListKind, read: ReadList, columns: dict[str, str], unit: str) -> list[RowReading]:
    records = kind.existing()
    places = {key: read.header.index(name) for key, name in columns.items()}
    first_lines: dict[str, int] = {}
    readings = []
    for line, cells in zip(read.line_numbers, read.rows, strict=True):
        row = Row(line, {key: cells[place] for key, place in places.items()}, columns, unit)
        readings.append(_read_row(kind, row, records, first_lines))
    return readings


def _read_row(kind: ListKind, row: Row, records: dict[str, Any], first_lines: dict[str, int]) -> RowReading:
    kind.read(row)
    for field in kind.fields:
        if field.required and not row.cell(field.key):
            row.refuse(f"{field.label} is blank. Fill it in, or leave the row out of the list.")
    name = kind.name_of(row)
    record = None
    if name:
        key = kind.match_key(name)
        first = first_lines.setdefault(key, row.line)
        if first != row.line:
            row.refuse(
                f"The {kind.identity_label} {name} is on line {first} and again on line {row.line}. "
                "Keep one of the two rows."
            )
        record = records.get(key)
        if not row.problems:
            kind.settle(row, record)
    changes = [] if row.problems or record is None else kind.changes(row, record)
    status = _status(row, record, changes)
    messages = [*row.problems, *row.notes]
    if changes:
        messages.append(f"Changes: {', '.join(changes)}.")
    return RowReading(row.line, name, row.values, status, tuple(messages), record)


def _status(row: Row, record: Any | None, changes: list[str]) -> str:
    if row.problems:
        return REFUSED
    if record is not None and not changes:
        return UNCHANGED
    if row.needs_check:
        return CHECK
    return NEW if record is None else CHANGED
