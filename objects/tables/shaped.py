"""What every table of the planner can do: show the columns a reader chose, and write its rows as a file."""

from collections.abc import Callable, Iterable, Iterator
from datetime import date, datetime
from decimal import Decimal
from html import unescape
from typing import Any, ClassVar

import django_tables2 as tables
from django.db.models import QuerySet
from django.utils import timezone
from django.utils.html import strip_tags
from django.utils.translation import gettext as _
from django_tables2.rows import BoundRow

from objects.core.cells import neutral_cell
from objects.core.columns import Offered, order_of, shown
from objects.readers import Reader

AT_ONCE = 500  # records read together while a file is written
# What a column says in a file: headings, and the values of a record beneath them.
InFile = tuple[tuple[str, ...], Callable[[Any], tuple[Any, ...]]]


class ShapedTable(tables.Table):
    """A table with columns to choose from.

    key: the name a choice is kept under. required: columns that always stay. unusual: those offered beside
    the usual ones. page_only: columns of ticks and buttons, which belong to the page, stay at their
    place and stand in no file. Those that a table was made without are not offered.
    """

    key: ClassVar[str]
    required: ClassVar[tuple[str, ...]] = ("name",)
    unusual: ClassVar[tuple[str, ...]] = ()
    page_only: ClassVar[tuple[str, ...]] = ()

    @classmethod
    def offers(cls, without: Iterable[str] = ()) -> Offered:
        left_out = {*without, *cls.page_only}
        names = tuple(name for name in cls.base_columns if name not in left_out)
        return Offered(names, frozenset(names) - {*cls.unusual}, frozenset(cls.required))

    def shape(self, kept: list[str]) -> None:
        """Show the columns that were chosen; kept: the choice as it is kept, empty for the usual ones."""
        offered = self.offers(self.exclude)
        self.kept, self.chooser = kept, order_of(offered, kept)
        wanted = shown(offered, kept)
        own = [name for name in self.base_columns if name not in self.exclude]
        lead = [name for name in own[:1] if name in self.page_only]
        last = [name for name in own if name in self.page_only and name not in lead]
        self.exclude = (*self.exclude, *(name for name in own if name not in {*lead, *wanted, *last}))
        self.sequence = [*lead, *wanted, *last, *self.exclude]

    @property
    def choices(self) -> list[dict[str, Any]]:
        """Each column that is offered, in the order chosen: name, words, whether it is shown and must be."""
        return [
            {
                "name": name,
                "words": strip_tags(str(self.columns.columns[name].header)),
                "is_shown": is_shown,
                "is_required": name in self.required,
            }
            for name, is_shown in self.chooser
        ]

    def in_file(self, name: str, reader: Reader) -> InFile | None:
        """What a column says in a file, where that is not the words of its cells; sizes in several."""
        return None

    def file_rows(self, reader: Reader) -> Iterator[list[str]]:
        """The headings, then every row that matches in the order shown, as plain cells."""
        names = [name for name in self.columns.names() if name not in self.page_only]
        written: list[tuple[str, InFile | None]] = [(name, self.in_file(name, reader)) for name in names]
        yield [
            neutral_cell(words)
            for name, apart in written
            for words in (apart[0] if apart else (strip_tags(str(self.columns[name].header)),))
        ]
        for record in self._records():
            row = BoundRow(record, table=self)
            cells: list[Any] = []
            for name, apart in written:
                cells += apart[1](record) if apart else (row.get_cell_value(name),)
            yield [plain(cell) for cell in cells]

    def _records(self) -> Iterator[Any]:
        records = self.data.data
        if isinstance(records, QuerySet):
            return records.iterator(chunk_size=AT_ONCE)
        return iter(records)


def lengths(words: str, reader: Reader, value: Callable[[Any], Any]) -> InFile:
    """A column of lengths in a file: the unit in its heading, and plain numbers beneath."""
    heading = f"{words} ({reader.unit})"
    return (heading,), lambda record: (in_unit_of(reader, value(record)),)


def in_unit_of(reader: Reader, mm: Any) -> Decimal | None:
    """A length as a number in the reader's unit: millimetres to a tenth, inches to a thousandth."""
    if mm is None:
        return None
    length = Decimal(str(mm))
    if reader.unit == "in":
        return round(length / Decimal("25.4"), 3).normalize()
    return round(length, 1).normalize()


def plain(value: Any) -> str:
    """A value as a cell of a file: numbers and days as spreadsheets read them, words made harmless."""
    match value:
        case None | "—":
            return ""
        case bool():
            return _("Yes") if value else _("No")
        case Decimal():
            return f"{value:f}"
        case int() | float():
            return str(value)
        case datetime():
            return f"{timezone.localtime(value) if timezone.is_aware(value) else value:%Y-%m-%d %H:%M}"
        case date():
            return value.isoformat()
        case _:
            words = str(value)
            return neutral_cell(" ".join((unescape(strip_tags(words)) if "<" in words else words).split()))
