"""The need of an object and why it comes when: {% need_panel object %}; {% points 950 %} writes a score."""

from dataclasses import replace

from django import template

from housing.core.factors import SCALES
from housing.core.need import POOR, UNHOUSED
from housing.core.priority import HUNDREDTHS, TOP_OF_SCALE, Score, advice
from housing.forms.need import NeedForm
from housing.queries.need import need_of, statements_of
from housing.queries.priority import places_of, score_of
from objects.core.retelling import retold
from objects.core.words import say
from objects.models import CatalogueObject
from objects.readers import Reader

register = template.Library()


@register.filter
def points(hundredths: int) -> str:
    """A score kept in hundredths, to a tenth."""
    return f"{hundredths / HUNDREDTHS:.1f}"


@register.filter
def share(value: float) -> str:
    """A share of a value as people read it: 3 %, 0.04 %, 1 part in 2,000,000."""
    if value >= 0.0001:
        return f"{_two_figures(100 * value):g} %"
    return f"1 part in {_two_figures(1 / value):,.0f}" if value else "nothing"


def _two_figures(value: float) -> float:
    return float(f"{value:.2g}")


@register.inclusion_tag("housing/need_panel.html", takes_context=True)
def need_panel(context, thing: CatalogueObject) -> dict:
    """Need with its reason and trail, the score part by part, and the place in each campaign."""
    campaigns = list(thing.campaigns.all())
    places = places_of(thing, campaigns)
    scored = _told(score_of(thing, campaigns[0].weights if len(campaigns) == 1 else None))
    need = need_of(thing)
    return {
        "object": thing,
        "need": need,
        "is_in_need": need.need in (UNHOUSED, POOR),
        "statements": statements_of(thing),
        "form": NeedForm(
            initial={"need": thing.need_by_hand, "need_note": thing.need_note}, auto_id="said_%s"
        ),
        "reader": context.get("reader") or Reader(),
        "csrf_token": context.get("csrf_token"),
        "score": scored,
        "scales": [_scale(scored, key, say(words)) for key, words in SCALES.items()],
        "for_people": [part for part in scored.parts if not part.factor.scale],
        "places": places,
        "advice": advice(places[0].is_high, scored.is_sure) if places else "",
    }


def _told(scored: Score) -> Score:
    """A score with what it says in the reader's language."""
    parts = (
        replace(
            part,
            factor=replace(part.factor, words=say(part.factor.words)),
            answer=say(part.answer),
            sentence=retold(part.sentence),
        )
        for part in scored.parts
    )
    return replace(scored, parts=tuple(parts))


def _scale(scored: Score, key: str, words: str) -> dict:
    """One scale with its parts and what its sum says."""
    value = scored.scales[key] / HUNDREDTHS
    parts = [part for part in scored.parts if part.factor.scale == key]
    below = 10 ** (value - TOP_OF_SCALE)
    if key == "A":
        says = f"about once in {_two_figures(1 / below):,.0f} year{'' if value == TOP_OF_SCALE else 's'}"
    elif key == "B":
        says = f"about {share(below)} of its value each time"
    else:
        says = f"about {share(below)} of the collection's value"
    asked = sum(part.hundredths for part in parts) + (scored.ordinary if key == "C" else 0)
    return {
        "key": key,
        "words": words,
        "parts": parts,
        "sum": scored.scales[key],
        "says": says,
        "is_cut_off": asked > scored.scales[key],
    }
