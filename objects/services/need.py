"""Stating whether an object needs housing, over what follows from its present housing."""

from collections.abc import Iterable
from itertools import batched

from django.db import transaction
from django.db.models import F
from django.utils import timezone

from objects.core.refusals import Refusal
from objects.core.words import say
from objects.models import CatalogueObject, NeedStatement


class NeedRefused(Refusal):
    """A need cannot be stated like that; the message is a sentence for the reader."""


@transaction.atomic
def record_need(*, objects: Iterable[CatalogueObject], need: str, note: str, by=None) -> int:
    """Store a need that a person stated, or with a blank one take back what was said; the trail keeps both.

    Where nothing was said before there is nothing to take back. Returns how many objects changed; the version
    of each goes up. Raises NeedRefused for an unknown need or one without a note.
    """
    note = note.strip()
    if need and need not in CatalogueObject.Need.values:
        raise NeedRefused(say("“{need}” is no housing need. Choose one of the list.", need=need))
    if need and not note:
        raise NeedRefused(
            say("Say in a few words why the need is stated over what the present housing says.")
        )
    at, number = timezone.now(), 0
    for some in batched((thing.pk for thing in objects), 1000):
        chosen = CatalogueObject.objects.filter(pk__in=some)
        if not need:
            chosen = chosen.exclude(need_by_hand="")
        pks = list(chosen.select_for_update().values_list("pk", flat=True))
        NeedStatement.objects.bulk_create(
            NeedStatement(object_id=pk, need=need, note=note, by=by) for pk in pks
        )
        number += CatalogueObject.objects.filter(pk__in=pks).update(
            need_by_hand=need,
            need_note=note if need else "",
            need_said_by=by if need else None,
            need_said_at=at if need else None,
            version=F("version") + 1,
        )
    return number
