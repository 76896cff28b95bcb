"""What the survey page shows of an object, as plain values that a device can keep."""

from typing import Any

from objects.core.cautions import cautions_for
from objects.core.lengths import format_length
from objects.core.measuring import SIDE_NAMES
from objects.core.words import say
from objects.models import CatalogueObject, Location
from objects.models.objects import HAZARD_SEPARATOR
from objects.queries.survey import DONE, NOT_FOUND
from objects.readers import Reader


def survey_row(thing: CatalogueObject, place: Location, reader: Reader) -> dict[str, Any]:
    """An object at a place, in the reader's units. An object of another place says which."""
    hazards = [hazard for hazard in thing.hazards.split(HAZARD_SEPARATOR) if hazard]
    return {
        "id": thing.pk,
        "number": thing.number,
        "name": thing.name,
        "place": thing.location.path if thing.location and thing.location_id != place.pk else "",
        "written": thing.dimensions_text,
        "size": known_sides(thing, reader),
        "size_note": reader.sentence(thing.dimensions_note),
        "weight": "" if thing.weight_g is None else reader.weight(thing.weight_g),
        "quantity": thing.quantity,
        "materials": thing.materials,
        "hazards": thing.hazard_list,
        "cautions": cautions_for(hazards),
        "has_photo": bool(thing.photo),
        "state": thing.survey_state,
        "is_left": thing.survey_state not in (DONE, NOT_FOUND),
    }


def known_sides(thing: CatalogueObject, reader: Reader) -> str:
    """The sides of an object or entry that are known, each named; an empty text where none is."""
    if None not in thing.sides_mm:
        return reader.size(thing.sides_mm)
    return ", ".join(
        f"{say(name)} {format_length(side, reader.unit)}"
        for name, side in zip(SIDE_NAMES, thing.sides_mm, strict=True)
        if side is not None
    )
