"""Which columns a list taken out of the planner has: those its list came in with, then what we add."""

import re
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass

from objects.core.lists import plain_heading
from objects.intake.catalogue import ObjectList
from objects.intake.fields import Field
from objects.models import ColumnMemory, ListImport

SIDE_KEYS = ("height", "width", "depth", "length", "diameter")
# Told only where the list had such a column: the one text of the size says the same.
ONLY_IF_THERE = {"length", "diameter"}
_UNIT = r"[(\[,]\s*({})\b"


@dataclass(frozen=True)
class Column:
    """One column. key: our field or what we add; unit: of bare figures, as its heading names it, or ""."""

    key: str
    heading: str
    unit: str = ""


def columns_of(listed: ListImport | None, unit: str) -> list[Column]:
    """The columns of a list under the headings of one that came in; None takes our own headings.

    Headings of its unused columns are left out: what stood there is not kept. unit: of the reader, in which
    the box is told besides millimetres.
    """
    fields = {field.key: field for field in ObjectList.fields}
    headings = _headings(listed, fields)
    sides = [key for key in SIDE_KEYS if key in headings]
    for field in fields.values():
        if field.key in headings or field.key in ONLY_IF_THERE:
            continue
        if field.key in SIDE_KEYS and not sides:
            continue  # the one column of sizes is enough
        headings[field.key] = _free(_names(field), headings.values(), ())
    known = {plain_heading(name) for field in fields.values() for name in _names(field)}
    known |= set(ColumnMemory.objects.filter(kind=ListImport.Kind.OBJECTS).values_list("heading", flat=True))
    for key, names in _added(unit).items():
        headings[key] = _free(names, headings.values(), known)
    return [Column(key, heading, _unit(key, heading)) for key, heading in headings.items()]


def _headings(listed: ListImport | None, fields: Collection[str]) -> dict[str, str]:
    """Our field to the list's heading, in the order of the list where that is known."""
    if listed is None:
        return {}
    told = [(key, heading) for key, heading in listed.columns.items() if key in fields]
    order = _order(listed.reading)
    return dict(sorted(told, key=lambda pair: order.get(pair[1], len(order))))


def _order(reading: Mapping[str, object]) -> dict[str, int]:
    headings = next(
        (reading[name] for name in ("headings", "header") if isinstance(reading.get(name), Sequence)), ()
    )
    return {str(heading): place for place, heading in enumerate(headings)}


def _names(field: Field) -> tuple[str, ...]:
    return (field.label, *(name[:1].upper() + name[1:] for name in field.synonyms))


def _added(unit: str) -> dict[str, tuple[str, ...]]:
    """What we add, with the names it may go by: none may be taken for a field when the list comes back."""
    boxes = {"box_mm": "Box outside, mm"} | ({} if unit == "mm" else {"box_unit": f"Box outside, {unit}"})
    plain = {
        "housing_status": "Stage of housing",
        "box_number": "Box number",
        **boxes,
        "new_location": "New location",
        "housed_on": "Date housed",
    }
    return {key: (name, f"Planner: {name[:1].lower()}{name[1:]}") for key, name in plain.items()}


def _free(names: Sequence[str], taken: Iterable[str], known: Collection[str]) -> str:
    """The first name that no column has and that is not among those known, else one with a count."""
    used = {plain_heading(heading) for heading in taken} | set(known)
    counted = (f"{names[-1]} {count}" for count in range(2, 1000))
    return next(name for name in (*names, *counted) if plain_heading(name) not in used)


def _unit(key: str, heading: str) -> str:
    units = "kg|g|lb|oz" if key == "weight_g" else "in|ft|cm|mm|m"
    if key not in ("weight_g", "dimensions", *SIDE_KEYS):
        return ""
    found = re.search(_UNIT.format(units), heading, re.IGNORECASE)
    return found[1].lower() if found else ""
