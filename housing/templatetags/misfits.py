"""What the forms of the fit check, the return and the questions offer to choose from."""

from dataclasses import dataclass

from django import template

from housing.models import FitCheck, Hold, Housing
from objects.models import Location

register = template.Library()
MOST_PLACES = 500  # names offered while one types; others can be typed all the same


@dataclass(frozen=True)
class Choices:
    """(value, words) of each question."""

    causes: list[tuple[str, str]]
    sides: list[tuple[str, str]]
    holds: list[tuple[str, str]]


@register.simple_tag
def misfit_choices() -> Choices:
    """What may be wrong, on which side, and what a box may wait for."""
    return Choices(list(FitCheck.Cause.choices), list(FitCheck.Side.choices), list(Hold.Reason.choices))


@register.simple_tag
def last_check(housing: Housing) -> FitCheck | None:
    """The last fit check of a box that was not taken back."""
    checks = housing.fit_checks.filter(is_void=False).select_related("by")
    return checks.order_by("-at", "-pk").first()


@register.simple_tag
def place_names() -> list[str]:
    """Places to choose from while one types."""
    return list(Location.objects.order_by("path").values_list("path", flat=True)[:MOST_PLACES])
