"""Weights as catalogues write them, in grams."""

import re
from decimal import Decimal

from objects.core.lengths import FIGURE_PATTERN, LengthError, figure, plain_text, shown
from objects.core.refusals import Refusal
from objects.core.words import say

# The avoirdupois pound is 453.59237 g exactly (international yard and pound agreement, 1959), 16 oz to it.
GRAMS = {"g": Decimal(1), "kg": Decimal(1000), "lb": Decimal("453.59237"), "oz": Decimal("453.59237") / 16}
LARGEST_G = Decimal(5_000_000)  # 5 t: heavier things are not housed in board; assumed

_SPELLINGS = {
    "kg": "kg kgs kilo kilos kilogram kilograms",
    "g": "g gr gram grams gramme grammes",
    "lb": "lb lbs pound pounds",
    "oz": "oz ounce ounces",
}
_UNIT_OF = {word: unit for unit, words in _SPELLINGS.items() for word in words.split()}
WEIGHT_UNITS = "|".join(sorted(_UNIT_OF, key=len, reverse=True))
_PART = re.compile(rf"\s*({FIGURE_PATTERN})\s*(?:({WEIGHT_UNITS})\.?)?(?![a-z\d])[\s,]*", re.IGNORECASE)
_PERHAPS_THOUSANDS = re.compile(r"[1-9]\d{0,2},\d{3}")


class WeightError(Refusal):
    """What was written is not a usable weight; the message is a sentence for the reader."""


def parse_weight(text: str, unit: str | None = None) -> Decimal:
    """Read one weight.

    text: such as 1.2 kg, 850 g, 3 lb or 2 lb 4 oz. unit: what a figure without a unit means, one of GRAMS;
    None refuses it. Returns grams to 0.1. Raises WeightError with what was read and what to do.
    Source: 1 lb = 453.59237 g exactly and 16 oz to it (international yard and pound agreement, 1959).
    """
    plain, at, grams = plain_text(text), 0, Decimal(0)
    if plain.startswith("-"):
        raise WeightError(
            say(
                "“{text}” is negative; a weight cannot be. Write it without the minus sign.", text=shown(text)
            )
        )
    while at < len(plain):
        part = _PART.match(plain, at)
        if not part:
            raise WeightError(
                say("“{text}” is not a weight. Write it like 1.2 kg, 850 g or 2 lb 4 oz.", text=shown(text))
            )
        named = _UNIT_OF[part[2].lower()] if part[2] else unit
        if named is None:
            raise WeightError(say("“{text}” has no unit. Write g, kg, lb or oz behind it.", text=shown(text)))
        if _PERHAPS_THOUSANDS.fullmatch(part[1]):
            whole, point = part[1].replace(",", ""), part[1].replace(",", ".")
            raise WeightError(
                say(
                    "“{text}” can be {whole} {named} or {point} {named}. Write it without the comma.",
                    text=shown(text),
                    whole=whole,
                    named=named,
                    point=point,
                )
            )
        try:
            grams += figure(part[1]) * GRAMS[named]
        except LengthError as refused:
            raise WeightError(str(refused)) from refused
        at = part.end()
    if grams > LARGEST_G:
        raise WeightError(
            say(
                "“{text}” is more than {largest} kg. Check the figure and the unit.",
                text=shown(text),
                largest=f"{LARGEST_G / 1000:.0f}",
            )
        )
    grams = grams.quantize(Decimal("0.1"))
    if grams <= 0:
        raise WeightError(
            say("“{text}” is zero. Weigh it, or leave it blank if it is not known.", text=shown(text))
        )
    return grams
