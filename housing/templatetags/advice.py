"""What the rules advise: {% advice_of object housing %} on an object's page, {% new_design_url advice %}."""

from typing import Any
from urllib.parse import urlencode

from django import template
from django.urls import reverse

from housing.core.choosing import PIECES, Piece, mark_names
from housing.forms.rules import OverruleForm
from housing.models import Campaign, Housing
from housing.models.housings import marks_of
from housing.queries.choosing import contents_with
from housing.services.choosing import DesignChoice
from objects.core.words import say
from objects.models import CatalogueObject
from objects.roles import MAKER, has_role

register = template.Library()
CARRIED = ("form", "board_kind", "least_caliper_mm", "padding", "height_allowance_mm", "side_allowance_mm")


@register.inclusion_tag("housing/object_advice.html", takes_context=True)
def advice_of(context, thing: CatalogueObject, housing: Housing | None) -> dict[str, Any]:
    """What was advised for the box of an object; for one without a box what would be."""
    request = context["request"]
    campaign = housing.campaign if housing else _only_open_campaign(thing)
    if campaign is None:
        return {"campaign": None}
    choice, contents = DesignChoice.of(campaign), contents_with(thing)
    advice, design = housing.advice if housing else {}, housing.design if housing else None
    would_be = None
    if housing is None:
        would_be = choice.choose(contents)
        advice, design = would_be.advice, would_be.design
    chosen = next((choice.by_hand[one.pk] for one in contents if one.pk in choice.by_hand), None)
    form = OverruleForm(initial={"campaign": campaign, "design": chosen}, auto_id="overrule_%s")
    return {
        "object": thing,
        "reader": context.get("reader"),
        "csrf_token": context.get("csrf_token"),
        "campaign": campaign,
        "design": design,
        "would_be": would_be,
        "rows": [(say(PIECES[Piece(key)]), told) for key, told in _told(advice)],
        "marks": mark_names(marks_of(advice)),
        "conflicts": _conflicts(advice),
        "by_hand": chosen is not None,
        "new_design": new_design_url(advice) if design is None and "form" in advice else "",
        "form": form if not campaign.is_closed and has_role(request.user, MAKER) else None,
    }


def _only_open_campaign(thing: CatalogueObject) -> Campaign | None:
    return thing.campaigns.filter(is_closed=False).first()


def _told(advice: dict[str, Any]) -> list[tuple[str, dict[str, Any]]]:
    """Each piece of advice with its key, in the order of the pieces."""
    found = []
    for piece in PIECES:
        told = advice.get(piece.value, ())
        found += [(piece.value, one) for one in ([told] if isinstance(told, dict) else told)]
    return found


def _conflicts(advice: dict[str, Any]) -> list[dict[str, Any]]:
    return [told | {"label": say(PIECES[Piece(told["piece"])])} for told in advice.get("conflicts", ())]


@register.simple_tag
def new_design_url(advice: dict[str, Any]) -> str:
    """The page that makes a new design, filled in with what was advised."""
    asked = {key: advice[key]["value"] for key in CARRIED if key in advice}
    return f"{reverse('housing:design-new')}?{urlencode(asked)}"
