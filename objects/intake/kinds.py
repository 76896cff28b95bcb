"""What a kind of list has to say for itself; the rest is common to all kinds."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

from django.db.models import Model

from objects.core.size_reader import SizeReader
from objects.intake.fields import Field
from objects.intake.rows import Row, RowReading
from objects.models import Location

BATCH = 500


class ListKind:
    """A kind of list whose rows are records of one model. One instance serves one reading of one list.

    photos: the folder that photo names refer to. campaign: whose rules a list of rules replaces. file_name:
    the list, as a note may name it. by: who takes it in. sizes: what was read of its sizes before.
    """

    key: str
    fields: tuple[Field, ...]
    model: type[Model]
    identity: str  # the model field by which a row finds its record
    identity_label: str
    is_long = False  # lists of this kind run to 100,000 rows, so their rows are stored without being held
    read: Callable[[Row], None]  # reads the cells of a row into its values; each kind has its own

    def __init__(
        self,
        *,
        photos: Path | None = None,
        campaign: Any = None,
        file_name: str = "",
        by: Any = None,
        sizes: SizeReader | None = None,
    ) -> None:
        self.photos, self.campaign, self.file_name, self.by = photos, campaign, file_name, by
        self.sizes = sizes or SizeReader()
        self.places_made: list[Location] = []  # those that saving had to make
        self._records: dict[str, Any] | None = None

    def look_ahead(self, rows: Sequence[Row]) -> None:
        """Have done at once, for many rows, what would be slow row by row."""

    def name_of(self, row: Row) -> str:
        """What the row is about, in the words of the list."""
        return str(row.values.get(self.identity, ""))

    def match_key(self, name: str) -> str:
        """Names with the same key mean the same record."""
        return name.casefold()

    def find(self, keys: Iterable[str]) -> Mapping[str, Any]:
        """The records with these match keys; kinds with few records load them all, once."""
        if self._records is None:
            self._records = self.existing()
        return self._records

    def look_anew(self) -> None:
        """Forget which records there are; somebody may have saved some meanwhile."""
        self._records = None

    def existing(self) -> dict[str, Any]:
        """The records there are, by match key."""
        return {self.match_key(getattr(record, self.identity)): record for record in self.records()}

    def records(self) -> Iterable[Any]:
        return self.model._default_manager.all()

    def settle(self, row: Row, record: Any | None) -> None:
        """Last word on a row once its record, if there is one, is known."""

    def current(self, record: Any, field: str) -> Any:
        """The value that a record has now, comparable with the one a row gives."""
        return getattr(record, field)

    def label(self, field: str) -> str:
        return str(self.model._meta.get_field(field).verbose_name)

    def changes(self, row: Row, record: Any) -> dict[str, tuple]:
        """By field the value its record has and the one a row gives, where they differ."""
        found = {}
        for field, value in row.values.items():
            if field != self.identity and (now := self.current(record, field)) != value:
                found[field] = (now, value)
        return found

    def check_whole(self, rows: Sequence[RowReading]) -> None:
        """Raises IntakeRefused when the rows cannot be saved together; most kinds take what is good."""

    def rows_to_write(self, rows: Sequence[RowReading]) -> list[RowReading]:
        """The rows that saving writes."""
        return [row for row in rows if row.is_stored]

    def save(self, rows: list[RowReading], by: Any = None) -> None:
        """Write the rows; called inside a transaction. What was new has its record in `instance` then."""
        new, changed = [], []
        for row in rows:
            is_new = row.instance is None
            row.instance = row.instance or self.model()
            for field, value in row.values.items():
                if is_new or field != self.identity:
                    setattr(row.instance, field, value)
            (new if is_new else changed).append(row.instance)
        self.model._default_manager.bulk_create(new, batch_size=BATCH)
        overwrite(changed)


def overwrite(records: list[Any]) -> None:
    """Write whole records that exist already, many at a time (far quicker than one CASE a field)."""
    if not records:
        return
    model = type(records[0])
    model._default_manager.bulk_create(
        records,
        batch_size=BATCH,
        update_conflicts=True,
        unique_fields=["pk"],
        update_fields=[
            field.name
            for field in model._meta.concrete_fields
            if not field.primary_key and not getattr(field, "auto_now_add", False)
        ],
    )
