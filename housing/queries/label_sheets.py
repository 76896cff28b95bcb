"""Label sheets to choose from, and the usual one of a paper."""

from django.db.models import QuerySet

from housing.models import LabelSheet

NEAR_MM = 1  # a page this near to a paper is that paper


def label_sheets() -> QuerySet[LabelSheet]:
    """All label sheets by name."""
    return LabelSheet.objects.order_by("name")


def usual_sheet(width_mm: float, height_mm: float) -> LabelSheet | None:
    """The first sheet by its age whose page is a paper of this size, else the oldest of all."""
    ours = LabelSheet.objects.order_by("pk")
    near = ours.filter(
        page_width_mm__range=(width_mm - NEAR_MM, width_mm + NEAR_MM),
        page_height_mm__range=(height_mm - NEAR_MM, height_mm + NEAR_MM),
    )
    return near.first() or ours.first()
