"""Reading a whole list: what its columns and rows were taken for, before anything is saved."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import batched
from typing import Any

from objects.core.lists import ListError, ReadList
from objects.core.words import say
from objects.intake.columns import suggested_columns
from objects.intake.fields import Field, IntakeRefused
from objects.intake.files import read_file
from objects.intake.kinds import ListKind
from objects.intake.rows import CHANGED, CHECK, NEW, REFUSED, STATUS_NAMES, UNCHANGED, Row, RowReading
from objects.speaking import in_language

CHUNK = 2000  # rows that are held at a time with the records they are about


@dataclass
class Preview:
    """What is understood of a list. columns: our field to the list's column. unit: of bare figures."""

    kind: ListKind
    read: ReadList
    columns: dict[str, str]
    unit: str = ""
    _first_lines: dict[str, int] = field(default_factory=dict, repr=False)

    @property
    def unmatched(self) -> tuple[str, ...]:
        """The list's columns that are not used."""
        return tuple(name for name in self.read.header if name and name not in self.columns.values())

    @property
    def missing(self) -> tuple[Field, ...]:
        """Fields the list must tell but has no column for."""
        return tuple(field for field in self.kind.fields if field.required and field.key not in self.columns)

    @cached_property
    def rows(self) -> tuple[RowReading, ...]:
        """All rows at once, for short lists; none while a column is missing."""
        return tuple(row for chunk in self.chunks() for row in chunk)

    @property
    def counts(self) -> dict[str, int]:
        """Rows by status, every status named."""
        return counted(row.status for row in self.rows)

    def chunks(self) -> Iterator[list[RowReading]]:
        """The rows, some at a time, so that however long the list is few are held."""
        if not self.missing:
            for places in batched(range(len(self.read.rows)), CHUNK):
                yield self._read(places)

    def anew(self, lines: Iterable[int]) -> list[RowReading]:
        """Some rows once more, because their records have moved on since they were read."""
        self.kind.look_anew()
        wanted = set(lines)
        return self._read([place for place, line in enumerate(self.read.line_numbers) if line in wanted])

    @cached_property
    def _places(self) -> dict[str, int]:
        return {key: self.read.header.index(name) for key, name in self.columns.items()}

    @in_language("en")  # what is said of rows is kept in English; retold() says it in the reader's language
    def _read(self, places: Sequence[int]) -> list[RowReading]:
        rows = [self._row(place) for place in places]
        self.kind.look_ahead(rows)
        named = [(row, self._read_cells(row)) for row in rows]
        records = self.kind.find([self.kind.match_key(name) for _, name in named if name])
        return [self._judged(row, name, records) for row, name in named]

    def _row(self, place: int) -> Row:
        cells = self.read.rows[place]
        return Row(
            self.read.line_numbers[place],
            {key: cells[column] for key, column in self._places.items()},
            self.columns,
            self.unit,
        )

    def _read_cells(self, row: Row) -> str:
        """Read the cells of a row; returns what it is about, in the words of the list."""
        self.kind.read(row)
        for wanted in self.kind.fields:
            if wanted.required and not row.cell(wanted.key):
                row.refuse(
                    say(
                        "{label} is blank. Fill it in, or leave the row out of the list.",
                        label=say(wanted.label),
                    )
                )
        return self.kind.name_of(row)

    def _judged(self, row: Row, name: str, records: Mapping[str, Any]) -> RowReading:
        record, changes, stated = None, {}, dict(row.values)
        if name:
            key = self.kind.match_key(name)
            first = self._first_lines.setdefault(key, row.line)
            if first != row.line:
                row.refuse(
                    say(
                        "The {identity} {name} is on line {first} and again on line {line}. Keep one "
                        "of the two rows.",
                        identity=say(self.kind.identity_label),
                        name=name,
                        first=first,
                        line=row.line,
                    )
                )
            record = records.get(key)
            if not row.problems:
                self.kind.settle(row, record)
        if record is not None and not row.problems:
            changes = self.kind.changes(row, record)
        status, messages = _status(row, record, changes), tuple(row.problems or row.notes)
        return RowReading(row.line, name, row.values, status, messages, changes, stated, record)


def _status(row: Row, record: Any | None, changes: dict) -> str:
    if row.problems:
        return REFUSED
    if record is not None and not changes:
        return UNCHANGED
    if row.needs_check:
        return CHECK
    return NEW if record is None else CHANGED


def counted(statuses: Iterable[str]) -> dict[str, int]:
    """How often each status occurs, every status named."""
    found = Counter(statuses)
    return {status: found[status] for status in STATUS_NAMES}


def preview(
    kind: ListKind,
    data: bytes,
    columns: Mapping[str, str] | None = None,
    unit: str = "",
    *,
    file_name: str = "",
    sheet: str = "",
) -> Preview:
    """Read a list without saving anything.

    kind: a fresh instance. columns: our field to the list's column, where a person has matched them; None
    takes those that are suggested. unit: in, cm or mm for figures without a unit. sheet: of a spreadsheet.
    Raises IntakeRefused when the file is no usable list.
    """
    try:
        read = read_file(data, file_name, sheet=sheet)
    except ListError as refused:
        raise IntakeRefused(str(refused)) from refused
    if columns is None:
        columns = suggested_columns(kind, read)
    known = (field.key for field in kind.fields)
    return Preview(kind, read, {key: columns[key] for key in known if columns.get(key) in read.header}, unit)
