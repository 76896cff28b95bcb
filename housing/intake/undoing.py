"""Undoing a saved list as long as nothing was built on it: what it added goes, what it changed returns."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from itertools import batched, islice

from django.db import IntegrityError, connection, transaction
from django.db.models import Q
from django.urls import reverse
from django.utils import timezone

from housing.intake.imports import silent
from housing.models import Campaign, CampaignObject, HousedObject
from housing.services.nesting import Progress
from housing.services.outdating import outdate
from objects.core.refusals import Refusal
from objects.core.words import noted, say
from objects.intake.kinds import overwrite
from objects.intake.moves import list_note
from objects.intake.preview import CHUNK
from objects.models import (
    CatalogueObject,
    ImportedRow,
    ListImport,
    Location,
    NeedStatement,
    ObjectMove,
    SurveyEntry,
)
from objects.services.moves import new_move

Kind, State = ListImport.Kind, ListImport.State
OBSTACLES_SHOWN = 10


@dataclass(frozen=True)
class Obstacle:
    """One thing that stands in the way: what it is about, where to look, and why."""

    words: str
    url: str
    why: str


class UndoRefused(Refusal):
    """A list cannot be undone; the message is a sentence for the reader, obstacles the first few reasons."""

    def __init__(self, message: str, obstacles: Iterable[Obstacle] = ()) -> None:
        super().__init__(message)
        self.obstacles = list(obstacles)


def undo_list(*, listed: ListImport, by=None, progress: Progress = silent) -> ListImport:
    """Take back all that a saved list of objects or places did, or nothing of it.

    Raises UndoRefused where something was built on it since, and for lists of other kinds.
    """
    require_undoable(listed)
    total = listed.rows.count()
    for place, rows in enumerate(batched(_written(listed), CHUNK)):  # looked at first, without any lock
        _refuse_obstacles(_obstacles(listed, rows))
        progress(40 * place * CHUNK // max(total, 1), say("Looking whether anything was built on it"))
    progress(40, say("Taking all rows back at once; this takes a moment and cannot be stopped"))
    try:
        with transaction.atomic():
            _take_back(listed, by)
    except IntegrityError as error:
        raise UndoRefused(
            say("Something was built on this list at the very same moment, so nothing was undone. Try again.")
        ) from error
    listed.refresh_from_db(fields=["state", "undone_at", "undone_by"])
    return listed


def _take_back(listed: ListImport, by) -> None:
    listed = ListImport.objects.select_for_update().defer("data").get(pk=listed.pk)
    require_undoable(listed)
    is_of_objects = listed.kind == Kind.OBJECTS
    for rows in batched(_written(listed), CHUNK):
        if is_of_objects:
            _take_back_changes(listed, rows, by)
        else:
            _take_back_places(listed, rows)
    if is_of_objects:
        _take_back_added(listed)
    _take_back_made_places(listed)
    listed.state, listed.undone_at, listed.undone_by = State.UNDONE, timezone.now(), by
    listed.save(update_fields=["state", "undone_at", "undone_by"])


def require_undoable(listed: ListImport) -> None:
    """Raises UndoRefused for a list that cannot be undone whatever else there is."""
    if listed.kind not in (Kind.OBJECTS, Kind.LOCATIONS):
        raise UndoRefused(
            say(
                "Only lists of objects and of locations can be undone, and this is one of {kind}. "
                "Change its records on their own pages, or hand in a corrected list.",
                kind=listed.get_kind_display().lower(),
            )
        )
    if listed.state != State.SAVED:
        raise UndoRefused(
            say(
                "“{file_name}” is {state}; nothing is to undo.",
                file_name=listed.file_name,
                state=listed.get_state_display().lower(),
            )
        )
    if "places_made" not in listed.reading:  # what it did was not kept row by row then
        raise UndoRefused(
            say(
                "“{file_name}” was saved before lists could be undone. Hand in a corrected list.",
                file_name=listed.file_name,
            )
        )


def _written(listed: ListImport) -> Iterator[ImportedRow]:
    """Rows that made or changed a record."""
    return listed.rows.filter(Q(is_added=True) | ~Q(changes={})).iterator(chunk_size=CHUNK)


def _refuse_obstacles(obstacles: Iterator[Obstacle]) -> None:
    if found := list(islice(obstacles, OBSTACLES_SHOWN)):
        raise UndoRefused(
            say(
                "Something was built on this list since, so nothing of it was undone. Take back what stands "
                "in the way first, or change the records by hand."
            ),
            found,
        )


def _obstacles(listed: ListImport, rows: Iterable[ImportedRow]) -> Iterator[Obstacle]:
    if listed.kind == Kind.OBJECTS:
        yield from _object_obstacles(listed, {row.record: row for row in rows})
    else:
        yield from _place_obstacles(listed, {row.record: row for row in rows})


# ---- Objects ----------------------------------------------------------------------------------------------


def _object_obstacles(listed: ListImport, rows: dict[int, ImportedRow]) -> Iterator[Obstacle]:
    """An object that was added must have no ties; one that was changed none that came since."""
    things = CatalogueObject.objects.only("pk", "number", "name", "version").in_bulk(rows)
    for pk, row in rows.items():
        seen = 1 if row.is_added else row.changes.get("version", [0, 0])[1]
        if pk not in things:
            yield Obstacle(row.key, "", say("it was deleted since the list was saved"))
        elif things[pk].version != seen:
            yield _of(things[pk], say("it was changed since the list was saved, by a person or another list"))
    added = [pk for pk, row in rows.items() if row.is_added]
    yield from _ties(Q(object__in=added))
    changed = [pk for pk, row in rows.items() if not row.is_added]
    yield from _ties(Q(object__in=changed), since=listed.saved_at)


def _ties(of_objects: Q, since: datetime | None = None) -> Iterator[Obstacle]:
    housed = HousedObject.objects.filter(of_objects).select_related("object")
    surveyed = SurveyEntry.objects.filter(of_objects).select_related("object")
    if since:
        housed = housed.filter(housing__created_at__gte=since)
        surveyed = surveyed.filter(received_at__gte=since)
    else:
        for tie in CampaignObject.objects.filter(of_objects).select_related("object", "campaign"):
            yield _of(tie.object, say("it is in the campaign “{campaign}”", campaign=tie.campaign))
    for tie in housed:
        yield _of(tie.object, say("a housing is planned or made for it"))
    for entry in surveyed:
        yield _of(
            entry.object, say("it was surveyed on {measured_at:%Y-%m-%d}", measured_at=entry.measured_at)
        )


def _of(thing: CatalogueObject, why: str) -> Obstacle:
    return Obstacle(str(thing), reverse("housing:object-detail", args=[thing.pk]), why)


def _take_back_changes(listed: ListImport, rows: tuple[ImportedRow, ...], by) -> None:
    records = {row.record: row for row in rows}
    changed = [pk for pk, row in records.items() if not row.is_added]
    # Locked first, so that what is looked at stays as it is.
    locked = CatalogueObject.objects.select_for_update(of=("self",)).order_by("pk")
    list(locked.filter(pk__in=list(records)).values_list("pk"))
    _refuse_obstacles(_object_obstacles(listed, records))
    things = CatalogueObject.objects.select_related("location").in_bulk(changed)
    places = _former_places(rows)
    statements, moves = [], []
    for pk in changed:
        thing, changes = things[pk], records[pk].changes
        for field, (before, _) in changes.items():
            if field == "location":
                place = places[before] if before else None
                moves.append(
                    new_move(
                        thing=thing,
                        before=thing.location,
                        place=place,
                        by=by,
                        note=noted("Undone: {before}").format(before=list_note(listed)),
                    )
                )
                thing.location = place
            elif field != "version":
                attribute = CatalogueObject._meta.get_field(field)
                setattr(thing, attribute.attname, attribute.to_python(before))
        thing.version += 1
        if "need_by_hand" in changes or "need_note" in changes:
            note = (
                thing.need_note
                or noted("Undone: what the list {name} said").format(name=listed.file_name)[:300]
            )
            statements.append(NeedStatement(object=thing, need=thing.need_by_hand, note=note, by=by))
    overwrite([things[pk] for pk in changed])
    NeedStatement.objects.bulk_create(statements)
    ObjectMove.objects.bulk_create(moves)
    concerned = Campaign.objects.filter(is_closed=False, memberships__object__in=changed)
    outdate(Campaign.objects.filter(pk__in=concerned.values("pk")))


def _take_back_added(listed: ListImport) -> None:
    """One statement, since 100,000 objects taken one by one would keep others waiting.

    Whatever still holds on to one of them makes the database refuse it.
    """
    added = listed.rows.filter(is_added=True).values("record")
    NeedStatement.objects.filter(object__in=added).delete()
    things, rows = (connection.ops.quote_name(m._meta.db_table) for m in (CatalogueObject, ImportedRow))
    with connection.cursor() as cursor:
        cursor.execute(
            f"DELETE FROM {things} WHERE id IN (SELECT record FROM {rows} WHERE listed_id = %s AND is_added)",
            [listed.pk],
        )


def _former_places(rows: Iterable[ImportedRow]) -> dict[str, Location]:
    paths = {row.changes["location"][0]: row for row in rows if "location" in row.changes}
    places = {place.path: place for place in Location.objects.filter(path__in=list(paths))}
    _refuse_obstacles(
        Obstacle(row.key, "", say("the place where it was, {path}, is no longer there", path=path))
        for path, row in paths.items()
        if path and path not in places
    )
    return places


# ---- Places -----------------------------------------------------------------------------------------------


def _place_obstacles(listed: ListImport, rows: dict[int, ImportedRow]) -> Iterator[Obstacle]:
    places = Location.objects.in_bulk(rows)
    for pk, row in rows.items():
        if pk not in places:
            yield Obstacle(row.key, "", say("it was deleted since the list was saved"))
            continue
        now = {field: getattr(places[pk], field) for field in row.changes}
        if any(now[field] != after for field, (_, after) in row.changes.items()):
            yield _of_place(places[pk], say("it was changed since the list was saved"))
    added = {pk for pk, row in rows.items() if row.is_added} | set(listed.reading.get("places_made", ()))
    ours = Location.objects.filter(pk__in=added)
    for place in ours.filter(kept_here__isnull=False).distinct():
        yield _of_place(place, say("objects are kept there"))
    for place in Location.objects.filter(parent__in=added).exclude(pk__in=added):
        yield _of_place(place, say("it was put into a place of the list since the list was saved"))


def _of_place(place: Location, why: str) -> Obstacle:
    return Obstacle(place.path, reverse("objects:location-list"), why)


def _take_back_places(listed: ListImport, rows: tuple[ImportedRow, ...]) -> None:
    records = {row.record: row for row in rows}
    places = Location.objects.select_for_update(of=("self",)).in_bulk(sorted(records))
    _refuse_obstacles(_place_obstacles(listed, records))
    changed = [places[pk] for pk, row in records.items() if not row.is_added]
    for place in changed:
        for field, (before, _) in records[place.pk].changes.items():
            setattr(place, field, before)
    overwrite(changed)


def _take_back_made_places(listed: ListImport) -> None:
    """Places that the list made and nobody uses, from the shelves up to the buildings."""
    made = Location.objects.filter(pk__in=listed.reading.get("places_made", ()))
    visited = SurveyEntry.objects.exclude(place=None).values("place")
    while made.filter(kept_here=None, children=None).exclude(pk__in=visited).delete()[0]:
        pass
