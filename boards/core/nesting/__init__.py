"""Cutting plans for the blanks of one board. The one way in is nest(); check() judges, bound() compares."""

import time
from collections.abc import Iterator, Sequence
from decimal import Decimal
from random import Random

from boards.core.nesting.bound import Bound, bound
from boards.core.nesting.check import check
from boards.core.nesting.guillotine import ORDERS, Open, Recipe, attempts, fill, shuffled
from boards.core.nesting.shapes import (
    Cut,
    CutSheet,
    FreeArea,
    Layout,
    NestingError,
    Piece,
    Placement,
    Rules,
    Sheet,
    Unplaced,
    fits,
    usable,
)

__all__ = [
    "Bound",
    "Cut",
    "CutSheet",
    "FreeArea",
    "Layout",
    "NestingError",
    "Piece",
    "Placement",
    "Rules",
    "Sheet",
    "Unplaced",
    "bound",
    "check",
    "fits",
    "nest",
]

RESTARTS = 30
# Placing one piece looks at every part still uncut, so the work grows with the square of the pieces.
FULL_EFFORT_PIECES = 400


def nest(
    pieces: Sequence[Piece],
    sheets: Sequence[Sheet],
    rules: Rules,
    seed: int = 0,
    time_limit_s: float | None = None,
) -> Layout:
    """Lay pieces on sheets so that little money is spent, then few sheets used, then one large rest left.

    pieces: sides in mm along and across their flutes. sheets: sizes with price and stock. rules: kerf, trim.
    seed: makes the restarts repeatable. time_limit_s: no new attempt begins after it; without it the answer is
    the same for the same seed.
    Returns the best plan found; pieces that fit no sheet or find no stock are listed apart with the reason.
    Raises NestingError for sides at or below 0, keys used twice, a negative kerf or trim, or no sheet.
    Source: guillotine best-fit placement with several orders and split rules, the best kept; described in
        the literature on two-dimensional bin packing as best-short-side-fit.
    """
    _refuse_nonsense(pieces, sheets, rules)
    deadline = None if time_limit_s is None else time.monotonic() + time_limit_s
    able = [piece for piece in pieces if any(fits(piece, sheet, rules) for sheet in sheets)]
    able_keys = {piece.key for piece in able}
    too_large = [
        Unplaced(piece.key, _why_too_large(piece, sheets, rules))
        for piece in pieces
        if piece.key not in able_keys
    ]
    best: tuple[list[Open], list[Piece]] | None = None
    for ordered, recipe in _tries(able, sheets, seed):
        made = fill(ordered, recipe, rules)
        made = (_on_cheaper_sheets(made[0], sheets, rules), made[1])
        if best is None or _worth(made) < _worth(best):
            best = made
        if deadline is not None and time.monotonic() > deadline:
            break
    opened, left = best if best else ([], [])
    return Layout(
        sheets=tuple(sheet.finish(rules.kerf_mm) for sheet in opened),
        unplaced=(
            *too_large,
            *(Unplaced(piece.key, "The sheets in stock are used up; order more board.") for piece in left),
        ),
    )


def _refuse_nonsense(pieces: Sequence[Piece], sheets: Sequence[Sheet], rules: Rules) -> None:
    if not sheets:
        raise NestingError("There is no sheet to cut from. Enter a sheet size for the board.")
    if rules.kerf_mm < 0 or rules.trim_mm < 0:
        raise NestingError(f"Kerf {rules.kerf_mm:g} mm and trim {rules.trim_mm:g} mm cannot be negative.")
    for item in (*pieces, *sheets):
        if not (item.along_mm > 0 and item.across_mm > 0):
            raise NestingError(
                f"{item.key} is {item.along_mm:g} x {item.across_mm:g} mm; both sides must be above 0."
            )
    for items in (pieces, sheets):
        keys = [item.key for item in items]
        if len(set(keys)) < len(keys):
            twice = next(key for key in keys if keys.count(key) > 1)
            raise NestingError(f"{twice} is listed twice; every piece and sheet size needs its own key.")
    for sheet in sheets:
        if sheet.price < 0 or (sheet.stock is not None and sheet.stock < 0):
            raise NestingError(f"Sheet {sheet.key} has a negative price or stock.")


