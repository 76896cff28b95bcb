"""Changes of an object's place: each is kept, with who and when."""

from datetime import datetime

from django.db import transaction
from django.utils import timezone

from objects.models import CatalogueObject, Location, ObjectMove

LONGEST_NOTE = 200


@transaction.atomic
def move_object(
    *,
    thing: CatalogueObject,
    place: Location | None,
    by=None,
    note: str = "",
    at: datetime | None = None,
) -> ObjectMove | None:
    """Put an object to another place and keep where it was. Returns None where it is there already."""
    held = CatalogueObject.objects.select_for_update(of=("self",)).select_related("location").get(pk=thing.pk)
    if held.location_id == (place.pk if place else None):
        return None
    move = keep_move(thing=held, before=held.location, place=place, by=by, note=note, at=at)
    held.location = place
    held.version += 1
    held.save(update_fields=["location", "version", "changed_at"])
    thing.location, thing.version = place, held.version
    return move


def keep_move(
    *, thing: CatalogueObject, before: Location | None, place: Location | None, **more
) -> ObjectMove | None:
    """Keep that an object went from one place to another, where whoever calls stores the place itself."""
    if (before.pk if before else None) == (place.pk if place else None):
        return None
    move = new_move(thing=thing, before=before, place=place, **more)
    move.save()
    return move


def new_move(
    *,
    thing: CatalogueObject,
    before: Location | None,
    place: Location | None,
    by=None,
    note: str = "",
    at: datetime | None = None,
) -> ObjectMove:
    """A move that is not stored yet, for those who store many at once."""
    return ObjectMove(
        object=thing,
        place_before=before,
        place=place,
        path_before=before.path if before else "",
        path=place.path if place else "",
        note=note[:LONGEST_NOTE],
        at=at or timezone.now(),
        by=by,
    )
