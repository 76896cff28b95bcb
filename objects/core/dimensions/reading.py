"""The one way in: from a catalogue's text to sides in millimetres, or to what a person has to look at."""

import re
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

from objects.core.dimensions.labels import LABEL_OF
from objects.core.dimensions.measures import Measure, Quantity
from objects.core.dimensions.mending import mended
from objects.core.dimensions.nothing import points_elsewhere, says_not_known, sentence_without_a_size
from objects.core.dimensions.parsing import measures_in
from objects.core.dimensions.sides import sides_of
from objects.core.dimensions.sizes import chosen
from objects.core.dimensions.tokens import one_line, tokens_of
from objects.core.dimensions.units import fill_units
from objects.core.dimensions.values import (
    CHECK,
    EMPTY,
    READ,
    REFUSED,
    DimensionReading,
    Dimensions,
    Findings,
)
from objects.core.dimensions.weighing import without_weight
from objects.core.lengths import FINEST, LARGEST_MM, LengthError, shown
from objects.core.words import noted, say

LONGEST_TEXT = 1000  # characters; no size takes more; assumed
SMALLEST_MM = 3  # an object with no side as long is rather a slip of the unit; assumed
_ASK_UNIT = noted("“{text}” has no unit. Say whether it is inches, centimetres or millimetres.")
_GLUED_POINT = re.compile(r"([^\W\d_]+)\.(\d+)(?![\d.,/]| \d+/)")
_MAY_BE_DECIMALS = {"cm": re.compile(r"\d"), "in": re.compile(r"\d|[1357]?[27]5")}
_WRITTEN = re.compile(r"[^\W_]")
_DIGIT = re.compile(r"\d")
_NOTHING = DimensionReading(EMPTY, notes=(noted("No dimensions are given. Measure the object."),))


def read_dimensions(text: str, unit: str | None = None) -> DimensionReading:
    """Read the dimension text of a catalogue record.

    text: as written. unit: what figures without a unit are in ("in", "ft", "cm", "mm", "m"), None if nobody
    said. Returns the overall size in mm with a status and notes. Never raises for odd text: what is not
    understood comes back as "check" or "refused".
    Source: CDWA (Measurements) and CCO (3.2.1) for height x width x depth and for the second system in
        parentheses; the rest of the grammar is our own, so that whatever is doubtful goes to a person.
    """
    if not _WRITTEN.search(text):
        return _NOTHING
    if len(text) > LONGEST_TEXT:
        return DimensionReading(
            CHECK,
            notes=(say("{text} characters are too many for a size. Measure the object.", text=len(text)),),
        )
    line = one_line(text)
    if not _DIGIT.search(line):
        if says_not_known(line):
            return _NOTHING
        return DimensionReading(CHECK, notes=(sentence_without_a_size(line, text),))
    findings = Findings()
    line, weight_g = without_weight(line, findings)
    reading = _read(line, text, unit, Findings(list(findings.doubts)))
    if reading.status != READ:
        plainer = mended(line, findings)
        if plainer != line:
            reading = _read(plainer, text, unit, findings)
    return reading if weight_g is None else replace(reading, weight_g=weight_g)


def _read(line: str, text: str, unit: str | None, findings: Findings) -> DimensionReading:
    """Read one line without its weight; text is the whole as written, for the messages."""
    try:
        return _read_line(line, text, unit, findings)
    except LengthError as error:
        return DimensionReading(REFUSED, notes=(str(error),))


def _read_line(line: str, text: str, unit: str | None, findings: Findings) -> DimensionReading:
    measures, order = measures_in(tokens_of(line), findings)
    if not measures:
        findings.doubts.append(sentence_without_a_size(line, text))
        return DimensionReading(CHECK, notes=findings.notes)
    has_units = fill_units(measures, unit, findings)
    if not all(quantity.value for quantity in _quantities(measures)):
        raise LengthError(
            say(
                "“{text}” holds a size of zero. Measure the object, or leave the size blank.",
                text=shown(text),
            )
        )
    if not has_units:
        findings.doubts.insert(0, points_elsewhere(line, text) or say(_ASK_UNIT, text=shown(text)))
        return _without_unit(measures, order, findings)
    for measure in measures:
        _refuse_impossible(measure.mm, text)
    run = chosen(measures, findings)
    dimensions = sides_of(run, order, findings)
    if max(side for side in dimensions.sides if side is not None) < SMALLEST_MM:
        findings.doubts.append(
            say("No side reaches {smallest_mm} mm. Check the figures and the unit.", smallest_mm=SMALLEST_MM)
        )
    if "." in line and _has_doubtful_points(line, "in" if run[0].is_imperial else "cm"):
        findings.doubts.append(
            noted("A figure behind a label may begin with a decimal point. Check the figures.")
        )
    status = CHECK if findings.doubts else READ
    return DimensionReading(status, dimensions, run[0].quantities[0].lead_unit or "", findings.notes)


def _has_doubtful_points(line: str, unit: str) -> bool:
    """H.5 may be 5 or 0.5, and in inches H.25 as well; H.20 beside it shows that the point ends the label."""
    glued = [figures for word, figures in _GLUED_POINT.findall(line) if word in LABEL_OF]
    return bool(glued) and all(_MAY_BE_DECIMALS[unit].fullmatch(figures) for figures in glued)


def _quantities(measures: list[Measure]) -> Iterator[Quantity]:
    return (quantity for measure in measures for quantity in measure.quantities)


def _refuse_impossible(mm: Decimal, text: str) -> None:
    if mm > LARGEST_MM:
        raise LengthError(
            say(
                "“{text}” holds {mm:g} m, and more than {largest_mm:.0f} m cannot be right. Check "
                "the figure and the unit.",
                text=shown(text),
                mm=float(mm) / 1000,
                largest_mm=LARGEST_MM / 1000,
            )
        )
    if mm < FINEST:
        raise LengthError(
            say("“{text}” holds a size too small to be one. Check the figure and the unit.", text=shown(text))
        )


def _without_unit(measures: list[Measure], order: list[str], findings: Findings) -> DimensionReading:
    """Inches are proposed where fractions hint at them; else only a person can say."""
    fractions = any("/" in quantity.text for quantity in _quantities(measures))
    if not fractions or any(quantity.unit for quantity in _quantities(measures)):
        return DimensionReading(CHECK, notes=findings.notes)
    findings.doubts.append(noted("Fractions hint at inches, which are proposed."))
    for quantity in _quantities(measures):
        quantity.take_unit("in")
    dimensions: Dimensions = sides_of(chosen(measures, findings), order, findings)
    is_possible = all(side is None or FINEST <= side <= LARGEST_MM for side in dimensions.sides)
    return DimensionReading(CHECK, dimensions if is_possible else Dimensions(), "in", findings.notes)
