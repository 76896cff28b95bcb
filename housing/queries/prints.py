"""The boxes to print for a selection of objects, with all that their sheets and labels show."""

from collections.abc import Iterable

from django.db.models import Count, Exists, Min, OuterRef, Prefetch, QuerySet

from housing.models import Campaign, HousedObject, Housing, Person, PlannedBlank, Task
from objects.core.numbers import natural_key
from objects.models import CatalogueObject, Location
from objects.queries.catalogue import inside

BY_NUMBER, BY_LOCATION = "number", "location"


def selected_objects(
    *,
    ticked: Iterable[int] = (),
    campaign: Campaign | None = None,
    location: Location | None = None,
    person: Person | None = None,
    week: int | None = None,
) -> QuerySet[CatalogueObject]:
    """Objects that meet every condition given: among those ticked, in the campaign, at the location.

    person: who has a step of their box to do. week: in which week of the campaign a step is to be done.
    """
    objects = CatalogueObject.objects.all()
    if ticked:
        objects = objects.filter(pk__in=ticked)
    if campaign:
        objects = objects.filter(campaigns=campaign)
    if location:
        objects = objects.filter(inside(location, "location__path"))
    if person or week:
        steps = Task.objects.filter(housing__contents__object=OuterRef("pk"), housing__contents__is_live=True)
        steps = steps.filter(person=person) if person else steps
        objects = objects.filter(Exists(steps.filter(week=week) if week else steps))
    return objects


def in_order(objects: QuerySet[CatalogueObject], order: str = BY_LOCATION) -> list[int]:
    """Keys of objects in the order of the shelves as one walks along them, or by number.

    Those without a place come last. Figures in the names of places count as numbers: Bay 2 before Bay 10.
    """
    rows = objects.order_by("number_key", "pk").values_list("pk", "location__path")
    if order == BY_LOCATION:
        return [pk for pk, _ in sorted(rows, key=lambda row: walking_key(row[1]))]
    return [pk for pk, _ in rows]


def walking_key(path: str | None) -> tuple[bool, str]:
    """What places are sorted by."""
    return path is None, natural_key(path or "")


def boxes_of(objects: QuerySet[CatalogueObject], order: str = BY_NUMBER) -> list[int]:
    """Keys of the boxes in hand that have blanks and hold one of the objects, by its number or its place."""
    boxes = (
        Housing.objects.filter(contents__is_live=True, contents__object__in=objects)
        .annotate(
            first=Min("contents__object__number_key"),
            place=Min("contents__object__location__path"),
            blank_count=Count("blanks"),
        )
        .filter(blank_count__gt=0)
        .order_by("first", "pk")
    )
    rows = boxes.values_list("pk", "place")
    if order == BY_LOCATION:
        return [pk for pk, _ in sorted(rows, key=lambda row: walking_key(row[1]))]
    return [pk for pk, _ in rows]


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


def objects_to_fetch(keys: Iterable[int]) -> list[CatalogueObject]:
    """Objects in the order of their keys, with their places and the boxes made for them."""
    keys = list(keys)
    live = HousedObject.objects.filter(is_live=True).select_related("housing")
    objects = CatalogueObject.objects.select_related("location").prefetch_related(
        Prefetch("housing_ties", live, to_attr="live_ties")
    )
    found = objects.in_bulk(keys)
    return [found[key] for key in keys if key in found]


def shelves_of(objects: QuerySet[CatalogueObject], order: str = BY_LOCATION) -> list[int]:
    """Keys of the places where some of the objects are kept in boxes, as one walks along them."""
    ties = HousedObject.objects.filter(is_live=True, object__in=objects, object__location__isnull=False)
    places = ties.order_by().values_list("object__location", "object__location__path").distinct()
    return [pk for pk, _ in sorted(places, key=lambda place: walking_key(place[1]))]


def boxes_on_shelves(
    keys: Iterable[int],
) -> list[tuple[Location, list[tuple[Housing, list[CatalogueObject]]]]]:
    """Each place with its boxes by number, and what is in each; whatever else is in a box kept elsewhere."""
    keys = list(keys)
    places = Location.objects.in_bulk(keys)
    ties = (
        HousedObject.objects.filter(is_live=True, object__location__in=keys)
        .select_related("housing", "object")
        .order_by("object__location", "housing", "position")
    )
    found: dict[int, dict[Housing, list[CatalogueObject]]] = {}
    for tie in ties:
        found.setdefault(tie.object.location_id, {}).setdefault(tie.housing, []).append(tie.object)
    return [(places[key], list(found[key].items())) for key in keys if key in places and key in found]
