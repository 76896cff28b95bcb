"""One figure with its unit, and one side of an object as it is written."""

from dataclasses import dataclass, field
from decimal import Decimal
from functools import lru_cache
from math import gcd

from objects.core.dimensions.values import Findings
from objects.core.lengths import LONGEST_FIGURE, MM_PER_UNIT, figure
from objects.core.words import say

_RULER_PARTS = {2, 4, 8, 16, 32, 64}
_value = lru_cache(maxsize=4096)(figure)  # a catalogue has few figures, and each of them often
_STEPS = tuple(Decimal(1).scaleb(-places) for places in range(LONGEST_FIGURE + 1))


@dataclass(slots=True)
class Quantity:
    """One figure.

    value: in unit, as is step, what it seems rounded to. lead_unit: its first unit as written, ft in 5' 3".
    has_own_unit: whether its unit stands behind it, and not behind another figure of the run.
    """

    text: str
    value: Decimal
    step: Decimal
    unit: str | None = None
    lead_unit: str | None = None
    has_own_unit: bool = False

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
        first, *further = self.quantities
        return max(first.mm, *(each.mm for each in further)) if further else first.mm

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
            findings.doubts.append(
                say(
                    "One figure is called {label} and {label2}. Check which it is.",
                    label=self.label,
                    label2=label,
                )
            )
        else:
            self.label, self.label_word = label, word


def quantity_of(text: str, findings: Findings) -> Quantity:
    """The quantity that a figure, as the tokens give it, stands for; its unit is not known yet.

    Raises LengthError for a figure that cannot be one. Of two figures with a slash between them that are no
    fraction, as in 25/20 or 10/12, the larger is taken and doubted.
    """
    if "/" in text:
        return _fraction(text, findings)
    if len(text) < 9 and text.isdigit():
        return Quantity(text, Decimal(text), _STEPS[0])
    value = _value(text)
    _, _, decimals = f"{value:f}".partition(".")
    return Quantity(text, value, _STEPS[len(decimals)])


def _fraction(text: str, findings: Findings) -> Quantity:
    value = _value(text)
    whole, _, last = text.replace("-", " ").rpartition(" ")
    over, under = (int(side) for side in last.split("/"))
    step = _STEPS[0] / under
    if gcd(over, under) == 1 and over < under and under in _RULER_PARTS:
        return Quantity(text, value, step)
    if not whole and over > under and under in _RULER_PARTS and (glued := _glued(over, under)):
        findings.doubts.append(
            say("“{text}” may be {glued}, which is proposed. Check it.", text=text, glued=glued)
        )
        return Quantity(glued, figure(glued), step)
    if not whole and (over >= under or gcd(over, under) > 1 or over >= 10):
        findings.doubts.append(
            say("“{text}” is two sizes or a range; the larger is proposed. Check it.", text=text)
        )
        return Quantity(str(max(over, under)), Decimal(max(over, under)), _STEPS[0])
    findings.doubts.append(
        say("“{text}” is not a fraction that rulers have. Check that it is one.", text=text)
    )
    return Quantity(text, value, step)


def _glued(over: int, under: int) -> str | None:
    """The mixed number that lost its space: 43/4 is 4 3/4, 113/16 is 11 3/16."""
    digits = str(over)
    for cut in range(len(digits) - 1, 0, -1):
        whole, part = digits[:cut], digits[cut:]
        if not part.startswith("0") and gcd(int(part), under) == 1 and int(part) < under:
            return f"{whole} {part}/{under}"
    return None
