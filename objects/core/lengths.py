"""Lengths as people type and read them; millimetres everywhere else. The one place that does both."""

import re
import unicodedata
from collections.abc import Sequence
from decimal import Decimal
from math import floor, gcd

import pint

from objects.core.refusals import Refusal
from objects.core.words import DECIMAL_SIGNS, noted, say, spoken

_REGISTRY = pint.UnitRegistry(non_int_type=Decimal, cache_folder=None)
MM_PER_UNIT: dict[str, Decimal] = {
    unit: _REGISTRY.Quantity(Decimal(1), name).to("millimetre").magnitude.normalize()
    for unit, name in (
        ("in", "inch"), ("ft", "foot"), ("mm", "millimetre"), ("cm", "centimetre"), ("m", "metre")
    )
}  # fmt: skip
MM_PER_INCH = MM_PER_UNIT["in"]
UNIT_NAMES = {
    "in": noted("inches"),
    "ft": noted("feet"),
    "mm": noted("millimetres"),
    "cm": noted("centimetres"),
    "m": noted("metres"),
}
FINEST = Decimal("0.0001")
POINT = "."
LARGEST_MM = Decimal(20_000)  # 20 m: longer things do not go into a box; assumed
LONGEST_FIGURE = 30  # characters; assumed, far more than any ruler gives

_MM_PER_UNIT_FLOAT = {unit: float(mm) for unit, mm in MM_PER_UNIT.items()}
_SPELLINGS = {
    "in": "in ins inch inches",
    "ft": "ft foot feet",
    "mm": "mm mms millimetre millimetres millimeter millimeters",
    "cm": "cm cms centimetre centimetres centimeter centimeters",
    "m": "m metre metres meter meters",
}
_UNIT_OF = {word: unit for unit, words in _SPELLINGS.items() for word in words.split()}
_UNIT_OF |= {'"': "in", "''": "in", "'": "ft"}
UNIT_WORDS = "|".join(sorted((word for word in _UNIT_OF if word.isalpha()), key=len, reverse=True))
UNIT_MARKS = "''|[\"']"
FIGURE_PATTERN = (
    r"\d+[ -]+\d+/\d+|\d+/\d+"  # 10 3/4, 10-3/4, 3/4
    r"|\d{1,3}(?:,\d{3})+\.\d+|\d{1,3}(?:\.\d{3})+,\d+"  # 1,250.5 and 1.250,5
    r"|\d+(?:[.,]\d+)?"
)
_PART = re.compile(
    rf"\s*({FIGURE_PATTERN}|[.,]\d+)\s*(?:((?:{UNIT_WORDS})\b\.?|{UNIT_MARKS})|(?![^\W_]))\s*", re.IGNORECASE
)
_PLAIN = str.maketrans(
    dict.fromkeys("’‘‛′ʹ＇", "'")
    | dict.fromkeys("”“„‟″ʺ＂", '"')
    | dict.fromkeys("‐‑‒–—―−", "-")
    | {"⁄": "/", "∕": "/", "⌀": "ø"}
)
_BEFORE_RAISED = re.compile(r"(?<=\d)(?=[¼-¾⅐-⅟↉²³¹⁰⁴-⁹])")


class LengthError(Refusal):
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
        raise LengthError(say("Nothing was entered. Type a length such as 10 3/4 in or 27.3 cm."))
    if plain.startswith("-"):
        raise LengthError(
            say("“{text}” is negative; a length cannot be. Type it without the minus sign.", text=shown(text))
        )
    figures: list[str] = []
    units: list[str] = []
    at = 0
    while at < len(plain):
        part = _PART.match(plain, at)
        if not part:
            raise LengthError(
                say(
                    "“{text}” is not a length. Type it like 10 3/4 in, 10.75 in or 27.3 cm.", text=shown(text)
                )
            )
        written = unit_of(part[2] or "") or ("in" if units == ["ft"] else unit)
        if written is None:
            raise LengthError(say("“{text}” has no unit. Write in, cm or mm behind it.", text=shown(text)))
        figures.append(part[1])
        units.append(written)
        at = part.end()
        if units == ["ft"] and plain[at : at + 1] == "-":  # 5'-3 1/2"
            at += 1
    if len(units) > 1 and units != ["ft", "in"]:
        raise LengthError(say("“{text}” holds more than one length. Type one length only.", text=shown(text)))
    total = sum(figure(each) * MM_PER_UNIT[named] for each, named in zip(figures, units, strict=True))
    _refuse_thousands(figures, units, text)
    return _within_reason(Decimal(total), text, may_be_zero)


