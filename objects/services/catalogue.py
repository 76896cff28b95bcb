"""What changes the catalogue: saving an object without overwriting anybody, and moving a location."""

from typing import Any

from django.db import transaction
from django.utils import timezone

from objects.core.words import noted, say
from objects.models import CatalogueObject, Location
from objects.models.locations import SEPARATOR
from objects.queries.catalogue import inside
from objects.services.moves import keep_move
from objects.services.need import record_need
from objects.services.sizes import SIZE_FIELDS, keep_size_before, keep_typed_size, said_by

NEED_FIELDS = ("need_by_hand", "need_note")


class EditConflict(Exception):
    """Somebody else saved the object after it was read for editing."""


@transaction.atomic
def save_object(
    *,
    thing: CatalogueObject,
    changes: dict[str, Any],
    seen_version: int | None = None,
    size_checked: bool = False,
    by=None,
) -> CatalogueObject:
    """Store the changed fields of a new or known object; sizes in mm.

    seen_version: the version the person saw; None for a new object. size_checked: a person says that a size
    that was to be checked is right as it stands. by: who says it; kept with a need that is stated, and with
    a change of place.
    Raises EditConflict, with nothing stored, when the object has moved on from that version.
    """
    if thing.pk and not _take_turn(thing, seen_version):
        raise EditConflict(say("{thing} was changed by somebody else.", thing=thing))
    said = {name: changes[name] for name in NEED_FIELDS if name in changes}
    changes = {name: value for name, value in changes.items() if name not in said}
    is_typed = any(name in changes for name in SIZE_FIELDS) and (
        thing.pk or any(map(changes.get, SIZE_FIELDS))
    )
    if thing.pk and is_typed:
        keep_size_before(thing=CatalogueObject.objects.get(pk=thing.pk))
    if thing.pk and "location" in changes:
        before = CatalogueObject.objects.select_related("location").get(pk=thing.pk).location
        keep_move(
            thing=thing, before=before, place=changes["location"], by=by, note=noted("Typed on its page")
        )
    for name, value in changes.items():
        setattr(thing, name, value)
    thing.size_state = _size_state(thing, bool(size_checked or is_typed))
    at = timezone.now()
    if is_typed:
        thing.dimensions_note = noted("Size typed {said_by}.").format(said_by=said_by(by, at))
    elif size_checked:
        checked = noted("Size checked {said_by}.").format(said_by=said_by(by, at))
        thing.dimensions_note = f"{checked} {thing.dimensions_note}"[:500]
    if thing.pk:
        thing.save(update_fields=[*changes, "number_key", "size_state", "dimensions_note", "changed_at"])
    else:
        thing.save()
    if is_typed or size_checked:
        keep_typed_size(thing=thing, by=by, at=at)
    if said:
        need = said.get("need_by_hand", thing.need_by_hand)
        record_need(
            objects=[thing], need=need, note=said.get("need_note", thing.need_note if need else ""), by=by
        )
        thing.refresh_from_db(fields=[*NEED_FIELDS, "need_said_by", "need_said_at", "version"])
    return thing


def _take_turn(thing: CatalogueObject, seen_version: int | None) -> bool:
    """Count the version up if it is still the one that was seen: of two people saving at once, one wins."""
    if seen_version is None:
        return False
    seen = CatalogueObject.objects.filter(pk=thing.pk, version=seen_version)
    thing.version = seen_version + 1
    return bool(seen.update(version=seen_version + 1))


def _size_state(thing: CatalogueObject, looked_at: bool) -> str:
    if None in thing.sides_mm:
        return CatalogueObject.SizeState.MISSING
    if thing.size_state == CatalogueObject.SizeState.CHECK and not looked_at:
        return CatalogueObject.SizeState.CHECK
    return CatalogueObject.SizeState.KNOWN


@transaction.atomic
def save_location(*, location: Location) -> Location:
    """Store a location; when its name or place changed, everything inside it moves along."""
    before = Location.objects.filter(pk=location.pk).first() if location.pk else None
    location.save()
    if before and before.path != location.path:
        below = list(Location.objects.filter(inside(before)).exclude(pk=location.pk))
        for place in below:
            place.path = location.path + SEPARATOR + place.path.removeprefix(before.path + SEPARATOR)
        Location.objects.bulk_update(below, ["path"], batch_size=200)
    return location
