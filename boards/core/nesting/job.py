"""The question as the search sees it: every size grown by one kerf, so that neighbours may simply touch."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

import numpy as np
import numpy.typing as npt

from boards.core.nesting.shapes import Piece, Rules, Sheet

# Sums of lengths in binary fractions may miss by less than this; far below what any ruler shows.
SLACK_MM = 1e-6
# The search counts in whole units, so that sums are exact; a hundred of them stay below the judge's
# tolerance.
UNITS_A_MM = 100_000.0
UNIT_MM = 1 / UNITS_A_MM

Numbers = npt.NDArray[np.float64]
Wholes = npt.NDArray[np.int64]


def units(length_mm: float) -> float:
    """A length in mm as the nearest whole number of units."""
    return float(round(length_mm * UNITS_A_MM))


def mm(length: float) -> float:
    """A length in units as the number of mm closest to it, free of the noise of binary fractions."""
    return length / UNITS_A_MM


@dataclass(frozen=True, eq=False)
class Kind:
    """A sheet size less its trim, grown by the kerf, in units; stock is infinite if unlimited.

    sheet: as it was given.
    """

    index: int
    a: float
    b: float
    stock: float
    sheet: Sheet

    @property
    def area(self) -> float:
        """Its area, square units."""
        return self.a * self.b

    def price(self, count: int) -> Decimal:
        """Money for so many of them."""
        return self.sheet.price * self.sheet.paid(count)


@dataclass(frozen=True)
class Job:
    """The blanks and the kinds of sheet, each in the order in which they were given.

    sides: by blank, along and across, grown by the kerf, in units. may_turn: by blank. corners: by blank the
    sides of its four waste corners, in units, empty when they are not to be used.
    """

    sides: Numbers
    may_turn: npt.NDArray[np.bool_]
    kinds: tuple[Kind, ...]
    corners: Numbers

    @property
    def count(self) -> int:
        """How many blanks there are."""
        return len(self.sides)

    @cached_property
    def areas(self) -> Numbers:
        """Area of each blank, grown by the kerf, in square units."""
        return self.sides[:, 0] * self.sides[:, 1]

    @cached_property
    def straight(self) -> npt.NDArray[np.bool_]:
        """By blank and kind: whether that sheet holds the blank as it is."""
        return self._held(self.sides)

    @cached_property
    def turned(self) -> npt.NDArray[np.bool_]:
        """By blank and kind: whether that sheet holds the blank turned, as far as it may be."""
        return self._held(self.sides[:, ::-1]) & self.may_turn[:, None]

    def _held(self, sides: Numbers) -> npt.NDArray[np.bool_]:
        rooms = np.array([(kind.a, kind.b) for kind in self.kinds]).reshape(-1, 2)
        return (sides[:, None, :] <= rooms[None, :, :]).all(axis=2)

    @cached_property
    def fits(self) -> npt.NDArray[np.bool_]:
        """By blank and kind: whether that kind of sheet, in stock or not, holds it."""
        return self.straight | self.turned


def grow(pieces: Sequence[Piece], sheets: Sequence[Sheet], rules: Rules) -> Job:
    """The job with every size grown by one kerf.

    A gap of one kerf between neighbours, and none at the trim, is the same as blanks grown by a kerf that
    touch on sheets grown by a kerf. In a corner a kerf is lost along both inner edges and none outside, so
    that a corner as it is takes blanks grown by a kerf.
    """
    kerf, trim = rules.kerf_mm, rules.trim_mm
    sides = np.array([(p.along_mm + kerf, p.across_mm + kerf) for p in pieces], float).reshape(-1, 2)
    kinds = tuple(
        Kind(
            index,
            max(0.0, units(sheet.along_mm - 2 * trim + kerf)),
            max(0.0, units(sheet.across_mm - 2 * trim + kerf)),
            math.inf if sheet.stock is None else sheet.stock,
            sheet,
        )
        for index, sheet in enumerate(sheets)
    )
    nothing = ((0.0, 0.0),) * 4
    corners = (
        np.floor(
            np.array([p.corners or nothing for p in pieces], float).reshape(-1, 4, 2) * UNITS_A_MM + 0.01
        )
        if rules.use_corners
        else np.zeros((0, 4, 2))
    )
    may_turn = np.array([piece.may_turn for piece in pieces], bool)
    # Rounded down, so that blanks that fill a sheet to its last sixteenth of an inch still do.
    return Job(np.floor(sides * UNITS_A_MM + 0.01), may_turn, kinds, corners)
