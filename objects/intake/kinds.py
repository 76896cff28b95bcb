"""What a kind of list has to say for itself; the rest is common to all kinds."""

from collections.abc import Callable, Iterable, Sequence
from typing import Any

from django.db.models import Model

from objects.intake.fields import Field
from objects.intake.rows import Row, RowReading

BATCH = 500


class ListKind:
    """A kind of list whose rows are records of one model. One instance serves one reading of one list."""

    key: str
    fields: tuple[Field, ...]
    model: type[Model]
    identity: str  # the model field by which a row finds its record
    identity_label: str
    read: Callable[[Row], None]  # reads the cells of a row into its values; each kind has its own

    def __init__(self, *, photos=None, campaign=None) -> None:
        self.photos, self.campaign = photos, campaign

    def name_of(self, row: Row) -> str:
        """What the row is about, in the words of the list."""
        return str(row.values.get(self.identity, ""))

    def match_key(self, name: str) -> str:
        """Names with the same key mean the same record."""
        return name.casefold()

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

    def changes(self, row: Row, record: Any) -> list[str]:
        """Labels of the fields in which a row differs from its record."""
        return [
            self.label(field)
            for field, value in row.values.items()
            if field != self.identity and self.current(record, field) != value
        ]

    def check_whole(self, rows: Sequence[RowReading]) -> None:
        """Raises IntakeRefused when the rows cannot be saved together; most kinds take what is good."""

    def rows_to_write(self, rows: Sequence[RowReading]) -> list[RowReading]:
        """The rows that saving writes."""
        return [row for row in rows if row.is_stored]

    def save(self, rows: list[RowReading], by: Any = None) -> None:
        """Write the rows; called inside a transaction."""
        new, changed = [], []
        for row in rows:
            record = row.instance or self.model()
            for field, value in row.values.items():
                if row.instance is None or field != self.identity:
                    setattr(record, field, value)
            self.finish(record, is_new=row.instance is None)
            (new if row.instance is None else changed).append(record)
        self.model._default_manager.bulk_create(new, batch_size=BATCH)
        overwrite(changed)

    def finish(self, record: Any, is_new: bool) -> None:
        """Set what follows from the other fields."""


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
