"""Objects with all that a list taken out of the planner tells of them, in one query."""

from django.db.models import F, OuterRef, QuerySet, Subquery

from housing.models import Housing, HousingEvent
from housing.queries.objects import objects_with_status
from objects.models import CatalogueObject, ListImport


def objects_to_export() -> QuerySet[CatalogueObject]:
    """Objects with status and place, `box_height_mm`, `box_width_mm` and `box_depth_mm` of the closed box's
    outside, and `housed_at`, when the object was put into it last."""
    housed = HousingEvent.objects.filter(
        housing=OuterRef("tie__housing"), status=Housing.Status.HOUSED
    ).order_by("-at", "-pk")
    return (
        objects_with_status()
        .select_related("location")
        .annotate(
            box_height_mm=F("tie__housing__outside_z_mm"),
            box_width_mm=F("tie__housing__outside_x_mm"),
            box_depth_mm=F("tie__housing__outside_y_mm"),
            housed_at=Subquery(housed.values("at")[:1]),
        )
    )


def lists_with_headings() -> QuerySet[ListImport]:
    """Lists of objects whose headings can be used again, the one saved last first; without their files."""
    return (
        ListImport.objects.filter(kind=ListImport.Kind.OBJECTS, state=ListImport.State.SAVED)
        .exclude(format=ListImport.Format.LIDO)
        .defer("data")
        .order_by("-saved_at", "-pk")
    )
