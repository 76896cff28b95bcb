"""The weight that stands in dimension text, taken out of it."""

import re
from decimal import Decimal

from objects.core.dimensions.values import Findings
from objects.core.lengths import FIGURE_PATTERN
from objects.core.weights import WEIGHT_UNITS, WeightError, parse_weight
from objects.core.words import noted

_UNIT = re.compile(rf"\d\s?(?:{WEIGHT_UNITS})\b")  # quick to look for first
_WEIGHT = re.compile(
    rf"(?:(?<![^\W\d_])(?:weight|weighs|weighing|wt|mass|w|gewicht|gew|poids|peso)[.:=\s]*)?"
    rf"((?:(?<![\d.,/])(?:{FIGURE_PATTERN})\s*(?:{WEIGHT_UNITS})\b\.?(?:\s*,?\s*(?=\d))?)+)"
)
_MOST_DIFFERENCE = Decimal("0.05")  # of two weights that are meant to be one, for their rounding; assumed


def without_weight(line: str, findings: Findings) -> tuple[str, Decimal | None]:
    """The line without the weights in it, and the first of them in grams; a second one is compared."""
    if not _UNIT.search(line):
        return line, None
    weights: list[Decimal] = []
    for found in _WEIGHT.finditer(line):
        try:
            weights.append(parse_weight(found[1]))
        except WeightError as error:
            findings.doubts.append(str(error))
    if any(abs(other - weights[0]) > weights[0] * _MOST_DIFFERENCE for other in weights[1:]):
        findings.doubts.append(noted("Several weights are given; the first was taken. Check it."))
    return _WEIGHT.sub("; ", line), weights[0] if weights else None
