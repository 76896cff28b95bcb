"""Rows of a long list of objects, worked out beforehand so that storing them all takes only a moment."""

from collections.abc import Callable, Iterable, Iterator
from datetime import datetime
from itertools import batched
from typing import Any

from django.db import connection, models

from objects.core.numbers import natural_key
from objects.intake.catalogue import NEED_FIELDS, ObjectList
from objects.intake.kinds import BATCH
from objects.intake.locations import make_missing
from objects.intake.moves import store_moves
from objects.intake.object_sizes import SIDE_COLUMNS, SIZE_FIELDS
from objects.intake.photos import PhotoFolder
from objects.intake.preview import CHUNK, Preview, counted
from objects.intake.rows import RowReading, as_stored
from objects.models import CatalogueObject, ImportedRow, ListImport, Location, NeedStatement

TABLE = "rows_waiting"
# The fields of an object that each column of a list tells; a column not named here tells its own.
TOLD_BY = {
    **dict.fromkeys(("dimensions", *SIDE_COLUMNS), (*SIZE_FIELDS, "weight_g")),
    **dict.fromkeys(("need", "need_note"), NEED_FIELDS),
    "dimension_unit": (),
}


class WaitingRows:
    """The rows of one list, waiting in a table of this connection alone until all are stored at once.

    Working out 100,000 rows takes most of a minute, and nobody else could write to SQLite so long if it
    happened in the transaction that stores them. Waiting rows are seen by nobody, hold no lock, and are gone
    with the connection when the work is killed. store() then only moves them over.
    """

    def __init__(self, understood: Preview) -> None:
        self.understood, self.kind = understood, understood.kind
        assert isinstance(self.kind, ObjectList)
        told = ["number", "number_key", *(f for key in understood.columns for f in TOLD_BY.get(key, (key,)))]
        self.told = [CatalogueObject._meta.get_field(name) for name in dict.fromkeys(told)]
        self.columns = _columns(self.told)
        self.photos = PhotoFolder(self.kind.photos)
        self._statuses: dict[int, str] = {}
        self._seen: dict[int, tuple[int, int]] = {}  # record to its line and the version that was seen
        self._added: dict[str, int] = {}  # match key of a new object to its line

    def __enter__(self) -> "WaitingRows":
        columns = [f"{_name(field.column)} {field.db_type(connection)}" for field in self.columns]
        _run(f"DROP TABLE IF EXISTS {TABLE}")
        _run(f"CREATE TEMPORARY TABLE {TABLE} ({', '.join(columns)})")
        return self

    def __exit__(self, kind, error, trace) -> None:
        self.photos.__exit__(kind, error, trace)
        if not connection.needs_rollback:
            _run(f"DROP TABLE {TABLE}")

    @property
    def counts(self) -> dict[str, int]:
        """Rows by status."""
        return counted(self._statuses.values())

    @property
    def is_anything_written(self) -> bool:
        return bool(self._seen or self._added)

    def fill(self, tell: Callable[[int], Any] = lambda done: None) -> None:
        """Work out every row; tells now and then how many are done."""
        for rows in self.understood.chunks():
            self._add(rows)
            tell(len(self._statuses))

    def store(self, listed: ListImport, now: datetime) -> list[Location]:
        """Store what waits and the report of it; to be called inside a transaction.

        Rows whose records were changed, added or deleted since they were read are read again first, so that
        nothing somebody saved meanwhile is lost. Returns the places that had to be made.
        """
        while moved_on := [*self._lines_whose_record_moved_on(), *self._lines_no_longer_new()]:
            self._replace(moved_on)
        places = self._make_places()
        if any(field.name == "location" for field in self.told):
            store_moves(TABLE, listed=listed, now=now, by=self.kind.by)
        self._store_objects(now)
        self._store_needs()
        self._store_report(listed)
        return places

    # ---- Rows come to wait --------------------------------------------------------------------------------

    def _add(self, rows: Iterable[RowReading]) -> None:
        """Many rows at once, each value prepared by the field it is for."""
        names = ", ".join(_name(field.column) for field in self.columns)
        for some in batched(map(self._waiting, rows), BATCH):
            _insert(
                names,
                [
                    [field.get_db_prep_save(row.get(field.attname), connection) for field in self.columns]
                    for row in some
                ],
            )

    def _waiting(self, row: RowReading) -> dict[str, Any]:
        self._statuses[row.line] = row.status
        if not row.is_stored:
            return self._report(row, record=row.instance and row.instance.pk)
        if "photo" in row.values:
            self._store_photo(row)
        told = self._told_values(row)
        if row.instance is None:
            self._added[self.kind.match_key(row.key)] = row.line
            return self._report(row, is_added=True, **told)
        thing = row.instance
        self._seen[thing.pk] = row.line, thing.version
        changes = {"version": [thing.version, thing.version + 1]}
        for field, (before, after) in row.changes.items():
            changes[field] = [as_stored(before), as_stored(after)]
        return self._report(row, record=thing.pk, is_changed=True, changes=changes, **told)

    def _report(self, row: RowReading, **more) -> dict[str, Any]:
        return {
            "line": row.line,
            "key": row.key[:200],
            "status": row.status,
            "messages": list(row.messages),
            "is_added": False,
            "is_changed": False,
            "says_need": False,
            "changes": {},
            **more,
        }

    def _told_values(self, row: RowReading) -> dict[str, Any]:
        """Every field the list tells, as the record is to have it: from the row, else as it is."""
        record, values = row.instance or _BLANK, {}
        for field in self.told:
            values[field.attname] = row.values.get(field.name, getattr(record, field.attname))
        values["number_key"] = natural_key(values["number"])
        if row.instance:
            values["number"] = row.instance.number
        if "photo" in values:
            values["photo"] = str(values["photo"])
        if "location" in row.values:
            values |= {"place": row.values["location"], "location_id": None}
        values["says_need"] = "need_said_at" in row.values
        return values

    def _store_photo(self, row: RowReading) -> None:
        """The row's photo as stored; one that is no picture leaves the recorded photo as it is."""
        row.changes.pop("photo", None)
        if stored := self.photos.store(row.values.pop("photo")):
            row.values["photo"] = stored
            if row.instance:
                row.changes["photo"] = (row.instance.photo.name, stored)

    # ---- Somebody was quicker -----------------------------------------------------------------------------

    def _lines_whose_record_moved_on(self) -> Iterator[int]:
        """Locks the records that are to be changed, so that none moves on from here."""
        for some in batched(sorted(self._seen), CHUNK):
            locked = CatalogueObject.objects.select_for_update().filter(pk__in=some).order_by("pk")
            now = dict(locked.values_list("pk", "version"))
            yield from (self._seen[pk][0] for pk in some if now.get(pk) != self._seen[pk][1])

    def _lines_no_longer_new(self) -> Iterator[int]:
        self.kind.look_anew()
        yield from (line for key, line in self._added.items() if key in self.kind.keys)

    def _replace(self, lines: list[int]) -> None:
        for some in batched(lines, CHUNK):
            _run(f"DELETE FROM {TABLE} WHERE line IN ({', '.join(['%s'] * len(some))})", list(some))
        gone = set(lines)
        self._seen = {pk: seen for pk, seen in self._seen.items() if seen[0] not in gone}
        self._added = {key: line for key, line in self._added.items() if line not in gone}
        self._add(self.understood.anew(gone))

    # ---- All at once --------------------------------------------------------------------------------------

    def _make_places(self) -> list[Location]:
        with connection.cursor() as cursor:
            cursor.execute(f"SELECT DISTINCT place FROM {TABLE} WHERE place IS NOT NULL ORDER BY place")
            made = make_missing([path for (path,) in cursor.fetchall()])
        if any(field.name == "location" for field in self.told):
            places = _name(Location._meta.db_table)
            _run(
                f"UPDATE {TABLE} SET location_id = (SELECT id FROM {places} WHERE path = {TABLE}.place) "
                "WHERE place IS NOT NULL"
            )
        return made

    def _store_objects(self, now: datetime) -> None:
        things = _name(CatalogueObject._meta.db_table)
        given = {_name(field.column): f"waits.{_name(field.column)}" for field in self.told}
        usual = {
            _name(field.column): _prepared(field, now)
            for field in CatalogueObject._meta.concrete_fields
            if not field.primary_key and field not in self.told
        }
        _run(
            f"INSERT INTO {things} ({', '.join([*given, *usual])}) "
            f"SELECT {', '.join([*given.values(), *['%s'] * len(usual)])} FROM {TABLE} waits "
            "WHERE waits.is_added ORDER BY waits.line",
            list(usual.values()),
        )
        _run(
            f"UPDATE {TABLE} SET record = (SELECT id FROM {things} WHERE number = {TABLE}.number) "
            "WHERE is_added"
        )
        fixed = {_name("number"), _name("number_key")}
        changed = [f"{column} = {value}" for column, value in given.items() if column not in fixed]
        changed += [f"version = {things}.version + 1", "changed_at = %s"]
        _run(
            f"UPDATE {things} SET {', '.join(changed)} "
            f"FROM {TABLE} waits WHERE {things}.id = waits.record AND waits.is_changed",
            [_prepared(CatalogueObject._meta.get_field("changed_at"), now)],
        )

    def _store_needs(self) -> None:
        """A stated need goes into the trail of them too."""
        if any(field.name == "need_by_hand" for field in self.told):
            _run(
                f"INSERT INTO {_name(NeedStatement._meta.db_table)} (object_id, need, note, at, by_id) "
                "SELECT record, need_by_hand, need_note, need_said_at, need_said_by_id "
                f"FROM {TABLE} WHERE says_need ORDER BY line"
            )

    def _store_report(self, listed: ListImport) -> None:
        listed.rows.all().delete()
        kept = "line, key, status, record, is_added, changes, messages"
        _run(
            f"INSERT INTO {_name(ImportedRow._meta.db_table)} (listed_id, shown, {kept}) "
            f"SELECT %s, %s, {kept} FROM {TABLE} ORDER BY line",
            [listed.pk, "{}"],
        )


