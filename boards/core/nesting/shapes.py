"""What goes into a cutting plan and what comes out; x runs along the flutes, lengths in mm."""

from dataclasses import dataclass
from decimal import Decimal

# Two lengths closer than this are the same: a thousandth of a millimetre, far below what a knife can hold.
TOLERANCE_MM = 1e-3


class NestingError(ValueError):
    """The pieces, sheets or rules make no sense; the message says which and why."""


@dataclass(frozen=True)
class Piece:
    """One blank to be cut: its size along and across its own flutes, and whether it may be turned."""

    key: str
    along_mm: float
    across_mm: float
    may_turn: bool = False

    @property
    def area_mm2(self) -> float:
        return self.along_mm * self.across_mm


@dataclass(frozen=True)
class Sheet:
    """A sheet size: its sides along and across the flutes, its price, and how many there are (None: any)."""

    key: str
    along_mm: float
    across_mm: float
    price: Decimal
    stock: int | None = None

    @property
    def area_mm2(self) -> float:
        return self.along_mm * self.across_mm


@dataclass(frozen=True)
class Rules:
    """kerf_mm: least gap between neighbours. trim_mm: lost at each edge of a sheet. All cuts go edge to edge."""

    kerf_mm: float = 0.0
    trim_mm: float = 0.0


@dataclass(frozen=True)
class Placement:
    """Where a piece lies, from the sheet's corner; its sides as placed, and whether it was turned."""

    key: str
    x_mm: float
    y_mm: float
    along_mm: float
    across_mm: float
    turned: bool


@dataclass(frozen=True)
class Cut:
    """One straight cut from edge to edge of the part of the sheet that is in hand at that moment."""

    x1_mm: float
    y1_mm: float
    x2_mm: float
    y2_mm: float


@dataclass(frozen=True)
class FreeArea:
    """A rectangle of a sheet that no piece needs."""

    x_mm: float
    y_mm: float
    along_mm: float
    across_mm: float


@dataclass(frozen=True)
class CutSheet:
    """One sheet: what lies on it, the cuts in their order, and what is left over."""

    sheet_key: str
    placements: tuple[Placement, ...]
    cuts: tuple[Cut, ...]
    offcuts: tuple[FreeArea, ...]


@dataclass(frozen=True)
class Unplaced:
    """A piece that is on no sheet, and why."""

    key: str
    reason: str


@dataclass(frozen=True)
class Layout:
    """A whole cutting plan of one board."""

    sheets: tuple[CutSheet, ...]
    unplaced: tuple[Unplaced, ...] = ()


def usable(sheet: Sheet, rules: Rules) -> tuple[float, float]:
    """Sides of a sheet once its edges are trimmed, mm along and across the flutes."""
    return sheet.along_mm - 2 * rules.trim_mm, sheet.across_mm - 2 * rules.trim_mm


def fits(piece: Piece, sheet: Sheet, rules: Rules) -> bool:
    """Whether a piece fits a sheet in a way it may lie."""
    along, across = usable(sheet, rules)
    ways = [(piece.along_mm, piece.across_mm)]
    if piece.may_turn:
        ways.append((piece.across_mm, piece.along_mm))
    return any(a <= along + TOLERANCE_MM and b <= across + TOLERANCE_MM for a, b in ways)
