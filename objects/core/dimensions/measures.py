"""One figure with its unit, and one side of an object as it is written."""

import re
from dataclasses import dataclass, field
from decimal import Decimal
from math import gcd

from objects.core.dimensions.values import Findings
from objects.core.lengths import MM_PER_UNIT, figure

_RULER_PARTS = {2, 4, 8, 16, 32, 64}
_ONE = Decimal(1)


@dataclass(slots=True)
class Quantity:
    """One figure.

    value: in unit, as is step, what it seems rounded to. lead_unit: its first unit as written, ft in 5' 3".
    """

    text: str
    value: Decimal
    step: Decimal
    unit: str | None = None
    lead_unit: str | None = None

    @property
    def mm(self) -> Decimal:
        return self.value * MM_PER_UNIT[self.unit or "mm"]

    @property
    def is_imperial(self) -> bool:
        return self.unit in ("in", "ft")

    def take_unit(self, unit: str) -> None:
        self.unit = self.lead_unit = unit

    def add(self, smaller: "Quantity", unit: str) -> None:
        """Take in the inches behind feet, or the centimetres behind metres."""
        per_unit = MM_PER_UNIT[self.unit or unit] / MM_PER_UNIT[unit]
        self.value, self.step = self.value * per_unit + smaller.value, smaller.step
        self.unit = unit


@dataclass(slots=True)
class Measure:
    """One side as written: a quantity, or several where a range is given, and its label if it has one.

    is_tied: an x ties it to the one before. words: the words that stand with it. asides: the measures in
    parentheses behind it.
    """

    quantities: list[Quantity]
    label: str | None = None
    label_word: str = ""
    is_tied: bool = False
    words: list[str] = field(default_factory=list)
    asides: list["Measure"] = field(default_factory=list)

    @property
    def mm(self) -> Decimal:
        """The side in mm, exact; of a range the greater end. Every unit must be known."""
        return max(each.mm for each in self.quantities)

    @property
    def unit(self) -> str | None:
        return self.quantities[0].unit

    @property
    def step_mm(self) -> Decimal:
        return max(each.step * MM_PER_UNIT[each.unit or "mm"] for each in self.quantities)

    @property
    def is_imperial(self) -> bool:
        return self.quantities[0].is_imperial

    def take_label(self, word: str, label: str, findings: Findings) -> None:
        if self.label not in (None, label):
            findings.doubts.append(f"One figure is called {self.label} and {label}. Check which it is.")
        else:
            self.label, self.label_word = label, word


def quantity_of(text: str, findings: Findings) -> Quantity:
    """The quantity that a figure, as the tokens give it, stands for; its unit is not known yet.

    Raises LengthError for a figure that cannot be one. Of two figures with a slash between them that are no
    fraction, as in 25/20 or 10/12, the larger is taken and doubted.
    """
    if "/" in text:
        return _fraction(text, findings)
    value = Decimal(text) if len(text) < 9 and text.isascii() and text.isdigit() else figure(text)
    places = value.as_tuple().exponent
    return Quantity(text, value, _ONE.scaleb(places) if isinstance(places, int) and places < 0 else _ONE)


def _fraction(text: str, findings: Findings) -> Quantity:
    value = figure(text)
    *whole, last = re.split(r"[ -]+", text)
    over, under = (int(side) for side in last.split("/"))
    if not whole and over > under and under in _RULER_PARTS and (glued := _glued(over, under)):
        findings.doubts.append(f"“{text}” may be {glued}, which is proposed. Check it.")
        return Quantity(glued, figure(glued), _ONE / under)
    if not whole and (over >= under or gcd(over, under) > 1 or over >= 10 and under not in _RULER_PARTS):
        findings.doubts.append(f"“{text}” is two sizes or a range; the larger is proposed. Check it.")
        return Quantity(str(max(over, under)), Decimal(max(over, under)), _ONE)
    if under not in _RULER_PARTS:
        findings.doubts.append(f"“{text}” is not a fraction that rulers have. Check that it is one.")
    return Quantity(text, value, _ONE / under)


def _glued(over: int, under: int) -> str | None:
    """The mixed number that lost its space: 43/4 is 4 3/4, 113/16 is 11 3/16."""
    digits = str(over)
    for cut in range(len(digits) - 1, 0, -1):
        whole, part = digits[:cut], digits[cut:]
        if not part.startswith("0") and gcd(int(part), under) == 1 and int(part) < under:
            return f"{whole} {part}/{under}"
    return None
