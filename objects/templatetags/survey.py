"""All measurements of an object, on its page: {% survey_entries object %}."""

from django import template

from objects.core.cautions import cautions_for
from objects.core.words import noted, say
from objects.models import CatalogueObject, SurveyEntry
from objects.queries.survey import STATE_WORDS, entries_of
from objects.queries.survey_rows import known_sides
from objects.readers import Reader
from objects.services.measurements import open_decisions

register = template.Library()

DECISION_WORDS = {
    "use": noted("Use this one"),
    "keep": noted("Keep the size in use"),
    "set_aside": noted("Set aside"),
    "move": noted("It is kept there now"),
}


@register.inclusion_tag("objects/survey_entries.html", takes_context=True)
def survey_entries(context, thing: CatalogueObject) -> dict:
    """A table of an object's entries, with what a surveyor or manager can decide on each."""
    reader = context.get("reader") or Reader()
    rows = [
        (
            entry,
            known_sides(entry, reader),
            [(key, say(DECISION_WORDS[key])) for key in open_decisions(entry, thing)]
            if reader.is_surveyor
            else [],
        )
        for entry in entries_of(thing)
    ]
    return {
        "rows": rows,
        "reader": reader,
        "object": thing,
        "csrf_token": context.get("csrf_token"),
        "decides": reader.is_surveyor and any(decisions for *_, decisions in rows),
    }


@register.filter
def also_said(entry: SurveyEntry, reader: Reader) -> list[str]:
    """What an entry says besides its size, in words."""
    said = [
        (say("Weight"), "" if entry.weight_g is None else reader.weight(entry.weight_g)),
        (say("Quantity"), entry.quantity),
        (say("Size includes"), entry.get_measured_with_display()),
        (say("May lie"), entry.get_may_lie_display()),
        (say("Fragility"), entry.get_fragility_display().split(":")[0]),
        (say("Projecting parts"), entry.projecting_parts),
        (say("Condition"), entry.get_condition_display()),
        (say("Present housing"), entry.get_present_housing_display().split(":")[0]),
        (say("Hazards"), ", ".join(entry.hazard_list)),
        (say("Found at"), entry.place if entry.found == SurveyEntry.Found.ELSEWHERE else ""),
        (say("Note"), reader.sentence(entry.note)),
    ]
    return [f"{label}: {value}" for label, value in said if value]


@register.filter
def caution(hazard: str) -> str:
    """What to mind with a hazard."""
    return cautions_for([hazard])[0]


@register.filter
def line(row: dict | None, key: str) -> str:
    """One line on the card of an object; nothing where there is nothing to say."""
    return (row or {}).get(key) or ""


@register.filter
def state_words(row: dict) -> str:
    """What is left to do for an object."""
    return say(STATE_WORDS[row["state"]])
