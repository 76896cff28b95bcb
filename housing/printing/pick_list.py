"""The pick list: what to fetch, place by place in the order one walks, with what to heed in lifting it."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby

from django.utils import timezone

from housing.core.choosing import MARKS
from housing.core.drawing.handling_signs import SIGNS, WEIGHT_SIGN
from housing.core.handling.lifting import SHOW_WEIGHT_KG, TWO_PEOPLE_KG, assess
from housing.core.label_face import Mark
from housing.printing.labels import box_name
from housing.printing.papers import Paper, shortened
from housing.printing.photos import photo_data_uri
from housing.queries.prints import objects_to_fetch
from objects.core.words import say
from objects.models import CatalogueObject
from objects.readers import Reader

PHOTO_MM = 13.0
G_PER_KG = 1000


@dataclass(frozen=True)
class PickRow:
    """One object to fetch, everything in words. heed: marks for its handling."""

    number: str
    name: str
    photo: str
    size: str
    weight: str
    hazards: str
    heed: tuple[Mark, ...]
    box: str


@dataclass(frozen=True)
class Stop:
    """A place where one stops, and what is taken from there."""

    place: str
    rows: tuple[PickRow, ...]


def pick_list_context(
    keys: Sequence[int], reader: Reader, paper: Paper, *, of: str = "", by: str = ""
) -> dict:
    """All that the pages of a pick list show; nothing where none of the objects is there any more.

    keys: of the objects, in walking order. of: what was chosen, in words. by: who prints it.
    """
    things = objects_to_fetch(keys)
    if not things:
        return {}
    stops = [
        Stop(place, tuple(pick_row(thing, reader) for thing in some))
        for place, some in groupby(things, key=lambda thing: str(thing.location or say("No place known")))
    ]
    return {
        "stops": stops,
        "number": len(things),
        "has_hazards": any(thing.hazards for thing in things),
        "of": of,
        "by": by,
        "printed": printed_on(),
        "paper": paper.key,
    }


def pick_row(thing: CatalogueObject, reader: Reader) -> PickRow:
    """What the list says of one object, fetched with its place and its box."""
    return PickRow(
        number=thing.number,
        name=shortened(thing.name, 70),
        photo=photo_data_uri(thing, PHOTO_MM),
        size=reader.size(thing.sides_mm) if None not in thing.sides_mm else say("not measured"),
        weight=reader.weight(thing.weight_g) if thing.weight_g else say("weight not known"),
        hazards=", ".join(str(hazard) for hazard in thing.hazard_list),
        heed=tuple(lifting_marks(thing, reader)),
        box=", ".join(box_name(tie.housing) for tie in thing.live_ties),
    )


def lifting_marks(thing: CatalogueObject, reader: Reader) -> list[Mark]:
    """What to heed in lifting an object that stands in no box yet."""
    found = []
    if thing.condition == CatalogueObject.Condition.FRAGILE:
        found.append(Mark(SIGNS["fragile"].character, say(MARKS["fragile"])))
    if thing.weight_g is None:
        return found
    kg = float(thing.weight_g) / G_PER_KG
    depth = thing.depth_mm or thing.width_mm
    by_two = assess(kg, float(depth)).two_people if depth else kg > TWO_PEOPLE_KG
    if by_two:
        found.append(Mark(SIGNS["two_people"].character, say(MARKS["two_people"])))
    if by_two or kg > SHOW_WEIGHT_KG:
        found.append(Mark(SIGNS[WEIGHT_SIGN].character, reader.weight(thing.weight_g)))
    return found


def printed_on() -> date:
    """The day that stands on a list, so that an old one is known."""
    return timezone.localdate()
