"""Our own grammar for the free text in which catalogues write dimensions; it never guesses silently."""

import re
from dataclasses import dataclass
from decimal import Decimal

from objects.core.lengths import (
    FIGURE_PATTERN,
    FINEST,
    LARGEST_MM,
    MM_PER_UNIT,
    UNIT_PATTERN,
    UNITS,
    LengthError,
    figure,
    format_length,
    plain_text,
)

READ, CHECK, REFUSED, EMPTY = "read", "check", "refused", "empty"
AXES = ("height", "width", "depth")
# A metric and an inch figure agree when they differ by less than half of a quarter inch and half a mm, since
# catalogues round inches to quarters at the coarsest.
CROSS_CHECK_MM = Decimal("3.7")


@dataclass(frozen=True)
class Dimensions:
    """An object's overall size in mm; None where not stated."""

    height_mm: Decimal | None = None
    width_mm: Decimal | None = None
    depth_mm: Decimal | None = None

    @property
    def sides(self) -> tuple[Decimal | None, Decimal | None, Decimal | None]:
        return self.height_mm, self.width_mm, self.depth_mm

    @property
    def is_complete(self) -> bool:
        return None not in self.sides


@dataclass(frozen=True)
class DimensionReading:
    """What was understood: the size (a proposal when status is "check"), the unit met first, and notes.

    status: "read", "check" (a person must look), "refused" (cannot be a size) or "empty".
    """

    status: str
    dimensions: Dimensions = Dimensions()
    unit: str = ""
    notes: tuple[str, ...] = ()


@dataclass
class _Measure:
    """One figure with its unit and label, and whether an x ties it to the one before."""

    value: Decimal
    unit: str | None
    label: str | None
    is_tied: bool

    def mm(self) -> Decimal:
        return (self.value * MM_PER_UNIT[self.unit or "mm"]).quantize(FINEST)


_LABELS = {
    "height": ("height", "high", "ht", "h"),
    "width": ("width", "wide", "breadth", "wd", "w", "b"),
    "depth": ("depth", "deep", "thickness", "thick", "dp", "d"),
    "length": ("length", "long", "lg", "l"),
    "diameter": ("diameter", "diam", "dia", "ø", "⌀"),
}
_LABEL_OF = {word: label for label, words in _LABELS.items() for word in words}
_LABEL_PATTERN = "|".join(sorted(_LABEL_OF, key=len, reverse=True))
_MEASURE = re.compile(
    rf"(?:(?<![a-z])(?P<before>{_LABEL_PATTERN})(?![a-z])[.:)\s]*)?"
    rf"(?P<first>{FIGURE_PATTERN})(?:\s*-\s*(?P<upper>{FIGURE_PATTERN})(?!\s*'))?"
    rf"\s*(?P<unit>(?:{UNIT_PATTERN})(?![a-z]))?"
    rf"(?:(?<=['t.])[-\s]*(?P<inches>{FIGURE_PATTERN})\s*(?:\"|''|in\b\.?))?"
    rf"(?:\s*(?P<after>{_LABEL_PATTERN})(?![a-z])\.?(?!\s*\d))?"
)
_WEIGHT = re.compile(r"\d+(?:[.,]\d+)?\s*(?:kgs?|grams?|g|lbs?|oz|pounds?|ounces?)\b\.?")
_TIE = re.compile(r"(?<![a-z])(?:x|by)(?![a-z])|[×*]")
_DOUBTS = (
    (r"approx\w*|circa|ca|about|c|~", "The size is only approximate."),
    (r"sight", "The sight size is given; the true size is larger."),
    (r"(?:un)?folded|open|closed", "It says folded, open or closed; which size is to be housed?"),
    (r"(?:un)?framed", "It says framed or unframed; which size is to be housed?"),
    (r"irreg\w*", "The shape is irregular."),
    (r"each|pieces?|parts?|pair|set", "Several pieces are meant; measure them as they will lie together."),
)
_KNOWN = re.compile(r"overall|x|by|max|maximum|size|dimensions|dims|and|[.,;:×*()\s]+")


