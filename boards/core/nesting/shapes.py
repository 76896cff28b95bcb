"""Blanks, sheets and the cutting plan made of them; x runs along the flutes or the grain, y across."""

import math
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from boards.core.nesting.errors import PieceRefused, RulesRefused, SheetRefused

# Sides along and across of the rectangles that fall off at a blank's four corners, mm in its own axes, in the
# order near left, near right, far left, far right; 0 by 0 where nothing falls off.
Corners = tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class Piece:
    """One blank to be cut.

    along_mm, across_mm: sides along and across the blank's own flutes, above 0.
    may_turn: whether its flutes may also lie across those of the sheet.
    corners: waste at its corners from which smaller blanks may be cut; none, or four that do not overlap.
    batch: blanks of a lower batch are due first.
    Raises PieceRefused for a side that is not above 0, or corners that are not such.
    """

    key: str
    along_mm: float
    across_mm: float
    may_turn: bool = False
    corners: Corners = ()
    batch: int = 0

    def __post_init__(self) -> None:
        if not all_positive(self.along_mm, self.across_mm):
            raise PieceRefused(
                f"Blank {self.key} is {size_text(self.along_mm, self.across_mm)}; both sides must be above 0."
            )
        if self.corners and not are_corners(self.corners, self.along_mm, self.across_mm):
            raise PieceRefused(
                f"The corners of blank {self.key}, {size_text(self.along_mm, self.across_mm)}, must be four, "
                "none with a side below 0 and none in another's way."
            )


