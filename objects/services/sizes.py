"""The size of an object as its measurements give it; a size that is replaced is kept among them."""

from collections.abc import Sequence
from datetime import datetime
from decimal import Decimal
from typing import Any

from django.contrib.auth.models import AbstractBaseUser
from django.utils.formats import date_format
from django.utils.timezone import localtime

from objects.core.lengths import POINT, format_length, format_size
from objects.core.measuring import SIDE_NAMES, Difference, Sides, sides_in_use
from objects.core.phrases import joined
from objects.core.words import noted
from objects.models import CatalogueObject, SurveyEntry
from objects.speaking import in_language

SIZE_FIELDS = ("height_mm", "width_mm", "depth_mm")
How, State = SurveyEntry.How, SurveyEntry.State
UNSURE_LIST = noted("To be checked, as the list has it.")


def keep_size_before(*, thing: CatalogueObject) -> None:
    """Keep the size an object has as an entry, unless its measurements give that size anyway.

    It is one from a list where the list's words are known, else one typed. Called before a size is replaced.
    """
    entries = list(thing.survey_entries.filter(state=State.GOOD))
    if not any(thing.sides_mm) or thing.sides_mm == in_use(entries):
        return
    SurveyEntry.objects.create(
        object=thing,
        how=How.LIST if thing.dimensions_text else How.TYPED,
        **dict(zip(SIZE_FIELDS, thing.sides_mm, strict=True)),
        note=thing.dimensions_note[:300],
        state_note=UNSURE_LIST
        if thing.dimensions_text and thing.size_state == CatalogueObject.SizeState.CHECK
        else "",
        measured_at=thing.changed_at if entries else thing.created_at,
    )


def keep_typed_size(*, thing: CatalogueObject, by: AbstractBaseUser | None, at: datetime) -> SurveyEntry:
    """Keep the size an object now has as typed by a person; this decides on measurements that differed."""
    thing.survey_entries.filter(state=State.DIFFERS).update(
        state=State.SET_ASIDE,
        state_note=noted("Set aside when the size was typed, {said_by}.").format(said_by=said_by(by, at)),
    )
    return SurveyEntry.objects.create(
        object=thing,
        how=How.TYPED,
        **dict(zip(SIZE_FIELDS, thing.sides_mm, strict=True)),
        by=by,
        measured_at=at,
    )


def in_use(entries: list[SurveyEntry]) -> Sides:
    """The sides that good entries give, in mm."""
    used = sides_in_use(entry.to_core() for entry in entries)
    height, width, depth = (measured and measured.sides_mm[i] for i, measured in enumerate(used))
    return height, width, depth


@in_language("en")
def settled_size(*, thing: CatalogueObject) -> dict[str, Any]:
    """An object's sides, how far they are known and the note on them, from all its entries."""
    entries = [
        entry
        for entry in thing.survey_entries.exclude(state=State.SET_ASIDE).select_related("by")
        if entry.is_measured or entry.how == How.TYPED
    ]
    good = {entry.pk: entry for entry in entries if entry.state == State.GOOD}
    differing = [entry for entry in entries if entry.state == State.DIFFERS]
    used = sides_in_use(entry.to_core() for entry in good.values())
    if None in used:
        state = CatalogueObject.SizeState.MISSING
    elif differing or not all(measured.is_sure for measured in used if measured):
        state = CatalogueObject.SizeState.CHECK
    else:
        state = CatalogueObject.SizeState.KNOWN
    givers = [good[measured.key] if measured else None for measured in used]
    return {
        **dict(zip(SIZE_FIELDS, in_use(list(good.values())), strict=True)),
        "size_state": state,
        "dimensions_note": " ".join([*_conflicts(differing), *_sources(givers)])[:500],
    }


def _conflicts(differing: list[SurveyEntry]) -> list[str]:
    message = noted("To be decided: {size} {said_by} differs from the size in use.")
    return [
        " ".join(
            filter(
                None,
                (
                    message.format(
                        size=sides_in_words(entry.sides_mm), said_by=said_by(entry.by, entry.measured_at)
                    ),
                    entry.state_note,
                ),
            )
        )
        for entry in differing
    ]


def _sources(givers: list[SurveyEntry | None]) -> list[str]:
    """A sentence for each entry that gives sides, naming them unless it gives all, and one for what lacks."""
    sentences = []
    for entry in dict.fromkeys(giver for giver in givers if giver):
        names = [name for name, giver in zip(SIDE_NAMES, givers, strict=True) if giver == entry]
        sentences.append(_source(entry, noted("Size") if len(names) == 3 else joined(names).capitalize()))
        if entry.how != How.LIST and entry.state_note:
            sentences.append(entry.state_note)
    if any(givers) and (lacking := [n for n, giver in zip(SIDE_NAMES, givers, strict=True) if giver is None]):
        sentences.append(noted("{sides} not measured yet.").format(sides=joined(lacking).capitalize()))
    return sentences


def _source(entry: SurveyEntry, sides: str) -> str:
    message = {
        How.LIST: noted("{sides} as the list has it."),
        How.TYPED: noted("{sides} typed {said_by}."),
        How.EYE: noted("{sides} only estimated by eye {said_by}."),
    }.get(How(entry.how), noted("{sides} measured with {tool} {said_by}."))
    return message.format(
        sides=sides, tool=entry.get_how_display().lower(), said_by=said_by(entry.by, entry.measured_at)
    )


@in_language("en")
def said_by(by: AbstractBaseUser | None, at: datetime) -> str:
    """By whom and when, in English since it is kept: by Ann Lee on 5 March 2026."""
    day = date_format(localtime(at))
    return noted("by {who} on {day}").format(who=person_name(by), day=day) if by else f"on {day}"


def person_name(by: AbstractBaseUser | None) -> str:
    """What a person is called; nothing where nobody is known."""
    return (by.get_full_name() or by.get_username()) if by else ""


def sides_in_words(sides_mm: Sequence[Decimal | None]) -> str:
    """A size in mm, as notes give it; where a side lacks, each is named."""
    if None not in sides_mm:
        return format_size([side for side in sides_mm if side is not None], "mm", POINT)
    named = zip(SIDE_NAMES, sides_mm, strict=True)
    return ", ".join(
        f"{name} {format_length(side, 'mm', sign=POINT)}" for name, side in named if side is not None
    )


def list_remark(apart: Difference, old: Sequence[Decimal | None]) -> str:
    """What a measurement says of the list's size that it replaces, where the two differ; in English."""
    if not apart.sides:
        return ""
    message = (
        noted("The list had {size}, more, as lists do that round up to the whole centimetre.")
        if apart.is_rounding_up
        else noted("The list had {size}, which differs.")
    )
    return f"{message.format(size=sides_in_words(old))} {apart.likely_reason}".strip()
