"""The question as the search sees it: every size grown by one kerf, so that neighbours may simply touch."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import NamedTuple

from boards.core.nesting.shapes import Piece, Rules, Sheet

# Sums of lengths in binary fractions may miss by less than this; far below what any ruler shows.
SLACK_MM = 1e-6


class Blank(NamedTuple):
    """Sides along and across the flutes in mm, grown by the kerf."""

    a: float
    b: float
    may_turn: bool
    area: float


@dataclass(frozen=True, eq=False)
class Kind:
    """A sheet size less its trim, grown by the kerf; worth weighs an unused share against other kinds'."""

    index: int
    a: float
    b: float
    area: float
    price: Decimal
    stock: float
    worth: float

    def holds(self, blank: Blank) -> bool:
        """Whether the blank alone fits on it, turned if it may be."""
        a, b = blank.a - SLACK_MM, blank.b - SLACK_MM
        return (a <= self.a and b <= self.b) or (blank.may_turn and b <= self.a and a <= self.b)


@dataclass(frozen=True)
class Job:
    """The blanks and the kinds of sheet, each in the order in which they were given."""

    blanks: tuple[Blank, ...]
    kinds: tuple[Kind, ...]

    def fits(self, blank: int) -> bool:
        """Whether any kind of sheet, in stock or not, holds the blank."""
        return any(kind.holds(self.blanks[blank]) for kind in self.kinds)


def grow(pieces: Sequence[Piece], sheets: Sequence[Sheet], rules: Rules) -> Job:
    """The job with every size grown by one kerf.

    A gap of one kerf between neighbours, and none at the trim, is the same as blanks grown by a kerf that
    touch on sheets grown by a kerf.
    """
    kerf = rules.kerf_mm
    blanks = tuple(
        Blank(p.along_mm + kerf, p.across_mm + kerf, p.may_turn, (p.along_mm + kerf) * (p.across_mm + kerf))
        for p in pieces
    )
    priced = any(sheet.price for sheet in sheets)
    kinds = []
    for index, sheet in enumerate(sheets):
        a = max(0.0, sheet.along_mm - 2 * rules.trim_mm + kerf)
        b = max(0.0, sheet.across_mm - 2 * rules.trim_mm + kerf)
        stock = math.inf if sheet.stock is None else sheet.stock
        kinds.append(Kind(index, a, b, a * b, sheet.price, stock, float(sheet.price) if priced else a * b))
    return Job(blanks, tuple(kinds))