def _columns(told: Iterable[models.Field]) -> list[models.Field]:
    """A waiting row: its report, and the fields of an object that its list tells."""
    fields: dict[str, models.Field] = {
        "line": models.PositiveIntegerField(),
        "key": models.CharField(max_length=200),
        "status": models.CharField(max_length=9),
        "record": models.BigIntegerField(),
        "is_added": models.BooleanField(),
        "is_changed": models.BooleanField(),
        "says_need": models.BooleanField(),
        "changes": models.JSONField(),
        "messages": models.JSONField(),
        "place": models.CharField(max_length=400),
        **{field.attname: _loose(field) for field in told},
    }
    for name, field in fields.items():
        field.set_attributes_from_name(name)
    return list(fields.values())


def _loose(field: models.Field) -> models.Field:
    """The field of a waiting row for one of an object: of the same sort, blank where nothing is stored."""
    if field.is_relation:
        return models.BigIntegerField()
    if isinstance(field, models.FileField):
        return models.CharField(max_length=field.max_length)
    return field.clone()


_BLANK = CatalogueObject()


def _prepared(field: models.Field, now: datetime) -> Any:
    """What a field that the list does not tell gets: the time where it keeps one, else its default."""
    is_time = getattr(field, "auto_now", False) or getattr(field, "auto_now_add", False)
    return field.get_db_prep_save(now if is_time else field.get_default(), connection)


def _name(name: str) -> str:
    return connection.ops.quote_name(name)


def _insert(names: str, rows: list[list]) -> None:
    """Rows into the table that waits; PostgreSQL copies them in, which takes a fraction of the time there."""
    if connection.vendor == "postgresql":
        with connection.cursor() as cursor, cursor.copy(f"COPY {TABLE} ({names}) FROM STDIN") as copy:
            for row in rows:
                copy.write_row(row)
        return
    one_row = f"({', '.join(['%s'] * len(rows[0]))})"
    values = [value for row in rows for value in row]
    _run(f"INSERT INTO {TABLE} ({names}) VALUES {', '.join([one_row] * len(rows))}", values)


def _run(sql: str, values: list | None = None) -> None:
    with connection.cursor() as cursor:
        cursor.execute(sql, values)