def read_dimensions(text: str, unit: str | None = None) -> DimensionReading:
    """Read the dimension text of a catalogue record.

    text: as written. unit: what figures without a unit are in ("in", "cm", "mm"), None if nobody said.
    Returns the overall size in mm with a status and notes; figures in parentheses behind a size are a
    cross-check. Never raises for odd text: what is not understood comes back as "check" or "refused".
    Source: height x width x depth for unlabelled figures and metric first with the second system in
        parentheses, as CDWA and CCO write them; the rest of the grammar is our own.
    """
    plain = plain_text(text).lower()
    if not plain:
        return DimensionReading(EMPTY, notes=("No dimensions are given. Measure the object.",))
    if re.search(r"(?:^|[x×*:;,(])\s*-\s*\d", plain):
        return DimensionReading(REFUSED, notes=(f"“{text}” holds a negative size. Correct the figure.",))
    main, aside = _asides(_WEIGHT.sub(" ", plain))
    try:
        measures, notes = _measures(main)
        return _checked_against(aside, _interpret(measures, notes, unit, text))
    except LengthError as error:
        return DimensionReading(REFUSED, notes=(str(error),))


def format_dimensions(dimensions: Dimensions, unit: str = "mm") -> str:
    """Write a size so that read_dimensions reads the same again, such as H 254 × W 222.25 × D 181 mm.

    unit: "mm" keeps the size to 0.0001 mm; "cm" and "in" round as format_length does.
    """
    letters = [
        (letter, side) for letter, side in zip("HWD", dimensions.sides, strict=True) if side is not None
    ]
    if unit == "mm":
        parts = [f"{letter} {side.normalize():f}" for letter, side in letters]
    else:
        parts = [f"{letter} {format_length(side, unit, with_unit=False)}" for letter, side in letters]
    return f"{' × '.join(parts)} {unit}" if parts else ""


def _asides(plain: str) -> tuple[str, str]:
    """The text outside parentheses, and what stands in parentheses behind a size."""
    found = re.search(r"\d[^()]*\(([^()]*\d[^()]*)\)", plain)
    if not found:
        return plain, ""
    return plain.replace(f"({found[1]})", " ", 1), found[1]


def _measures(plain: str) -> tuple[list[_Measure], list[str]]:
    """Every figure with what belongs to it, and a doubt for every word that is not understood."""
    measures: list[_Measure] = []
    notes: list[str] = []
    end = 0
    for found in _MEASURE.finditer(plain):
        between = plain[end : found.start()]
        notes += _doubts(between)
        label = found["before"] or found["after"]
        value, unit = figure(found["first"]), UNITS.get(found["unit"] or "")
        if re.fullmatch(r"\d{1,3},\d{3}", found["first"]):
            notes.append(f"“{found['first']}” was read with a decimal comma; is it thousands?")
        if found["upper"]:
            notes.append("A range is given; the larger figure is proposed.")
            value = max(value, figure(found["upper"]))
        if found["inches"] and unit == "ft":
            value, unit = value * 12 + figure(found["inches"]), "in"
        elif found["inches"]:
            notes.append(f"“{found['inches']}” stands behind another figure; check what it means.")
        tied = bool(measures) and bool(_TIE.search(between))
        measures.append(_Measure(value, unit, _LABEL_OF.get(label or ""), tied))
        end = found.end()
    notes += _doubts(plain[end:])
    return measures, list(dict.fromkeys(notes))


def _doubts(words: str) -> list[str]:
    notes = []
    for pattern, sentence in _DOUBTS:
        words, count = re.subn(rf"(?<![a-z])(?:{pattern})(?![a-z])", " ", words)
        if count:
            notes.append(sentence)
    rest = [word for word in re.split(r"[^a-z0-9ø-ÿ]+", _KNOWN.sub(" ", words)) if word]
    rest = [word for word in rest if word not in _LABEL_OF]
    if rest:
        notes.append(f"“{' '.join(rest)}” was not understood; check that the overall size was taken.")
    return notes


