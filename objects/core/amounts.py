"""Weights as a reader likes them: pounds and ounces beside inches, else grams and kilograms."""

from decimal import Decimal

from objects.core.weights import GRAMS
from objects.core.words import DECIMAL_SIGNS, spoken


def format_mass(grams: float | Decimal, unit: str) -> str:
    """Write a weight for a reader.

    grams: weight in g. unit: the reader's unit of length; "in" gives pounds and ounces, any other grams below
    1 kg and kilograms from there.
    Returns text such as 2 lb 4 oz, 850 g or 1.25 kg, to 0.1 oz, 1 g or 0.01 kg.
    Source: 1 lb = 453.59237 g exactly and 16 oz to it (international yard and pound agreement, 1959).
    """
    return _written(grams, unit).replace(".", DECIMAL_SIGNS[spoken()])


def _written(grams: float | Decimal, unit: str) -> str:
    if unit == "in":
        pounds, tenths = divmod(round(float(grams) / float(GRAMS["oz"]) * 10), 160)
        ounces = f"{tenths / 10:g} oz"
        return f"{pounds} lb {ounces}" if pounds and tenths else f"{pounds} lb" if pounds else ounces
    if round(grams) < 1000:
        return f"{round(grams)} g"
    return f"{float(grams) / 1000:.2f}".rstrip("0").rstrip(".") + " kg"
