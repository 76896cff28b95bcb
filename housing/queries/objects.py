"""Objects with how far each is housed: the one place that says what counts as still unhoused."""

from collections.abc import Collection
from functools import reduce
from operator import or_

from django.db.models import (
    Case,
    CharField,
    Exists,
    F,
    FilteredRelation,
    OuterRef,
    Q,
    QuerySet,
    Subquery,
    Value,
    When,
)
from django.utils.translation import gettext_lazy as _

from housing.core.need import ADEQUATE, NEED_OF_HOUSING, POOR
from housing.core.need import NOT_NEEDED as NEEDS_NONE
from housing.core.need import UNHOUSED as IN_NEED
from housing.models import Campaign, CampaignObject, HousedObject, Housing
from objects.models import CatalogueObject

UNHOUSED, POORLY_HOUSED = "unhoused", "poorly_housed"
HOUSED_BEFORE, NOT_NEEDED = "housed_before", "not_needed"
STATUS_NAMES = {
    UNHOUSED: _("Unhoused, no box yet"),
    POORLY_HOUSED: _("Poorly housed, no box yet"),
    **{status: label for status, label in Housing.Status.choices if status != Housing.Status.DROPPED},
    HOUSED_BEFORE: _("Adequate already"),
    NOT_NEEDED: _("Needs none"),
}
# A box is planned or made, but the object is not yet in it on its shelf.
BOX_IN_HAND = (
    Housing.Status.WAITING.value,
    Housing.Status.PLANNED.value,
    Housing.Status.IN_WORK.value,
    Housing.Status.MADE.value,
)
STILL_UNHOUSED = (UNHOUSED, POORLY_HOUSED, *BOX_IN_HAND)
STATUS_OF_NEED = {
    IN_NEED: UNHOUSED,
    POOR: POORLY_HOUSED,
    ADEQUATE: HOUSED_BEFORE,
    NEEDS_NONE: NOT_NEEDED,
}


def _needs(need: str) -> Q:
    """Objects with a need: stated by a person, or else following from their present housing."""
    follows = [housing for housing, its in NEED_OF_HOUSING.items() if its == need]
    return Q(need_by_hand=need) | Q(need_by_hand="", present_housing__in=follows)


def objects_with_status() -> QuerySet[CatalogueObject]:
    """All objects with `housing_status`, `housing_need`, `live_housing` and `live_problem` by the database.

    The status is that of the housing in hand, if there is one, and else what the need amounts to. The need is
    met by the box an object lies in; else it is what a person stated, or what the present housing says.
    """
    return CatalogueObject.objects.annotate(
        tie=FilteredRelation("housing_ties", condition=Q(housing_ties__is_live=True)),
        live_housing=F("tie__housing"),
        live_problem=F("tie__housing__problem"),
        housing_status=Case(
            When(tie__housing__status__isnull=False, then=F("tie__housing__status")),
            *(When(_needs(need), then=Value(status)) for need, status in STATUS_OF_NEED.items()),
            output_field=CharField(),
        ),
        housing_need=Case(
            When(tie__housing__status=Housing.Status.HOUSED, then=Value(ADEQUATE)),
            *(When(_needs(need), then=Value(need)) for need in STATUS_OF_NEED),
            output_field=CharField(),
        ),
    )


def has_status(statuses: Collection[str]) -> Q:
    """The condition that an object is at one of several statuses, as objects_with_status() tells it.

    It joins no table to all objects: the database looks up the boxes that are at such a status.
    """
    ties = HousedObject.objects.filter(is_live=True).order_by()
    boxed = Q(pk__in=ties.filter(housing__status__in=statuses).values("object"))
    needs = [need for need, status in STATUS_OF_NEED.items() if status in statuses]
    if not needs:
        return boxed
    boxless = reduce(or_, map(_needs, needs)) & ~Exists(ties.filter(object=OuterRef("pk")))
    return boxless | boxed if set(statuses) & set(Housing.Status.values) else boxless


def with_batch(objects: QuerySet[CatalogueObject], campaign: Campaign) -> QuerySet[CatalogueObject]:
    """Objects with `batch`, the one that each is due with in a campaign; none for those not in it."""
    due = CampaignObject.objects.filter(campaign=campaign, object=OuterRef("pk"))
    return objects.annotate(batch=Subquery(due.values("batch")))


def status_name(status: str) -> str:
    """A status in the words of the pages."""
    return str(STATUS_NAMES[status])


def housing_of(thing: CatalogueObject) -> Housing | None:
    """The housing in hand of an object with all its page shows, or None."""
    return (
        Housing.objects.filter(contents__object=thing, contents__is_live=True)
        .select_related("design__board", "campaign")
        .prefetch_related("blanks", "events__by", "tasks__person", "contents__object")
        .first()
    )


def boxes_in_hand(things: QuerySet[CatalogueObject]) -> list[Housing]:
    """The boxes that some objects have now, in the order of their numbers."""
    return list(Housing.objects.filter(contents__object__in=things, contents__is_live=True).distinct())


def dropped_housings_of(thing: CatalogueObject) -> QuerySet[Housing]:
    """Housings an object once had, newest first."""
    return Housing.objects.filter(contents__object=thing, status=Housing.Status.DROPPED).order_by("-pk")