def _interpret(measures: list[_Measure], notes: list[str], unit: str | None, text: str) -> DimensionReading:
    if not measures:
        return DimensionReading(CHECK, notes=(f"No size was found in “{text}”. Measure the object.",))
    _fill_units(measures, unit)
    if any(measure.unit is None for measure in measures):
        return DimensionReading(
            CHECK,
            notes=(f"“{text}” has no unit. Say whether it is inches, centimetres or millimetres.", *notes),
        )
    for measure in measures:
        _refuse_impossible(measure, text)
    chosen = _one_object(measures, notes)
    dimensions, remarks = _axes(chosen, notes)
    status = CHECK if notes else READ
    return DimensionReading(status, dimensions, measures[0].unit or "", (*notes, *remarks))


def _fill_units(measures: list[_Measure], unit: str | None) -> None:
    """A unit written once at the end of a run covers the figures before it."""
    following: str | None = None
    for measure in reversed(measures):
        measure.unit = measure.unit or following
        following = measure.unit
    for measure in measures:
        measure.unit = measure.unit or unit


def _refuse_impossible(measure: _Measure, text: str) -> None:
    if measure.value == 0:
        raise LengthError(f"“{text}” holds a size of zero. Measure the object, or leave the size blank.")
    if measure.mm() > LARGEST_MM:
        raise LengthError(
            f"“{text}” holds {measure.mm() / 1000:.1f} m, which cannot be right. Check the unit."
        )


def _one_object(measures: list[_Measure], notes: list[str]) -> list[_Measure]:
    """The run of figures that is boxed; where several sizes are given, the largest, with a doubt."""
    runs: list[list[_Measure]] = []
    for measure in measures:
        labels = {m.label for m in runs[-1]} if runs else set()
        joins = measure.is_tied or (measure.label and None not in labels and measure.label not in labels)
        if runs and joins:
            runs[-1].append(measure)
        else:
            runs.append([measure])
    if len(runs) > 1:
        notes.append("Several sizes are given; the largest is proposed.")
    return max(runs, key=lambda run: (sum(measure.mm() for measure in run), len(run)))


def _axes(run: list[_Measure], notes: list[str]) -> tuple[Dimensions, list[str]]:
    sides: dict[str, Decimal] = {}
    remarks: list[str] = []
    for measure in run:
        if measure.label == "diameter":
            for axis in ("width", "depth"):
                sides.setdefault(axis, measure.mm())
            remarks.append("A diameter counts for width and depth.")
        elif measure.label in AXES:
            if measure.label in sides:
                notes.append(f"The {measure.label} is given twice; the first is proposed.")
            sides.setdefault(measure.label, measure.mm())
    rest = [measure for measure in run if measure.label in (None, "length")]
    unlabelled = [measure for measure in rest if measure.label is None]
    for measure in rest:
        order = AXES if measure.label is None else ("width", "depth", "height")
        axis = next((axis for axis in order if axis not in sides), None)
        if axis is None:
            notes.append("There are more figures than sides; the first three are proposed.")
            break
        sides[axis] = measure.mm()
        if measure.label == "length":
            remarks.append(f"The length counts as {axis}.")
    if unlabelled and len(unlabelled) < len(run):
        notes.append("Some figures are labelled and some are not; check which is which.")
    elif len(unlabelled) == 1:
        notes.append("Only one figure is given; it is proposed as the height.")
    elif unlabelled:
        remarks.append("Order taken as height × width × depth.")
    return Dimensions(*(sides.get(axis) for axis in AXES)), remarks


def _checked_against(aside: str, reading: DimensionReading) -> DimensionReading:
    """Compare with the size in parentheses; a different one makes the reading a matter for a person."""
    if not aside or reading.status not in (READ, CHECK):
        return reading
    other = read_dimensions(aside)
    if other.status == READ and len([s for s in other.dimensions.sides if s]) == len(
        [s for s in reading.dimensions.sides if s]
    ):
        pairs = zip(reading.dimensions.sides, other.dimensions.sides, strict=True)
        if all(abs(a - b) <= CROSS_CHECK_MM for a, b in pairs if a is not None and b is not None):
            return reading
        note = f"The size in parentheses ({aside.strip()}) does not agree."
    else:
        note = f"“{aside.strip()}” in parentheses was not understood as the same size."
    return DimensionReading(CHECK, reading.dimensions, reading.unit, (note, *reading.notes))
