"""The one way in: from a catalogue's text to sides in millimetres, or to what a person has to look at."""

import re
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

from objects.core.dimensions.measures import Measure, Quantity, fill_units, measures_in
from objects.core.dimensions.sizes import (
    Run,
    agree,
    compare,
    is_other_system,
    runs_of,
    sides_of,
    whole_object,
    without_repeats,
)
from objects.core.dimensions.tokens import one_line, tokens_of
from objects.core.dimensions.values import (
    CHECK,
    EMPTY,
    READ,
    REFUSED,
    DimensionReading,
    Dimensions,
    Findings,
)
from objects.core.lengths import FIGURE_PATTERN, FINEST, LARGEST_MM, LengthError, shown
from objects.core.weights import WEIGHT_UNITS, WeightError, parse_weight

LONGEST_TEXT = 1000  # characters; no size takes more; assumed
_ASK_UNIT = "has no unit. Say whether it is inches, centimetres or millimetres."
_WEIGHT_UNIT = re.compile(rf"(?:{WEIGHT_UNITS})\b", re.IGNORECASE)  # quick to look for first
_WEIGHT = re.compile(
    rf"(?:(?<![^\W\d_])(?:weight|weighs|wt|mass|w)[.:\s]*)?"
    rf"((?:(?:{FIGURE_PATTERN})\s*(?:{WEIGHT_UNITS})\b\.?[\s,]*)+)",
    re.IGNORECASE,
)

SMALLEST_MM = 3  # an object with no side as long is rather a slip of the unit; assumed


def read_dimensions(text: str, unit: str | None = None) -> DimensionReading:
    """Read the dimension text of a catalogue record.

    text: as written. unit: what figures without a unit are in ("in", "ft", "cm", "mm", "m"), None if nobody
    said. Returns the overall size in mm with a status and notes. Never raises for odd text: what is not
    understood comes back as "check" or "refused".
    Source: CDWA (Measurements) and CCO (3.2.1) for height x width x depth and for the second system in
        parentheses; the rest of the grammar is our own, so that whatever is doubtful goes to a person.
    """
    if not re.search(r"[^\W_]", text):
        return DimensionReading(EMPTY, notes=("No dimensions are given. Measure the object.",))
    if len(text) > LONGEST_TEXT:
        return DimensionReading(
            CHECK, notes=(f"{len(text)} characters are too many for a size. Measure the object.",)
        )
    findings = Findings()
    line, weight_g = _without_weight(one_line(text), findings)
    try:
        reading = _read(line, text, unit, findings)
    except LengthError as error:
        return DimensionReading(REFUSED, notes=(str(error),), weight_g=weight_g)
    return replace(reading, weight_g=weight_g)


def _without_weight(line: str, findings: Findings) -> tuple[str, Decimal | None]:
    """The text without the weight in it, and the weight in grams."""
    weight = _WEIGHT.search(line) if _WEIGHT_UNIT.search(line) else None
    if not weight:
        return line, None
    rest = f"{line[: weight.start()]}; {line[weight.end() :]}"
    try:
        return rest, parse_weight(weight[1])
    except WeightError as error:
        findings.doubts.append(str(error))
        return rest, None


def _read(line: str, text: str, unit: str | None, findings: Findings) -> DimensionReading:
    """Read one line without its weight; text is the whole as written, for the messages."""
    measures, order = measures_in(tokens_of(line), findings)
    if not measures:
        note = f"No size was found in “{shown(text)}”. Measure the object."
        return DimensionReading(CHECK, notes=(note,))
    has_units = fill_units(measures, unit, findings)
    for quantity in _quantities(measures):
        _refuse_zero(quantity, text)
    if not has_units:
        return _without_unit(measures, order, text, findings)
    for measure in measures:
        _refuse_impossible(measure, text)
    run = _chosen(measures, findings)
    dimensions = sides_of(run, order, findings)
    if max(side for side in dimensions.sides if side is not None) < SMALLEST_MM:
        findings.doubts.append(f"No side reaches {SMALLEST_MM} mm. Check the figures and the unit.")
    status = CHECK if findings.doubts else READ
    return DimensionReading(status, dimensions, run[0].quantities[0].lead_unit or "", findings.notes)


def _quantities(measures: list[Measure]) -> Iterator[Quantity]:
    return (quantity for measure in measures for quantity in measure.quantities)


def _chosen(measures: list[Measure], findings: Findings) -> Run:
    """The measures of the whole object, once those that say the same again are compared and left out."""
    runs = runs_of(measures)
    kept = without_repeats(runs, findings)
    for run in runs:
        for place, measure in enumerate(run):
            if measure.asides:
                kept += _judged_aside(run[: place + 1], measure.asides, findings)
    return whole_object(kept, findings)


def _judged_aside(before: Run, aside: Run, findings: Findings) -> list[Run]:
    """Compare measures in parentheses with as many before them; returns them where they are another size."""
    if not fill_units(aside, None, findings):
        findings.doubts.append("The figures in parentheses have no unit. Check what they mean.")
        return []
    same = before[-len(aside) :]
    if len(same) == len(aside) and is_other_system(same, aside):
        compare(same, aside, findings)
        return []
    if len(same) == len(aside) and agree(same, aside):
        return []
    return [aside]


def _refuse_zero(quantity: Quantity, text: str) -> None:
    if quantity.value == 0:
        raise LengthError(
            f"“{shown(text)}” holds a size of zero. Measure the object, or leave the size blank."
        )


def _refuse_impossible(measure: Measure, text: str) -> None:
    if measure.mm > LARGEST_MM:
        raise LengthError(
            f"“{shown(text)}” holds {float(measure.mm) / 1000:g} m, and more than {LARGEST_MM / 1000:.0f} m "
            "cannot be right. Check the figure and the unit."
        )
    if measure.mm < FINEST:
        raise LengthError(f"“{shown(text)}” holds a size too small to be one. Check the figure and the unit.")


def _without_unit(
    measures: list[Measure], order: list[str], text: str, findings: Findings
) -> DimensionReading:
    """Inches are proposed where fractions hint at them; else only a person can say."""
    findings.doubts.insert(0, f"“{shown(text)}” {_ASK_UNIT}")
    fractions = any("/" in quantity.text for quantity in _quantities(measures))
    if not fractions or any(quantity.unit for quantity in _quantities(measures)):
        return DimensionReading(CHECK, notes=findings.notes)
    findings.doubts.append("Fractions hint at inches, which are proposed.")
    for quantity in _quantities(measures):
        quantity.unit = quantity.lead_unit = "in"
    dimensions: Dimensions = sides_of(_chosen(measures, findings), order, findings)
    is_possible = all(side is None or FINEST <= side <= LARGEST_MM for side in dimensions.sides)
    return DimensionReading(CHECK, dimensions if is_possible else Dimensions(), "in", findings.notes)