def _tries(pieces: list[Piece], sheets: Sequence[Sheet], seed: int) -> Iterator[tuple[list[Piece], Recipe]]:
    recipes = attempts(sheets)
    effort = min(1.0, (FULL_EFFORT_PIECES / max(len(pieces), 1)) ** 2)
    for recipe in recipes[: max(2, round(len(recipes) * effort))]:
        for order in ORDERS.values():
            yield sorted(pieces, key=lambda piece, by=order: (by(piece), piece.key)), recipe
    random = Random(seed)
    base = sorted(pieces, key=lambda piece: (ORDERS["longest side"](piece), piece.key))
    for _ in range(round(RESTARTS * effort)):
        yield shuffled(base, random), random.choice(recipes)


def _worth(made: tuple[list[Open], list[Piece]]) -> tuple[int, Decimal, int, float]:
    opened, left = made
    rests = [area[2] * area[3] for sheet in opened for area in sheet.areas]
    return (
        len(left),
        sum((sheet.sheet.price for sheet in opened), Decimal()),
        len(opened),
        -max(rests, default=0.0),
    )


def _on_cheaper_sheets(opened: list[Open], sheets: Sequence[Sheet], rules: Rules) -> list[Open]:
    """Try each sheet's pieces on a cheaper size; mends the last sheet, which is often nearly empty."""
    used: dict[str, int] = {}
    for sheet in opened:
        used[sheet.sheet.key] = used.get(sheet.sheet.key, 0) + 1
    result = []
    for current in opened:
        cheaper = [
            s
            for s in sorted(sheets, key=lambda s: (s.price, s.key))
            if s.price < current.sheet.price and (s.stock is None or used.get(s.key, 0) < s.stock)
        ]
        result.append(current)
        for sheet in cheaper:
            again = _all_on_one(current, sheet, rules)
            if again is not None:
                used[current.sheet.key] -= 1
                used[sheet.key] = used.get(sheet.key, 0) + 1
                result[-1] = again
                break
    return result


def _all_on_one(current: Open, sheet: Sheet, rules: Rules) -> Open | None:
    along, across = usable(sheet, rules)
    if sum(p.along_mm * p.across_mm for p in current.placements) > along * across:
        return None
    pieces = [  # as they lie: a turned piece keeps its turn
        Piece(p.key, p.along_mm, p.across_mm) for p in current.placements
    ]
    turned = {p.key: p.turned for p in current.placements}
    for recipe in attempts([sheet]):
        ordered = sorted(pieces, key=lambda piece: (ORDERS["longest side"](piece), piece.key))
        opened, left = fill(ordered, recipe, rules)
        if len(opened) == 1 and not left:
            opened[0].placements = [
                Placement(p.key, p.x_mm, p.y_mm, p.along_mm, p.across_mm, turned[p.key])
                for p in opened[0].placements
            ]
            return opened[0]
    return None


def _why_too_large(piece: Piece, sheets: Sequence[Sheet], rules: Rules) -> str:
    largest = max(sheets, key=lambda sheet: sheet.area_mm2)
    along, across = usable(largest, rules)
    turned = Piece(piece.key, piece.across_mm, piece.along_mm)
    fitting = [sheet for sheet in sheets if fits(turned, sheet, rules)]
    hint = f" Turned by 90 degrees it would fit {fitting[0].key}." if fitting else ""
    return (
        f"The blank of {piece.along_mm:.0f} x {piece.across_mm:.0f} mm (along x across the flutes) fits no "
        f"sheet; the largest gives {along:.0f} x {across:.0f} mm.{hint}"
    )
