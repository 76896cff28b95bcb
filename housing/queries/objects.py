"""Objects with how far each is housed: the one place that says what counts as still unhoused."""

from django.db.models import (
    Case,
    CharField,
    F,
    FilteredRelation,
    OuterRef,
    Q,
    QuerySet,
    Subquery,
    Value,
    When,
)

from housing.models import Campaign, CampaignObject, Housing
from objects.models import CatalogueObject

UNHOUSED, HOUSED_BEFORE, NOT_NEEDED = "unhoused", "housed_before", "not_needed"
STATUS_NAMES = {
    UNHOUSED: "Unhoused",
    **{status: label for status, label in Housing.Status.choices if status != Housing.Status.DROPPED},
    HOUSED_BEFORE: "Adequate already",
    NOT_NEEDED: "Needs none",
}
STILL_UNHOUSED = (
    UNHOUSED,
    Housing.Status.WAITING.value,
    Housing.Status.PLANNED.value,
    Housing.Status.IN_WORK.value,
    Housing.Status.MADE.value,
)


def objects_with_status() -> QuerySet[CatalogueObject]:
    """All objects with `housing_status`, `live_housing` and `live_problem` worked out by the database.

    The status is that of the housing in hand, if there is one, and else what the present housing amounts to.
    """
    present = CatalogueObject.PresentHousing
    return CatalogueObject.objects.annotate(
        tie=FilteredRelation("housing_ties", condition=Q(housing_ties__is_live=True)),
        live_housing=F("tie__housing"),
        live_problem=F("tie__housing__problem"),
        housing_status=Case(
            When(tie__housing__status__isnull=False, then=F("tie__housing__status")),
            When(present_housing=present.ADEQUATE, then=Value(HOUSED_BEFORE)),
            When(present_housing=present.NOT_NEEDED, then=Value(NOT_NEEDED)),
            default=Value(UNHOUSED),
            output_field=CharField(),
        ),
    )


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


def dropped_housings_of(thing: CatalogueObject) -> QuerySet[Housing]:
    """Housings an object once had, newest first."""
    return Housing.objects.filter(contents__object=thing, status=Housing.Status.DROPPED).order_by("-pk")
