"""What became of each row of a list, in words: on its page, and as a file for whoever mends the list."""

import csv
import io
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property
from typing import Any

from django.core.exceptions import FieldDoesNotExist
from django.db.models import Case, QuerySet, Value, When
from django.urls import reverse
from openpyxl import Workbook

from housing.intake import KINDS
from objects.core.cells import neutral_cell
from objects.core.lengths import format_length
from objects.core.retelling import retold
from objects.core.words import noted, say
from objects.intake.rows import STATUS_NAMES
from objects.models import ImportedRow, ListImport
from objects.readers import Reader

HEADINGS = (
    noted("Line"), noted("Row"), noted("Status"), noted("What changes"), noted("Why, and what to do")
)  # fmt: skip
BOOKKEEPING = {"version", "need_said_by", "need_said_at"}  # kept so that it can be undone, told to nobody
XLSX_ROWS = 50_000  # about five seconds of writing; more is taken as CSV
LINES_AT_ONCE = 2000


@dataclass(frozen=True)
class Change:
    """One field of a record: what it is called, what stood there and what stands there after."""

    label: str
    before: str
    after: str


@dataclass(frozen=True)
class ReportRow:
    """One row of a list with what was understood and what became of it, as a reader sees it."""

    row: ImportedRow
    status_name: str
    url: str
    changes: Sequence[Change]

    @property
    def shown(self) -> dict[str, Any]:
        """What was understood, sides as numbers again."""
        shown = self.row.shown
        return shown | {key: shown[key] and Decimal(shown[key]) for key in shown if key.endswith("_mm")}


def report_of(listed: ListImport, status: str = "") -> QuerySet[ImportedRow]:
    """The rows of a list: those with one status by line, or all of them, the most urgent first."""
    if status:
        return listed.rows.filter(status=status)
    urgency = Case(*(When(status=name, then=Value(n)) for n, name in enumerate(STATUS_NAMES)))
    return listed.rows.order_by(urgency, "line")


class Report:
    """Puts rows of one list into words for one reader; without a reader in millimetres."""

    def __init__(self, listed: ListImport, reader: Reader | None = None) -> None:
        self.listed, self.reader = listed, reader
        self.kind = KINDS[listed.kind]()
        self._choices: dict[str, dict] = {}
        self._order = {field.name: n for n, field in enumerate(self.kind.model._meta.concrete_fields)}

    def rows(self, rows: Iterable[ImportedRow]) -> list[ReportRow]:
        return [
            ReportRow(row, say(STATUS_NAMES[row.status]), self._url(row), self._changes(row.changes))
            for row in rows
        ]

    def _url(self, row: ImportedRow) -> str:
        is_there = row.record and self.listed.state != ListImport.State.UNDONE
        if self.listed.kind != ListImport.Kind.OBJECTS or not is_there:
            return ""
        return reverse("housing:object-detail", args=[row.record])

    def _changes(self, changes: dict[str, list]) -> list[Change]:
        return [
            Change(
                say(self.kind.label(field)).capitalize(),
                self._words(field, before),
                self._words(field, after),
            )
            for field, (before, after) in sorted(changes.items(), key=self._place)
            if field not in BOOKKEEPING
        ]

    def _place(self, change: tuple[str, list]) -> int:
        """Changes stand in the order of the record's fields, whatever order the database keeps them in."""
        return self._order.get(change[0], len(self._order))

    def _words(self, field: str, value: Any) -> str:
        if value is None or value == "":
            return "—"
        if field.endswith("_mm"):
            mm = Decimal(value)
            return self.reader.length(mm) if self.reader else format_length(mm, "mm")
        if field.endswith("weight_g") or field.startswith("weight_"):
            return self.reader.weight(Decimal(value)) if self.reader else f"{value} g"
        return str(self._labels(field).get(value, value))

    def _labels(self, field: str) -> dict:
        if field not in self._choices:
            try:
                self._choices[field] = dict(self.kind.model._meta.get_field(field).flatchoices)
            except (FieldDoesNotExist, AttributeError):
                self._choices[field] = {}
        return self._choices[field]

    # ---- As a file ----------------------------------------------------------------------------------------

    @cached_property
    def file_name(self) -> str:
        return say("{name} - report", name=self.listed.file_name.rpartition(".")[0] or self.listed.file_name)

    def lines(self, rows: QuerySet[ImportedRow]) -> Iterator[list]:
        """The cells of each row; text that a spreadsheet would run as a formula is made harmless."""
        for row in rows.iterator(chunk_size=LINES_AT_ONCE):
            changes = [f"{c.label}: {c.before} → {c.after}" for c in self._changes(row.changes)]
            told = (
                row.key,
                say(STATUS_NAMES[row.status]),
                "; ".join(changes),
                " ".join(map(retold, row.messages)),
            )
            yield [row.line, *map(neutral_cell, told)]

    def csv(self, rows: QuerySet[ImportedRow]) -> Iterator[bytes]:
        """CSV in UTF-8 with the mark by which spreadsheets know it, some lines at a time."""
        piece = io.StringIO()
        writer = csv.writer(piece)
        piece.write("\ufeff")
        writer.writerow(map(say, HEADINGS))
        for number, line in enumerate(self.lines(rows), 1):
            writer.writerow(line)
            if number % LINES_AT_ONCE == 0:
                yield piece.getvalue().encode()
                piece.seek(piece.truncate(0))
        yield piece.getvalue().encode()

    def xlsx(self, rows: QuerySet[ImportedRow]) -> bytes:
        """A spreadsheet of one sheet."""
        book = Workbook(write_only=True)
        sheet = book.create_sheet(say("Report"))
        sheet.append([say(heading) for heading in HEADINGS])
        for line in self.lines(rows):
            sheet.append(line)
        kept = io.BytesIO()
        book.save(kept)
        return kept.getvalue()
