"""Stating the need for housing of objects, which a box they already lie in answers by itself."""

from django.db import transaction
from django.db.models import QuerySet

from housing.models import HousedObject, Housing
from objects.core.words import say, say_count
from objects.models import CatalogueObject
from objects.services.need import NeedRefused, record_need


@transaction.atomic
def state_needs(*, objects: QuerySet[CatalogueObject], need: str, note: str = "", by=None) -> int:
    """State the need of some objects over their present housing; a blank one takes back what was said.

    All are changed or none. Returns how many changed; raises NeedRefused without a note, and for objects that
    lie in a box made for them.
    """
    things = list(objects.only("pk", "number"))
    housed = HousedObject.objects.filter(
        object__in=objects, is_live=True, housing__status=Housing.Status.HOUSED
    ).order_by("object__number_key")
    if need and (tie := housed.select_related("object", "housing").first()):
        housed_number = housed.count()
        told = {"number": tie.object.number, "box": tie.housing}
        if housed_number == 1:
            raise NeedRefused(
                say(
                    "{number} lies in a box made for it. Nothing is stored. If {box} is no good, drop it "
                    "on the "
                    "object's page first; then the object counts as unhoused again.",
                    **told,
                )
            )
        raise NeedRefused(
            say_count(
                "{number} and {count} other lie in a box made for it. Nothing is stored. If {box} is no "
                "good, drop "
                "it on the object's page first; then the object counts as unhoused again.",
                "{number} and {count} others lie in a box made for it. Nothing is stored. If {box} is no "
                "good, drop "
                "it on the object's page first; then the object counts as unhoused again.",
                housed_number - 1,
                **told,
            )
        )
    return record_need(objects=things, need=need, note=note, by=by)


def state_need(*, thing: CatalogueObject, need: str, note: str = "", by=None) -> CatalogueObject:
    """State the need of one object, or with a blank one take back what was said. Returns it as stored."""
    state_needs(objects=CatalogueObject.objects.filter(pk=thing.pk), need=need, note=note, by=by)
    thing.refresh_from_db(fields=["need_by_hand", "need_note", "need_said_by", "need_said_at", "version"])
    return thing
