"""What a label's code leads to: its box, and for a box that was dropped the one in its place."""

from housing.models import Housing, HousingEvent


def box_of_code(code: str) -> Housing | None:
    """The box whose label carries a code, with its contents, or None."""
    return Housing.objects.filter(code=code).prefetch_related("contents__object").first()


def dropped_how(housing: Housing) -> HousingEvent | None:
    """The step with which a box was dropped."""
    return housing.events.filter(status=Housing.Status.DROPPED).select_related("by").last()


def boxes_instead(housing: Housing) -> list[Housing]:
    """The boxes that the objects of a dropped box have now, in the order of their numbers."""
    objects = housing.contents.values("object")
    now = Housing.objects.filter(contents__object__in=objects, contents__is_live=True)
    return list(now.distinct().order_by("pk").prefetch_related("contents__object"))
