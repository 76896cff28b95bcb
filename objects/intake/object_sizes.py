"""The size that a row tells of an object: from one text, from columns of their own, or from both."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Any

from objects.core.dimensions import CHECK, EMPTY, READ, REFUSED, DimensionReading, Dimensions
from objects.core.dimensions.columns import text_of_sides
from objects.core.lengths import format_length, unit_of
from objects.core.measuring import (
    SIDE_NAMES,
    Difference,
    Measurement,
    Tolerance,
    difference,
    sides_in_use,
)
from objects.core.size_reader import SizeReader
from objects.core.words import noted, say
from objects.intake.rows import Row
from objects.models import CatalogueObject, SurveyEntry

SizeState = CatalogueObject.SizeState
SIDES = ("height_mm", "width_mm", "depth_mm")
SIZE_FIELDS = (*SIDES, "dimensions_text", "dimensions_unit", "dimensions_note", "size_state")
SIDE_COLUMNS = ("height", "width", "depth", "length", "diameter")
UNITS = "in|ft|cm|mm|m"
LONGEST = 300  # characters that the record keeps
# Two ways to write one side may differ by so much; assumed, half of what a tape shows.
SAME_MM = Decimal("0.5")


def size_texts(row: Row) -> tuple[str, str, str]:
    """What stands in the column of sizes, what the separate columns give together, and the unit of both."""
    told = row.cell("dimension_unit")
    unit = unit_of(told.strip(" ()[].:")) or row.heading_unit("dimensions", UNITS) or row.unit
    given = [side for side in SIDE_COLUMNS if row.cell(side)]
    parts = {side: _with_its_unit(row, side, told) for side in given}
    return row.cell("dimensions"), text_of_sides(parts, told) if parts else "", unit


def _with_its_unit(row: Row, side: str, told: str) -> str:
    """A cell, with the unit of its heading behind a figure that has none."""
    cell = row.cell(side)
    unit = row.heading_unit(side, UNITS)
    if not unit or told or not re.search(r"\d", cell) or re.search(r"[^\W\d_]|[\"'″′”’]", cell):
        return cell
    return f"{cell} {unit}"


def read_size(row: Row, sizes: SizeReader) -> None:
    """Sizes in mm and how far they can be trusted; the text is kept as the list has it."""
    written, composed, unit = size_texts(row)
    if not written and not composed:
        return
    column = "dimensions" if written else next(side for side in SIDE_COLUMNS if row.cell(side))
    reading = _read(written, composed, unit, sizes)
    if reading.status == EMPTY:
        return
    if reading.status == REFUSED:
        row.refuse_cell(column, " ".join(reading.notes))
        return
    text = " | ".join(part for part in (written, composed) if part)
    if len(text) > LONGEST:
        row.refuse_cell(
            column,
            say(
                "{text} characters; at most {longest} can be kept. Shorten it.",
                text=len(text),
                longest=LONGEST,
            ),
        )
        return
    note = " ".join(reading.notes)[:500]
    row.needs_check = reading.status == CHECK
    row.values |= {
        **dict(zip(SIDES, reading.dimensions.sides, strict=True)),
        "dimensions_text": text,
        "dimensions_unit": reading.unit or unit,
        "dimensions_note": note,
        "size_state": _state(reading),
    }
    if reading.weight_g is not None:
        row.values.setdefault("weight_g", reading.weight_g)
    row.notes += [note] if note else []


def _read(written: str, composed: str, unit: str, sizes: SizeReader) -> DimensionReading:
    if not composed:
        return sizes.read(written, unit)
    of_columns = sizes.read(composed, unit)
    if not written:
        return of_columns
    of_text = sizes.read(written, unit)
    if of_text.status != READ or of_columns.status != READ:
        return of_columns if of_text.status in (EMPTY, CHECK) and of_columns.status == READ else of_text
    return _together(of_text, of_columns)


def _together(of_text: DimensionReading, of_columns: DimensionReading) -> DimensionReading:
    """One size out of two that a row gives; a person has to look where they contradict each other."""
    pairs = list(zip(of_text.dimensions.sides, of_columns.dimensions.sides, strict=True))
    sides = [of_columns if of_columns is not None else of_text for of_text, of_columns in pairs]
    notes = (*of_text.notes, *of_columns.notes)
    if any(None not in pair and abs(pair[0] - pair[1]) > SAME_MM for pair in pairs):
        said = noted("The separate columns give another size than the text. Check which of them is right.")
        return DimensionReading(CHECK, Dimensions(*sides), of_columns.unit, (said, *notes))
    return DimensionReading(READ, Dimensions(*sides), of_text.unit, notes, of_text.weight_g)


def _state(reading: DimensionReading) -> str:
    if reading.status == CHECK:
        return SizeState.CHECK
    return SizeState.KNOWN if reading.dimensions.is_complete else SizeState.MISSING


# ---- The size that is recorded already --------------------------------------------------------------------


@dataclass(frozen=True)
class Measured:
    """What was measured of an object and holds good: by side the measurement; who made the latest, when."""

    sides: dict[str, Measurement]
    by: Any
    at: datetime


def measured_at_the_shelf(things: Iterable[int]) -> dict[int, Measured]:
    """By object what was measured of it; sizes from lists are no measurements."""
    entries = SurveyEntry.objects.filter(object__in=list(things), state=SurveyEntry.State.GOOD)
    by_object: dict[int, dict[int, SurveyEntry]] = {}
    for entry in entries.exclude(how=SurveyEntry.How.LIST).select_related("by"):
        by_object.setdefault(entry.object_id, {})[entry.pk] = entry
    found = {}
    for thing, its_entries in by_object.items():
        in_use = sides_in_use([entry.to_core() for entry in its_entries.values()])
        sides = {side: given for side, given in zip(SIDES, in_use, strict=True) if given}
        if sides:
            latest = its_entries[max(sides.values(), key=lambda given: given.at).key]
            found[thing] = Measured(sides, latest.by, latest.measured_at)
    return found


def keep_better_size(
    row: Row, record: CatalogueObject, measured: Measured | None, tolerance: Tolerance
) -> None:
    """Leave out of a row what would replace a better size: a measured one, or a complete one if in doubt."""
    if "size_state" not in row.values:
        return
    if _is_same(row, record, ("dimensions_text", "dimensions_unit")):
        _leave_out(row, SIZE_FIELDS)
    elif _is_same(row, record, (*SIDES, "size_state")):
        _leave_out(row, SIZE_FIELDS)  # in other words: a list taken out labels sizes measured since
    elif measured:
        _keep_measured(row, record, measured, tolerance)
    elif record.size_state == SizeState.KNOWN and row.values["size_state"] != SizeState.KNOWN:
        _leave_out(row, SIZE_FIELDS)
        row.notes.append(noted("The size already recorded is complete and is kept."))


def _is_same(row: Row, record: CatalogueObject, fields: Iterable[str]) -> bool:
    return all(row.values[field] == getattr(record, field) for field in fields)


def _leave_out(row: Row, fields: Iterable[str]) -> None:
    for field in fields:
        row.values.pop(field, None)
    row.needs_check = False


def _keep_measured(row: Row, record: CatalogueObject, measured: Measured, tolerance: Tolerance) -> None:
    """Sides that were measured stay; the list's text is kept beside them, with what it says otherwise."""
    sides = measured.sides
    listed = [row.values[side] if side in sides else None for side in SIDES]
    known = [mm if side in sides else None for side, mm in _sides(record).items()]
    apart = difference(listed, known, tolerance)
    message = (
        noted("Measured on {day} by {who}; the list's size is kept as text only.")
        if measured.by
        else noted("Measured on {day}; the list's size is kept as text only.")
    )
    said = say(message, day=f"{measured.at:%Y-%m-%d}", who=measured.by)
    if apart.sides:
        differs = say(
            "It differs: the list says {listed}, measured were {measured}.",
            listed=_named(listed, apart),
            measured=_named(known, apart),
        )
        said += f" {differs}"
        said += f" {apart.likely_reason}" if apart.likely_reason else ""
    _leave_out(row, [*sides, "size_state"])
    for side in SIDES:
        if row.values.get(side, 0) is None:
            del row.values[side]  # not stated is no reason to forget it
    if record.size_state == SizeState.MISSING and None not in (_sides(record) | row.values).values():
        row.values["size_state"] = SizeState.KNOWN
    row.values["dimensions_note"] = said[:500]
    row.needs_check = bool(apart.sides)
    row.notes.append(said)


def _sides(record: CatalogueObject) -> dict[str, Decimal | None]:
    return {side: getattr(record, side) for side in SIDES}


def _named(sides: Sequence[Decimal | None], apart: Difference) -> str:
    named = zip(SIDE_NAMES, sides, strict=True)
    return ", ".join(f"{name} {format_length(mm, 'mm')}" for name, mm in named if name in apart.sides)
