"""Lengths as people type and read them; millimetres everywhere else. The one place that does both."""

import re
import unicodedata
from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

import pint

_REGISTRY = pint.UnitRegistry(non_int_type=Decimal, cache_folder=None)
MM_PER_UNIT = {
    unit: _REGISTRY.Quantity(Decimal(1), name).to("millimetre").magnitude
    for unit, name in (
        ("in", "inch"), ("ft", "foot"), ("mm", "millimetre"), ("cm", "centimetre"), ("m", "metre")
    )
}  # fmt: skip
MM_PER_INCH = MM_PER_UNIT["in"]
FINEST = Decimal("0.0001")
LARGEST_MM = Decimal(20_000)

_SPELLINGS = {
    "in": ("in", "in.", "inch", "inches", "ins", '"', "''"),
    "ft": ("ft", "ft.", "foot", "feet", "'"),
    "mm": ("mm", "mm.", "millimetre", "millimetres", "millimeter", "millimeters"),
    "cm": ("cm", "cm.", "centimetre", "centimetres", "centimeter", "centimeters"),
    "m": ("m", "m.", "metre", "metres", "meter", "meters"),
}
UNITS = {spelling: unit for unit, spellings in _SPELLINGS.items() for spelling in spellings}
UNIT_PATTERN = "|".join(re.escape(s) for s in sorted(UNITS, key=len, reverse=True))
FIGURE_PATTERN = r"\d+[ -]+\d+/\d+|\d+/\d+|\d+(?:[.,]\d+)?|[.,]\d+"
_PART = re.compile(rf"\s*({FIGURE_PATTERN})\s*({UNIT_PATTERN})?(?![a-z\d])\s*", re.IGNORECASE)
_QUOTES = str.maketrans({c: "'" for c in "’‘′ʹ"} | {c: '"' for c in "”“″ʺ"} | {"⁄": "/", "–": "-", "—": "-"})


class LengthError(ValueError):
    """What was typed is not a usable length; the message is a sentence for the reader."""


def parse_length(text: str, unit: str | None = None, *, may_be_zero: bool = False) -> Decimal:
    """Read one length.

    text: such as 10 3/4, 10-3/4", 10¾ in, 27.3 cm, 24,1 cm, 1' 4 1/2". unit: what a figure without a unit
    means, one of in, ft, mm, cm, m; None refuses it. may_be_zero: whether 0 is a sensible answer.
    Returns mm to 0.0001. Raises LengthError with what was read and what to do.
    Source: 1 in = 25.4 mm exactly (international inch), taken from pint.
    """
    plain = plain_text(text)
    if not plain:
        raise LengthError("Nothing was entered. Type a length such as 10 3/4 in or 27.3 cm.")
    if plain.startswith("-"):
        raise LengthError(f"“{text}” is negative; a length cannot be.")
    total, at, seen = Decimal(0), 0, []
    while at < len(plain):
        part = _PART.match(plain, at)
        if not part:
            raise LengthError(f"“{text}” is not a length. Type it like 10 3/4 in, 10.75 in or 27.3 cm.")
        named = UNITS.get(part[2].lower()) if part[2] else None
        if named is None and seen == ["ft"]:
            named = "in"
        seen.append(named or unit or "")
        if not seen[-1]:
            raise LengthError(f"“{text}” has no unit. Write in, cm or mm behind it.")
        total += figure(part[1]) * MM_PER_UNIT[seen[-1]]
        at = part.end()
        if seen == ["ft"] and plain[at : at + 1] == "-":  # 5'-3 1/2"
            at += 1
    if len(seen) > 1 and seen != ["ft", "in"]:
        raise LengthError(f"“{text}” holds more than one length. Enter one length only.")
    return _within_reason(total.quantize(FINEST), text, may_be_zero)


def _within_reason(mm: Decimal, text: str, may_be_zero: bool) -> Decimal:
    if mm == 0 and not may_be_zero:
        raise LengthError(f"“{text}” is zero. Measure it, or leave it blank if it is not known.")
    if mm > LARGEST_MM:
        raise LengthError(
            f"“{text}” is {mm / 1000:.1f} m, more than {LARGEST_MM / 1000:.0f} m. Check the figure and the unit."
        )
    return mm


def plain_text(text: str) -> str:
    """Text with typographic fractions and quotes made plain: 10¾″ becomes 10 3/4"."""
    spaced = re.sub(r"(?<=\d)(?=[¼-¾⅐-⅞↉])", " ", text)
    folded = unicodedata.normalize("NFKC", spaced.translate(_QUOTES)).translate(_QUOTES)
    return " ".join(folded.split())


def figure(text: str) -> Decimal:
    """A figure with a decimal point or comma, a fraction or a mixed number. Source: arithmetic.

    Raises LengthError for a fraction over zero.
    """
    *whole, last = re.split(r"[ -]+", text.strip())
    if "/" not in last:
        return Decimal(last.replace(",", "."))
    over, under = last.split("/")
    if int(under) == 0:
        raise LengthError(f"“{text}” divides by zero. Type the fraction like 3/4.")
    return Decimal(int(whole[0]) if whole else 0) + Decimal(int(over)) / Decimal(int(under))


def format_length(mm: float | Decimal, unit: str, step: float | None = None, with_unit: bool = True) -> str:
    """Write one length for a reader.

    mm: length. unit: "in" for inches and fractions, "mm", or "cm". step: what is rounded to, in that unit;
    1/16 in, 0.1 mm or 0.1 cm when not given. Returns text such as 10 3/4 in or 273.1 mm.
    Raises ValueError for another unit. Source: fractions are reduced, as rulers are read.
    """
    if unit == "in":
        text = _inches(float(mm) / float(MM_PER_INCH), round(1 / step) if step else 16)
    elif unit in ("mm", "cm"):
        value = float(mm) / float(MM_PER_UNIT[unit])
        step = step or 0.1
        text = f"{round(value / step) * step:.1f}".removesuffix(".0")
    else:
        raise ValueError(f"Lengths are written in in, cm or mm, not in “{unit}”.")
    return f"{text} {unit}" if with_unit else text


def _inches(value: float, parts: int) -> str:
    sign = "-" if value < 0 else ""
    count = round(abs(value) * parts)
    whole, rest = divmod(count, parts)
    if not rest:
        return f"{sign if whole else ''}{whole}"
    fraction = Fraction(rest, parts)
    over = f"{fraction.numerator}/{fraction.denominator}"
    return f"{sign}{whole} {over}" if whole else f"{sign}{over}"


def format_size(sides_mm: Sequence[float | Decimal], unit: str) -> str:
    """Several sides with the unit once at the end, such as 11 × 10 3/4 × 9 1/8 in. sides_mm: one or more."""
    return " × ".join(format_length(side, unit, with_unit=False) for side in sides_mm) + f" {unit}"
