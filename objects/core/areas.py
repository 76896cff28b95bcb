"""Areas as people type and read them, in square centimetres or square inches; mm² everywhere else."""

import re
from decimal import Decimal

from objects.core.lengths import FIGURE_PATTERN, MM_PER_UNIT, LengthError, figure, plain_text, shown
from objects.core.refusals import Refusal
from objects.core.words import DECIMAL_SIGNS, noted, say, spoken

FINEST_MM2 = Decimal("0.01")
LARGEST_MM2 = Decimal(10_000_000)  # 10 m²: no sheet of board is as large; assumed
NAMES = {"in": noted("sq in"), "cm": "cm²"}

_UNIT_OF = {
    **dict.fromkeys(("sq in", "sq. in", "in2", "square inch", "square inches"), "in"),
    **dict.fromkeys(("sq cm", "sq. cm", "cm2", "square centimetres", "square centimeters"), "cm"),
}
_AREA = re.compile(
    rf"({FIGURE_PATTERN})\s*({'|'.join(map(re.escape, sorted(_UNIT_OF, key=len, reverse=True)))})?\.?",
    re.IGNORECASE,
)


class AreaError(Refusal):
    """What was typed is not a usable area; the message is a sentence for the reader."""


def area_unit(length_unit: str) -> str:
    """The unit of area beside a reader's unit of length, as a key of NAMES: inches for in, else cm."""
    return "in" if length_unit == "in" else "cm"


def parse_area(text: str, unit: str) -> Decimal:
    """Read one area; 0 is a sensible answer.

    text: such as 40, 40 1/2, 250 cm², 250 cm2 or 40 sq in. unit: the reader's unit of length; a figure
    without a unit is in square inches for "in" and in square centimetres for any other.
    Returns mm² to 0.01. Raises AreaError with what was read and what to do.
    Source: 1 in = 25.4 mm exactly (international inch), squared.
    """
    plain = plain_text(text)
    if plain.startswith("-"):
        raise AreaError(
            say("“{text}” is negative; an area cannot be. Type it without the minus sign.", text=shown(text))
        )
    if not (read := _AREA.fullmatch(plain)):
        raise AreaError(say("“{text}” is not an area. Type it like 40 sq in or 250 cm².", text=shown(text)))
    named = _UNIT_OF[read[2].lower()] if read[2] else area_unit(unit)
    try:
        mm2 = figure(read[1]) * MM_PER_UNIT[named] ** 2
    except LengthError as refused:
        raise AreaError(str(refused)) from refused
    if mm2 > LARGEST_MM2:
        raise AreaError(
            say(
                "“{text}” is more than {largest} m². Check the figure and the unit.",
                text=shown(text),
                largest=LARGEST_MM2 / 1_000_000,
            )
        )
    return mm2.quantize(FINEST_MM2)


def format_area(mm2: float | Decimal, unit: str) -> str:
    """Write one area for a reader.

    mm2: area in mm². unit: the reader's unit of length; "in" gives square inches, any other square
    centimetres.
    Returns text to a tenth, such as 38.8 sq in or 250 cm². Source: 1 in = 25.4 mm exactly, squared.
    """
    named = area_unit(unit)
    tenths = Decimal(mm2) / MM_PER_UNIT[named] ** 2
    text = f"{tenths:.1f}".removesuffix(".0").replace(".", DECIMAL_SIGNS[spoken()])
    return f"{text} {say(NAMES[named])}"