def _refuse_thousands(figures: list[str], units: list[str], text: str) -> None:
    """1,250 mm may be 1250 or 1.25 mm; where both are possible sizes the person has to say."""
    for each, named in zip(figures, units, strict=True):
        if is_perhaps_thousands(each, named):
            whole, point = each.replace(",", ""), each.replace(",", ".")
            raise LengthError(
                say(
                    "“{text}” can be {whole} {named} or {point} {named}. Type it without the comma.",
                    text=shown(text),
                    whole=whole,
                    named=named,
                    point=point,
                )
            )


def _within_reason(exact: Decimal, text: str, may_be_zero: bool) -> Decimal:
    if exact > LARGEST_MM:
        raise LengthError(
            say(
                "“{text}” is {metres} m, and more than {largest} m cannot be right. Check the figure "
                "and the unit.",
                text=shown(text),
                metres=f"{float(exact) / 1000:g}".replace(".", DECIMAL_SIGNS[spoken()]),
                largest=f"{LARGEST_MM / 1000:.0f}",
            )
        )
    mm = exact.quantize(FINEST)
    if mm == 0 and not may_be_zero:
        raise LengthError(
            say("“{text}” is zero. Measure it, or leave it blank if it is not known.", text=shown(text))
        )
    return mm


def plain_text(text: str) -> str:
    """Text with typographic fractions, dashes and quotes made plain: 10¾″ becomes 10 3/4"."""
    spaced = _BEFORE_RAISED.sub(" ", text.translate(_PLAIN))
    return " ".join(unicodedata.normalize("NFKC", spaced).translate(_PLAIN).split())


def shown(text: str, most: int = 60) -> str:
    """Text as quoted in a message, cut where it is long."""
    flat = " ".join(text.split())
    return flat if len(flat) <= most else f"{flat[: most - 1]}…"


def unit_of(written: str) -> str | None:
    """The unit that a spelling stands for: Inches, in. and " are all in. None where it is no unit."""
    return _UNIT_OF.get(written.lower().removesuffix("."))


def figure(text: str) -> Decimal:
    """The value of one figure in the form of FIGURE_PATTERN.

    text: a whole number, a decimal with point or comma, a fraction, or a mixed number such as 10-3/4.
    Raises LengthError for a fraction over zero, a mixed number whose fraction is 1 or more, and figures too
    long to be meant. Source: arithmetic.
    """
    if len(text) > LONGEST_FIGURE:
        raise LengthError(say("“{text}” has too many digits. Check the figure.", text=shown(text, 20)))
    *whole, last = re.split(r"[ -]+", text.strip())
    if "/" not in last:
        if "." in last and "," in last:
            thousands = "," if last.index(",") < last.index(".") else "."
            last = last.replace(thousands, "")
        return Decimal(last.replace(",", "."))
    over, under = (int(side) for side in last.split("/"))
    if under == 0:
        raise LengthError(say("“{text}” divides by zero. Type the fraction like 3/4.", text=text))
    if whole and over >= under:
        raise LengthError(say("“{text}” is not a usual mixed number. Type it like 10 3/4.", text=text))
    return Decimal(int(whole[0]) if whole else 0) + Decimal(over) / Decimal(under)


def is_perhaps_thousands(text: str, unit: str) -> bool:
    """Whether a comma before three digits could group thousands, the size still being possible."""
    if not re.fullmatch(r"[1-9]\d{0,2},\d{3}", text):
        return False
    return Decimal(text.replace(",", "")) * MM_PER_UNIT[unit] <= LARGEST_MM


