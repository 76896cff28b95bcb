"""Objects that a list puts elsewhere: kept with all the rows of the list at once."""

from datetime import datetime
from typing import Any

from django.db import connection

from objects.core.words import noted
from objects.models import CatalogueObject, ListImport, Location, ObjectMove
from objects.services.moves import LONGEST_NOTE


def list_note(listed: ListImport) -> str:
    """What the trail of moves says of a list."""
    return noted("List {name}").format(name=listed.file_name)[:LONGEST_NOTE]


def store_moves(waiting: str, *, listed: ListImport, now: datetime, by: Any) -> None:
    """Keep from where to where objects go by the rows that wait in a table, before they are told so
    themselves. waiting: the table, with record, is_changed and location_id of each row."""
    moves, things, places = (
        connection.ops.quote_name(model._meta.db_table) for model in (ObjectMove, CatalogueObject, Location)
    )
    told = {"note": list_note(listed), "at": now, "by": by and by.pk}
    fields = [ObjectMove._meta.get_field(name) for name in told]
    given = ", ".join(f"CAST(%s AS {_kind(field)})" for field in fields)
    values = [field.get_db_prep_save(told[field.name], connection) for field in fields]
    with connection.cursor() as cursor:
        cursor.execute(
            f"INSERT INTO {moves} (object_id, place_before_id, place_id, path_before, path, note, at, by_id) "
            "SELECT thing.id, former.id, latter.id, COALESCE(former.path, ''), COALESCE(latter.path, ''), "
            f"{given} FROM {waiting} waits "
            f"JOIN {things} thing ON thing.id = waits.record "
            f"LEFT JOIN {places} former ON former.id = thing.location_id "
            f"LEFT JOIN {places} latter ON latter.id = waits.location_id "
            "WHERE waits.is_changed AND COALESCE(former.id, 0) <> COALESCE(latter.id, 0) "
            "ORDER BY waits.line",
            values,
        )


def _kind(field: Any) -> str:
    """What the database calls the values of a field; SQLite keeps times as text, a cast would cut them."""
    return "text" if connection.vendor == "sqlite" and field.name == "at" else field.db_type(connection)
