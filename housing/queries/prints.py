"""The boxes to print for a selection of objects, with all that their sheets and labels show."""

from collections.abc import Iterable

from django.db.models import Count, Min, Prefetch, QuerySet

from housing.models import Campaign, HousedObject, Housing, PlannedBlank
from objects.models import CatalogueObject, Location
from objects.queries.catalogue import inside


def selected_objects(
    *, ticked: Iterable[int] = (), campaign: Campaign | None = None, location: Location | None = None
) -> QuerySet[CatalogueObject]:
    """Objects that meet every condition given: among those ticked, in the campaign, at the location."""
    objects = CatalogueObject.objects.all()
    if ticked:
        objects = objects.filter(pk__in=ticked)
    if campaign:
        objects = objects.filter(campaigns=campaign)
    if location:
        objects = objects.filter(inside(location, "location__path"))
    return objects


def boxes_of(objects: QuerySet[CatalogueObject]) -> list[int]:
    """Keys of the boxes in hand that have blanks and hold one of the objects, by object number."""
    boxes = (
        Housing.objects.filter(contents__is_live=True, contents__object__in=objects)
        .annotate(first=Min("contents__object__number_key"), blank_count=Count("blanks"))
        .filter(blank_count__gt=0)
        .order_by("first", "pk")
    )
    return list(boxes.values_list("pk", flat=True))


def number_without_box(objects: QuerySet[CatalogueObject], boxes: Iterable[int]) -> int:
    """How many of the objects are in none of the boxes."""
    return objects.exclude(
        housing_ties__in=HousedObject.objects.filter(housing__in=boxes, is_live=True)
    ).count()


def boxes_to_print(keys: Iterable[int]) -> list[Housing]:
    """The boxes in the order of their keys, with contents, blanks, places on the cutting plan and the
    blanks from whose corners others are cut."""
    keys = list(keys)
    ties = HousedObject.objects.filter(is_live=True).select_related("object__location")
    places = PlannedBlank.objects.select_related(
        "sheet__offcut", "sheet__plan", "host__blank__housing"
    ).defer("sheet__cuts", "host__blank__geometry", "host__blank__assembly")
    boxes = (
        Housing.objects.filter(pk__in=keys)
        .select_related("design__board", "campaign__plan")
        .prefetch_related(
            Prefetch("contents", ties),
            "blanks",
            "design__board__statements",
            Prefetch("blanks__placements", places),
            Prefetch("blanks__placements__host__blank__housing__contents", ties),
        )
        .in_bulk()
    )
    return [boxes[key] for key in keys if key in boxes]