def format_length(
    mm: float | Decimal,
    unit: str,
    step: float | None = None,
    with_unit: bool = True,
    sign: str | None = None,
) -> str:
    """Write one length for a reader.

    mm: length. unit: "in" for inches and fractions, "mm", or "cm". step: what is rounded to, in that unit;
    1/16 in, 0.1 mm or 0.1 cm when not given, and no finer than 0.1 mm or 0.1 cm. Half a step rounds up.
    sign: the decimal sign, that of the language spoken when not given; POINT for what machines read.
    Returns text such as 10 3/4 in or 273.1 mm. Raises ValueError for another unit.
    Source: fractions are reduced, as rulers are read; common practice, no source.
    """
    if unit == "in":
        text = _inches(float(mm) / _MM_PER_UNIT_FLOAT["in"], round(1 / step) if step else 16)
    elif unit in ("mm", "cm"):
        step = step or 0.1
        tenths = _nearest(float(mm) / _MM_PER_UNIT_FLOAT[unit] / step) * step
        text = f"{tenths:.1f}".removesuffix(".0")
    else:
        raise ValueError(f"Lengths are written in in, cm or mm, not in “{unit}”.")
    text = text.replace(".", sign or DECIMAL_SIGNS[spoken()])
    return f"{text} {unit}" if with_unit else text


THINNEST_INCHES = 0.001  # what a caliper for board reads at the finest, 1 pt


def _nearest(steps: float) -> int:
    # The small addition keeps 273.05 mm, which a float holds a hair too small, from rounding down.
    return floor(steps + 0.5 + 1e-9)


def _inches(value: float, parts: int) -> str:
    count = _nearest(abs(value) * parts)
    if not count and value >= THINNEST_INCHES:  # paper is thin, but it is not nothing
        return f"{value:.3f}"
    whole, rest = divmod(count, parts)
    sign = "-" if value < 0 and count else ""
    if not rest:
        return f"{sign}{whole}"
    common = gcd(rest, parts)
    fraction = f"{rest // common}/{parts // common}"
    return f"{sign}{whole} {fraction}" if whole else f"{sign}{fraction}"


def format_size(sides_mm: Sequence[float | Decimal], unit: str, sign: str | None = None) -> str:
    """Several sides with the unit once at the end, such as 11 × 10 3/4 × 9 1/8 in. sides_mm: one or more."""
    sides = " × ".join(format_length(side, unit, with_unit=False, sign=sign) for side in sides_mm)
    return f"{sides} {unit}"


def format_exact(mm: Decimal) -> str:
    """Write a length in millimetres with all its digits, so that parse_length gives the same in any language.

    mm: to 0.0001. Returns text such as 3.175 mm, with a decimal comma 3,1750 mm, since 3,175 could be
    thousands. Source: parse_length.
    """
    return f"{clear_figure(mm)} mm"


def clear_figure(value: Decimal) -> str:
    """A figure with all its digits and the decimal sign of the language, not to be taken for thousands."""
    text = f"{value.normalize():f}".replace(".", DECIMAL_SIGNS[spoken()])
    return f"{text}0" if re.fullmatch(r"\d{1,3},\d{3}", text) else text


_FIGURE_MM = r"\d+(?:[.,]\d+)?"
_WRITTEN_MM = re.compile(rf"{_FIGURE_MM}(?: [x×] {_FIGURE_MM})* mm\b")


def in_unit(sentence: str, unit: str) -> str:
    """A sentence with the lengths that it gives in millimetres written in a reader's unit.

    sentence: such as “The flap is 63.5 mm wide”, also with a comma. unit: "in", "mm" or "cm".
    Returns “The flap is 2 1/2 in wide” for "in". Source: format_length.
    """
    if unit == "mm":
        return _WRITTEN_MM.sub(lambda found: found[0].replace(".", DECIMAL_SIGNS[spoken()]), sentence)
    return _WRITTEN_MM.sub(
        lambda found: format_size(
            [float(side.replace(",", ".")) for side in re.findall(_FIGURE_MM, found[0])], unit
        ),
        sentence,
    )
