"""Blanks, sheets and the cutting plan made of them; x runs along the flutes or the grain, y across."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from boards.core.nesting.errors import PieceRefused, RulesRefused, SheetRefused


@dataclass(frozen=True)
class Piece:
    """One blank to be cut.

    along_mm, across_mm: sides along and across the blank's own flutes, above 0.
    may_turn: whether its flutes may also lie across those of the sheet.
    Raises PieceRefused for a side that is not above 0.
    """

    key: str
    along_mm: float
    across_mm: float
    may_turn: bool = False

    def __post_init__(self) -> None:
        if not all_positive(self.along_mm, self.across_mm):
            raise PieceRefused(
                f"Blank {self.key} is {size_text(self.along_mm, self.across_mm)}; both sides must be above 0."
            )


@dataclass(frozen=True)
class Sheet:
    """A sheet size that can be cut up; an offcut on the rack is a sheet with price 0 and stock 1.

    along_mm, across_mm: sides along and across the flutes, above 0. price: money a sheet, not negative.
    stock: how many there are, None for as many as needed.
    Raises SheetRefused for a side that is not above 0, a negative price or a negative stock.
    """

    key: str
    along_mm: float
    across_mm: float
    price: Decimal
    stock: int | None = None

    def __post_init__(self) -> None:
        if not all_positive(self.along_mm, self.across_mm):
            raise SheetRefused(
                f"Sheet {self.key} is {size_text(self.along_mm, self.across_mm)}; both sides must be above 0."
            )
        if not self.price.is_finite() or self.price < 0:
            raise SheetRefused(f"Sheet {self.key} costs {self.price}; a price must be a number not below 0.")
        if self.stock is not None and self.stock < 0:
            raise SheetRefused(f"Sheet {self.key} has a stock of {self.stock}; a stock cannot be below 0.")


@dataclass(frozen=True)
class Rules:
    """How blanks may lie; every layout can be cut with straight cuts from edge to edge.

    kerf_mm: least gap between neighbours, lost in the cut. trim_mm: lost along all four edges of a sheet.
    least_offcut_mm: shorter side from which a leftover rectangle is worth listing.
    Raises RulesRefused for a length below 0.
    """

    kerf_mm: float = 0.0
    trim_mm: float = 0.0
    least_offcut_mm: float = 0.0

    def __post_init__(self) -> None:
        for name, length_mm in (
            ("kerf", self.kerf_mm),
            ("trim", self.trim_mm),
            ("least offcut", self.least_offcut_mm),
        ):
            if not math.isfinite(length_mm) or length_mm < 0:
                raise RulesRefused(f"The {name} is {length_mm:g} mm; it must be a number not below 0.")


@dataclass(frozen=True)
class Placement:
    """A blank on its sheet: near corner and sides as placed, mm from the sheet's corner, trim included."""

    key: str
    x_mm: float
    y_mm: float
    along_mm: float
    across_mm: float
    turned: bool


@dataclass(frozen=True)
class Cut:
    """A straight cut from edge to edge of the part in hand, mm from the sheet's corner.

    It runs along x or along y, from the smaller to the greater value. The kerf is lost beyond the line,
    towards greater x or y; a trim cut loses it in the strip that falls away.
    """

    x0_mm: float
    y0_mm: float
    x1_mm: float
    y1_mm: float
    is_trim: bool = False


@dataclass(frozen=True)
class Offcut:
    """A rectangle left over once every cut is made, mm from the sheet's corner."""

    x_mm: float
    y_mm: float
    along_mm: float
    across_mm: float

    @property
    def area_mm2(self) -> float:
        """Its area, mm2."""
        return self.along_mm * self.across_mm


@dataclass(frozen=True)
class CutSheet:
    """One sheet cut up: where its blanks lie, its cuts in their order, and what is left over."""

    sheet_key: str
    placements: tuple[Placement, ...]
    cuts: tuple[Cut, ...]
    offcuts: tuple[Offcut, ...]


@dataclass(frozen=True)
class Unplaced:
    """A blank that lies on no sheet, and why, as a sentence."""

    key: str
    reason: str


@dataclass(frozen=True)
class Layout:
    """A cutting plan: the sheets cut up, and the blanks left out."""

    sheets: tuple[CutSheet, ...]
    unplaced: tuple[Unplaced, ...]


def layout_cost(layout: Layout, sheets: Sequence[Sheet]) -> Decimal:
    """Money paid for the sheets of a layout.

    layout: sheets whose keys are among those of sheets. Returns money.
    Source: sum of prices.
    """
    prices = {sheet.key: sheet.price for sheet in sheets}
    return sum((prices[cut_sheet.sheet_key] for cut_sheet in layout.sheets), Decimal(0))


def size_text(along_mm: float, across_mm: float) -> str:
    """A size for a message, '1200 x 300 mm'."""
    return f"{along_mm:g} x {across_mm:g} mm"


def all_positive(*lengths_mm: float) -> bool:
    """Whether every length is a number above 0."""
    return all(math.isfinite(length_mm) and length_mm > 0 for length_mm in lengths_mm)