@dataclass(frozen=True)
class Sheet:
    """A sheet size that can be cut up; an offcut on the rack is a sheet with price 0 and stock 1.

    along_mm, across_mm: sides along and across the flutes, above 0. price: money a sheet, not negative.
    stock: how many there are, None for as many as needed. pack: how many are bought at a time; every pack
    begun is paid whole. on_hand: how many are there already; only those beyond them are bought in packs.
    Raises SheetRefused for a side that is not above 0, a negative price or stock, or a pack of none.
    """

    key: str
    along_mm: float
    across_mm: float
    price: Decimal
    stock: int | None = None
    pack: int = 1
    on_hand: int = 0

    def __post_init__(self) -> None:
        if not all_positive(self.along_mm, self.across_mm):
            raise SheetRefused(
                f"Sheet {self.key} is {size_text(self.along_mm, self.across_mm)}; both sides must be above 0."
            )
        if not self.price.is_finite() or self.price < 0:
            raise SheetRefused(f"Sheet {self.key} costs {self.price}; a price must be a number not below 0.")
        if self.stock is not None and self.stock < 0:
            raise SheetRefused(f"Sheet {self.key} has a stock of {self.stock}; a stock cannot be below 0.")
        if self.pack < 1 or self.on_hand < 0:
            raise SheetRefused(
                f"Sheet {self.key} is bought {self.pack} at a time with {self.on_hand} on hand; "
                "a pack holds 1 or more, and none on hand is 0."
            )

    def without(self, used: int) -> "Sheet":
        """The same size once so many are used; what is left of a pack begun is on hand."""
        return replace(
            self,
            stock=None if self.stock is None else self.stock - used,
            on_hand=max(self.on_hand, self.paid(used)) - used,
        )

    def paid(self, count: int) -> int:
        """For how many sheets money is paid when so many are cut: packs begun are paid whole."""
        bought = max(0, count - self.on_hand)
        return min(count, self.on_hand) + self.pack * -(-bought // self.pack)


@dataclass(frozen=True)
class Rules:
    """How blanks may lie.

    kerf_mm: least gap between neighbours, lost in the cut. trim_mm: lost along all four edges of a sheet.
    least_offcut_mm, least_offcut_mm2: shorter side and area from which a leftover rectangle is worth listing.
    use_corners: whether small blanks may be cut from the corners that fall off large ones.
    edge_to_edge: whether straight cuts from edge to edge must set every blank free, as a knife along a
    straight edge or a guillotine needs it. mix_batches: whether blanks of different batches may share a
    sheet.
    Raises RulesRefused for a length or an area below 0.
    """

    kerf_mm: float = 0.0
    trim_mm: float = 0.0
    least_offcut_mm: float = 0.0
    least_offcut_mm2: float = 0.0
    use_corners: bool = False
    edge_to_edge: bool = True
    mix_batches: bool = True

    def __post_init__(self) -> None:
        for name, length_mm in (
            ("kerf", self.kerf_mm),
            ("trim", self.trim_mm),
            ("least offcut", self.least_offcut_mm),
        ):
            if not math.isfinite(length_mm) or length_mm < 0:
                raise RulesRefused(f"The {name} is {length_mm:g} mm; it must be a number not below 0.")
        if not math.isfinite(self.least_offcut_mm2) or self.least_offcut_mm2 < 0:
            raise RulesRefused(
                f"The least offcut is {self.least_offcut_mm2:g} mm2; it must be a number not below 0."
            )


@dataclass(frozen=True)
class Placement:
    """A blank on its sheet: near corner and sides as placed, mm from the sheet's corner, trim included.

    host: the key of the blank on the same sheet from whose waste corner this one is cut; None if it lies on
    the sheet itself.
    """

    key: str
    x_mm: float
    y_mm: float
    along_mm: float
    across_mm: float
    turned: bool
    host: str | None = None


@dataclass(frozen=True)
class Cut:
    """A straight cut from edge to edge of the part in hand, mm from the sheet's corner.

    It runs along x or along y, from the smaller to the greater value. The kerf is lost beyond the line,
    towards greater x or y; a trim cut loses it in the strip that falls away.
    part: number of the part in hand; cuts of one part run the same way and their lines can be marked in one
    go, mark_mm from its near or left edge. stage: how many times the sheet was turned before. host: the key
    of the blank whose waste corner is being cut up; the corner is cut off the blank first.
    """

    x0_mm: float
    y0_mm: float
    x1_mm: float
    y1_mm: float
    is_trim: bool = False
    part: int = 0
    mark_mm: float = 0.0
    stage: int = 0
    host: str | None = None


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

    def renamed(self, sheet_key: str, keys: Mapping[str, str]) -> "CutSheet":
        """The same sheet under another key, and with other keys for its blanks."""
        return CutSheet(
            sheet_key,
            tuple(
                replace(placed, key=keys[placed.key], host=keys[placed.host] if placed.host else None)
                for placed in self.placements
            ),
            tuple(replace(cut, host=keys[cut.host]) if cut.host else cut for cut in self.cuts),
            self.offcuts,
        )


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
    """Money paid for the sheets of a layout, packs begun paid whole.

    layout: sheets whose keys are among those of sheets. Returns money.
    Source: sum of prices.
    """
    used = Counter(cut_sheet.sheet_key for cut_sheet in layout.sheets)
    return sum((sheet.price * sheet.paid(used[sheet.key]) for sheet in sheets), Decimal(0))


def size_text(along_mm: float, across_mm: float) -> str:
    """A size for a message, '1200 x 300 mm'."""
    return f"{along_mm:g} x {across_mm:g} mm"


def all_positive(*lengths_mm: float) -> bool:
    """Whether every length is a number above 0."""
    return all(math.isfinite(length_mm) and length_mm > 0 for length_mm in lengths_mm)


def are_corners(corners: Corners, along_mm: float, across_mm: float) -> bool:
    """Whether these are four rectangles at the corners of a blank, none reaching into another."""
    if len(corners) != 4 or not all(math.isfinite(side) and side >= 0 for pair in corners for side in pair):
        return False
    beside = ((0, 1), (2, 3))  # along one edge along
    beyond = ((0, 2), (1, 3))
    diagonal = ((0, 3), (1, 2))

    def meet(one: int, other: int) -> bool:
        a, b = corners[one], corners[other]
        return min(*a, *b) > 0 and a[0] + b[0] > along_mm and a[1] + b[1] > across_mm

    return (
        all(corners[i][0] <= along_mm and corners[i][1] <= across_mm for i in range(4))
        and all(
            corners[i][0] + corners[j][0] <= along_mm or 0 in (*corners[i], *corners[j]) for i, j in beside
        )
        and all(
            corners[i][1] + corners[j][1] <= across_mm or 0 in (*corners[i], *corners[j]) for i, j in beyond
        )
        and not any(meet(i, j) for i, j in diagonal)
    )
