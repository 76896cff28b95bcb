"""Areas and weights as a reader likes them: square feet and pounds beside inches, else metric."""

from decimal import Decimal

from objects.core.lengths import MM_PER_UNIT
from objects.core.weights import GRAMS

_MM2_PER_SQUARE_FOOT = float(MM_PER_UNIT["ft"]) ** 2
_MM2_PER_M2 = 1e6


def format_area(mm2: float | Decimal, unit: str) -> str:
    """Write an area for a reader.

    mm2: area in mm2. unit: the reader's unit of length; "in" gives square feet, any other square metres.
    Returns text such as 7.08 sq ft or 0.658 m², to 0.01 sq ft or 0.001 m2.
    Source: 1 ft = 304.8 mm exactly, taken from pint.
    """
    if unit == "in":
        return f"{float(mm2) / _MM2_PER_SQUARE_FOOT:.2f} sq ft"
    return f"{float(mm2) / _MM2_PER_M2:.3f} m²"


def format_mass(grams: float | Decimal, unit: str) -> str:
    """Write a weight for a reader.

    grams: weight in g. unit: the reader's unit of length; "in" gives pounds and ounces, any other grams below
    1 kg and kilograms from there.
    Returns text such as 2 lb 4 oz, 850 g or 1.25 kg, to 0.1 oz, 1 g or 0.01 kg.
    Source: 1 lb = 453.59237 g exactly and 16 oz to it (international yard and pound agreement, 1959).
    """
    if unit == "in":
        pounds, tenths = divmod(round(float(grams) / float(GRAMS["oz"]) * 10), 160)
        ounces = f"{tenths / 10:g} oz"
        return f"{pounds} lb {ounces}" if pounds and tenths else f"{pounds} lb" if pounds else ounces
    if round(grams) < 1000:
        return f"{round(grams)} g"
    return f"{float(grams) / 1000:.2f}".rstrip("0").rstrip(".") + " kg"
