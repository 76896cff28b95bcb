"""How many boxes may stand on one another, estimated from the board's edge crush."""

import math
from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass

from housing.core.errors import EnclosureError
from objects.core.words import decimal, say

GRAVITY = 9.80665  # m/s2, standard
MM_PER_M = 1000.0
KN = 1000.0


class StackingRefused(EnclosureError):
    """A stack cannot be estimated from what was given; the message says which part of it."""


# What is left of the strength after some days under load, and at a relative humidity. Source: Fibre Box
# Handbook, as reproduced by makers of boxes; the handbook itself was not opened.
AFTER_DAYS = ((0, 1.0), (10, 0.63), (30, 0.60), (90, 0.55), (180, 0.50))
AT_HUMIDITY = ((50, 1.00), (60, 0.90), (70, 0.80), (80, 0.68), (90, 0.48), (100, 0.15))

# What is left when boxes do not stand exactly on one another. Source: the same handbook, from memory.
PATTERNS = {"aligned": 1.0, "misaligned": 0.85, "interlocked": 0.40}


def compression_n(edge_crush_kn_m: float, caliper_mm: float, perimeter_mm: float) -> float:
    """Force an empty case bears from top to bottom, newtons, by McKee's simplified formula.

    edge_crush_kn_m: edge crush of the board, kN/m. caliper_mm: its thickness, mm. perimeter_mm: inside, mm.
    Raises StackingRefused for a value at or below 0.
    Source: McKee, Gander and Wachuta 1963, in the rounded form in everyday use, 5.87 x ECT x sqrt(h x Z); its
        length exponents cancel, so the constant is the same in any one system of units.
    """
    _refuse_below_zero(edge_crush_kn_m, caliper_mm, perimeter_mm)
    return 5.87 * edge_crush_kn_m * KN * math.sqrt(caliper_mm * perimeter_mm) / MM_PER_M


def compression_by_exponents_n(edge_crush_kn_m: float, caliper_mm: float, perimeter_mm: float) -> float:
    """The same by the unrounded exponents, 5.874 x ECT x h^0.508 x Z^0.492; about 5 % lower. Newtons."""
    _refuse_below_zero(edge_crush_kn_m, caliper_mm, perimeter_mm)
    lengths = (caliper_mm / MM_PER_M) ** 0.508 * (perimeter_mm / MM_PER_M) ** 0.492
    return float(5.874 * edge_crush_kn_m * KN * lengths)


def compression_by_stiffness_n(
    edge_crush_kn_m: float, stiffness_x_nm: float, stiffness_y_nm: float, perimeter_mm: float
) -> float:
    """The same by McKee's full formula, from the board's bending stiffness both ways, N m. Newtons."""
    _refuse_below_zero(edge_crush_kn_m, stiffness_x_nm, stiffness_y_nm, perimeter_mm)
    bending = math.sqrt(stiffness_x_nm * stiffness_y_nm) ** 0.254
    return float(2.028 * (edge_crush_kn_m * KN) ** 0.746 * bending * (perimeter_mm / MM_PER_M) ** 0.492)


@dataclass(frozen=True)
class StoreConditions:
    """How boxes stand in the store.

    days: under load. humidity_percent: relative humidity. pattern: a key of PATTERNS. safety: by how much the
    strength left has to exceed the load.
    Raises StackingRefused for figures outside the tables or a safety factor below 2.
    Source: 180 days is as far as the published table goes, and stacks in a store stand for years; so a safety
        factor of 3 is assumed. Packaging notes ask for at least 2.
    """

    days: float = 180.0
    humidity_percent: float = 60.0
    pattern: str = "aligned"
    safety: float = 3.0

    def __post_init__(self) -> None:
        if not 0 <= self.days <= 180:
            raise StackingRefused(
                say(
                    "The time under load is {days:g} days; the table goes from 0 to 180. For longer, take "
                    "180 and a higher safety factor.",
                    days=self.days,
                )
            )
        if not 0 <= self.humidity_percent <= 100:
            raise StackingRefused(
                say(
                    "The humidity is {humidity_percent:g} %; it lies between 0 and 100.",
                    humidity_percent=self.humidity_percent,
                )
            )
        if self.pattern not in PATTERNS:
            known = ", ".join(PATTERNS)
            raise StackingRefused(
                say(
                    "“{pattern}” is no stacking pattern. Choose one of: {known}.",
                    pattern=self.pattern,
                    known=known,
                )
            )
        if self.safety < 2:
            raise StackingRefused(
                say("The safety factor is {safety:g}; it must be at least 2.", safety=self.safety)
            )

    @property
    def share_left(self) -> float:
        """What is left of a box's strength, 0 to 1."""
        return (
            _between(AFTER_DAYS, self.days)
            * _between(AT_HUMIDITY, max(self.humidity_percent, 50.0))
            * PATTERNS[self.pattern]
        )


@dataclass(frozen=True)
class Stack:
    """An estimate: strength of a box, what is left of it in the store, the load allowed on it, boxes high."""

    compression_n: float
    left_n: float
    allowed_kg: float
    boxes: int
    sentence: str


MOST_BOXES = 8  # higher than a person reaches, whatever the board bears; assumed


def stack(
    gross_kg: float,
    inside_mm: tuple[float, float, float],
    caliper_mm: float,
    edge_crush_kn_m: float,
    conditions: StoreConditions,
) -> Stack:
    """How many such boxes may stand on one another.

    gross_kg: box and contents, kg. inside_mm: length, width, height of the inside, mm. caliper_mm, mm.
    edge_crush_kn_m: edge crush of the board, kN/m. conditions: of the store.
    Raises StackingRefused for a mass or a size at or below 0.
    Source: load on the lowest box = (boxes - 1) x mass; allowed while load x safety <= strength left.
    """
    if not gross_kg > 0:
        raise StackingRefused(
            say(
                "The gross weight is {gross_kg:g} kg; it must be above 0. Weigh the object.",
                gross_kg=gross_kg,
            )
        )
    length, width, height = inside_mm
    perimeter = 2 * (length + width)
    strength = compression_n(edge_crush_kn_m, caliper_mm, perimeter)
    left = strength * conditions.share_left
    allowed = left / conditions.safety / GRAVITY
    boxes = min(1 + math.floor(allowed / gross_kg + 1e-9), MOST_BOXES)
    high = say("Do not stack it") if boxes == 1 else say("Stack at most {boxes} high", boxes=boxes)
    sentence = say(
        "{high}: an estimate for {days:.0f} days at {humidity_percent:.0f} % humidity with "
        "{safety:g}-fold safety lets {allowed} kg stand on a box. Follow local rules.",
        high=high,
        days=conditions.days,
        humidity_percent=conditions.humidity_percent,
        safety=conditions.safety,
        allowed=decimal(allowed, 1),
    )
    if height < perimeter / 7:
        sentence += " " + say(
            "The formula was stated for higher boxes, at least a seventh of their perimeter."
        )
    return Stack(strength, left, allowed, boxes, sentence)


def _between(table: Sequence[tuple[float, float]], at: float) -> float:
    """A value between the entries of a table, by the straight line."""
    i = bisect_left([entry[0] for entry in table], at)
    if table[i][0] == at:
        return table[i][1]
    (x0, y0), (x1, y1) = table[i - 1], table[i]
    return y0 + (y1 - y0) * (at - x0) / (x1 - x0)


def _refuse_below_zero(*values: float) -> None:
    for value in values:
        if not value > 0:
            raise StackingRefused(
                say("A strength or size is {value:g}; all of them must be above 0.", value=value)
            )
