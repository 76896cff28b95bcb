"""The enclosure folding up: {% folding_view parts share %}, or of what is stored {% folding_of housing %}."""

from collections.abc import Sequence

from django import template

from housing.core.drawing import folding_view as core
from housing.core.enclosures.form import Part
from housing.models import Housing
from housing.queries.parts import stored_parts

register = template.Library()


@register.inclusion_tag("parts/folding_view.html")
def folding_view(parts: Sequence[Part], fold_share: float) -> dict:
    """Panels that fold by a slider; nothing for an enclosure whose parts have no fold and no place to go."""
    view = core.folding_view(parts, fold_share) if parts else None
    return {"view": view if view and view.steps else None}


@register.inclusion_tag("parts/folding_view.html")
def folding_of(housing: Housing) -> dict:
    """The same from the blanks of a housing as they were worked out."""
    parts = stored_parts(housing)
    return folding_view(parts, housing.design.board.to_core().fold_share) if parts else {"view": None}
