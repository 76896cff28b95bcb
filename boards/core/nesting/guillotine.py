"""A constructive nester whose every sheet falls apart by straight cuts from edge to edge."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from itertools import product
from random import Random

from boards.core.nesting.shapes import (
    TOLERANCE_MM,
    Cut,
    CutSheet,
    FreeArea,
    Piece,
    Placement,
    Rules,
    Sheet,
    fits,
    usable,
)

Area = tuple[float, float, float, float]  # x, y, along, across of a part of a sheet still uncut
Spot = tuple[float, float, "Open", int, bool]  # fit, second fit, sheet, index of the area, turned

ORDERS: dict[str, Callable[[Piece], tuple[float, float]]] = {
    "area": lambda p: (-p.area_mm2, -p.along_mm),
    "longest side": lambda p: (-max(p.along_mm, p.across_mm), -min(p.along_mm, p.across_mm)),
    "along": lambda p: (-p.along_mm, -p.across_mm),
    "across": lambda p: (-p.across_mm, -p.along_mm),
    "shortest side": lambda p: (-min(p.along_mm, p.across_mm), -max(p.along_mm, p.across_mm)),
}
FITS = ("short side", "area")
SPLITS = ("shorter rest", "longer rest", "largest rest")
NOTHING_FITS = float("inf")


@dataclass(eq=False)
class Open:
    """A sheet being filled: the parts still uncut, and what has been placed and cut."""

    sheet: Sheet
    areas: list[Area]
    placements: list[Placement] = field(default_factory=list)
    cuts: list[Cut] = field(default_factory=list)

    def finish(self, kerf: float) -> CutSheet:
        """The sheet as planned; the uncut parts are its offcuts, largest first."""
        rests = sorted((a for a in self.areas if min(a[2], a[3]) > kerf), key=lambda a: -a[2] * a[3])
        return CutSheet(
            self.sheet.key,
            tuple(self.placements),
            tuple(self.cuts),
            tuple(FreeArea(*area) for area in rests),
        )


@dataclass(frozen=True)
class Recipe:
    """How one attempt fills the sheets."""

    fit: str
    split: str
    opening: tuple[Sheet, ...]


def fill(pieces: Sequence[Piece], recipe: Recipe, rules: Rules) -> tuple[list[Open], list[Piece]]:
    """Place pieces in the order given; returns the sheets and the pieces for which stock ran out."""
    opened: list[Open] = []
    left: list[Piece] = []
    stock = {sheet.key: sheet.stock for sheet in recipe.opening}
    for piece in pieces:
        spot = _best_spot(piece, opened, recipe.fit)
        if spot is None:
            spot = _new_sheet(piece, opened, recipe, stock, rules)
        if spot is None:
            left.append(piece)
        else:
            _place(piece, spot, recipe.split, rules.kerf_mm)
    return opened, left


def attempts(sheets: Sequence[Sheet]) -> list[Recipe]:
    """All ways to fill: how to choose a place, how to split the rest, which sheet to open first."""
    openings = {
        tuple(sorted(sheets, key=lambda s: (float(s.price) / s.area_mm2, -s.area_mm2, s.key))),
        tuple(sorted(sheets, key=lambda s: (s.price, s.key))),
        tuple(sorted(sheets, key=lambda s: (s.price > 0, -s.area_mm2, s.key))),
    }
    ordered = sorted(openings, key=lambda opening: [s.key for s in opening])
    return [Recipe(fit, split, opening) for fit, split, opening in product(FITS, SPLITS, ordered)]


def shuffled(pieces: list[Piece], random: Random) -> list[Piece]:
    """Pieces in nearly the same order: each drifts a few places, so that a good order is explored nearby."""
    drift = max(2.0, len(pieces) * 0.05)
    return [p for _, _, p in sorted((i + random.uniform(0, drift), i, p) for i, p in enumerate(pieces))]


def _best_spot(piece: Piece, opened: list[Open], fit: str) -> Spot | None:
    best: Spot | None = None
    lowest = (NOTHING_FITS, NOTHING_FITS)
    ways = [(piece.along_mm, piece.across_mm, False)]
    if piece.may_turn:
        ways.append((piece.across_mm, piece.along_mm, True))
    by_area = fit == "area"
    for sheet in opened:
        for index, (_, _, along, across) in enumerate(sheet.areas):
            for a, b, turned in ways:
                spare_a, spare_b = along - a, across - b
                if spare_a < -TOLERANCE_MM or spare_b < -TOLERANCE_MM:
                    continue
                short = min(spare_a, spare_b)
                score = (along * across - a * b, short) if by_area else (short, max(spare_a, spare_b))
                if score < lowest:
                    lowest, best = score, (*score, sheet, index, turned)
    return best


def _new_sheet(
    piece: Piece, opened: list[Open], recipe: Recipe, stock: dict[str, int | None], rules: Rules
) -> Spot | None:
    for sheet in recipe.opening:
        if stock[sheet.key] == 0 or not fits(piece, sheet, rules):
            continue
        if (count := stock[sheet.key]) is not None:
            stock[sheet.key] = count - 1
        along, across = usable(sheet, rules)
        opened.append(Open(sheet, [(rules.trim_mm, rules.trim_mm, along, across)]))
        return _best_spot(piece, opened[-1:], recipe.fit)
    return None


def _place(piece: Piece, spot: Spot, split: str, kerf: float) -> None:
    """Put a piece in the corner of a part and cut the rest in two, the first cut right across."""
    _, _, opened, index, turned = spot
    x, y, along, across = opened.areas.pop(index)
    a, b = (piece.across_mm, piece.along_mm) if turned else (piece.along_mm, piece.across_mm)
    opened.placements.append(Placement(piece.key, x, y, a, b, turned))
    spare_a, spare_b = max(along - a, 0.0), max(across - b, 0.0)
    if _cuts_upright_first(split, spare_a, spare_b, a, b):
        _cut(opened, Cut(x + a, y, x + a, y + across), spare_a, (x + a + kerf, y, spare_a - kerf, across))
        _cut(opened, Cut(x, y + b, x + min(a, along), y + b), spare_b, (x, y + b + kerf, a, spare_b - kerf))
    else:
        _cut(opened, Cut(x, y + b, x + along, y + b), spare_b, (x, y + b + kerf, along, spare_b - kerf))
        _cut(opened, Cut(x + a, y, x + a, y + min(b, across)), spare_a, (x + a + kerf, y, spare_a - kerf, b))


def _cuts_upright_first(split: str, spare_a: float, spare_b: float, a: float, b: float) -> bool:
    if split == "shorter rest":
        return spare_a > spare_b
    if split == "longer rest":
        return spare_a <= spare_b
    return max(spare_a * (b + spare_b), a * spare_b) >= max((a + spare_a) * spare_b, spare_a * b)


def _cut(opened: Open, cut: Cut, spare: float, rest: Area) -> None:
    if spare <= TOLERANCE_MM:
        return
    opened.cuts.append(cut)
    if min(rest[2], rest[3]) > 0:
        opened.areas.append(rest)
