"""The sheets of a plan that are not yet cut, and how the others are laid out beside those that stay."""

import math
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import NamedTuple

from django.db.models import FloatField
from django.db.models.functions import Cast

from boards.core.nesting import (
    Cut,
    CutSheet,
    Layout,
    Offcut,
    Piece,
    Placement,
    Rules,
    Sheet,
    Watch,
    check,
    nest,
)
from housing.models import CuttingPlan, PlannedBlank
from objects.core.words import say

MOST_OPENED = 12  # whole sheets with the most room left that others may still go on
SAME_MM = 1e-3  # sides are kept to a ten thousandth of a mm
LENGTHS = ("x_mm", "y_mm", "along_mm", "across_mm")


class EarlierPlace(NamedTuple):
    """Where a stored blank lies, in mm, with the keys of this place, of the blank and of its host's place."""

    pk: int
    blank: int
    x_mm: float
    y_mm: float
    along_mm: float
    across_mm: float
    turned: bool
    host: int | None

    def may_stay(self, piece: Piece) -> bool:
        """Whether a piece has these sides as it lies, and may lie so."""
        sides = (piece.across_mm, piece.along_mm) if self.turned else (piece.along_mm, piece.across_mm)
        is_same = abs(sides[0] - self.along_mm) < SAME_MM and abs(sides[1] - self.across_mm) < SAME_MM
        return is_same and (piece.may_turn or not self.turned)


@dataclass(frozen=True)
class EarlierSheet:
    """A stored sheet: its key, price and batch, what it is cut from, its blanks, cuts and offcuts."""

    pk: int
    price: Decimal
    batch: int
    source: str
    places: list[EarlierPlace]
    cuts: list[dict]
    offcuts: list[dict]

    def to_core(self, keys: Mapping[int, str], pieces: Mapping[str, Piece]) -> CutSheet:
        """The sheet as the nesting knows it.

        keys: the pieces that the stored blanks are now, by blank. pieces: by key. A blank that is not among
        them, or no longer has the size or the direction in which it lies, goes by a key that no piece has.
        """
        names: dict[int | None, str] = {}
        for place in self.places:
            key = keys.get(place.blank)
            names[place.pk] = key if key and place.may_stay(pieces[key]) else f"gone {place.pk}"
        return CutSheet(
            self.source,
            tuple(
                Placement(
                    names[place.pk],
                    place.x_mm,
                    place.y_mm,
                    place.along_mm,
                    place.across_mm,
                    place.turned,
                    names.get(place.host),
                )
                for place in self.places
            ),
            tuple(Cut(**{**row, "host": names.get(_number(row.get("host")))}) for row in self.cuts),
            tuple(Offcut(**row) for row in self.offcuts),
        )


def source_key(sheet_size: int | None, offcut: int | None) -> str:
    """What the nesting calls a sheet size, or an offcut on the rack."""
    return say("offcut {offcut}", offcut=offcut) if offcut else str(sheet_size)


def earlier_sheets(plan: CuttingPlan | None) -> Mapping[int, list[EarlierSheet]]:
    """The sheets of a plan that are not yet cut, by board; none without a plan."""
    by_board: defaultdict[int, list[EarlierSheet]] = defaultdict(list)
    if plan is None:
        return by_board
    places: defaultdict[int, list[EarlierPlace]] = defaultdict(list)
    placed = (
        PlannedBlank.objects.filter(sheet__plan=plan, sheet__cut_at=None)
        .annotate(**{f"float_{name}": Cast(name, FloatField()) for name in LENGTHS})
        .order_by("pk")
        .values_list("sheet", "pk", "blank", *(f"float_{name}" for name in LENGTHS), "turned", "host")
    )
    for sheet, *place in placed:
        places[sheet].append(EarlierPlace(*place))
    rows = plan.sheets.filter(cut_at=None).values_list(
        "board", "pk", "price", "batch", "sheet_size", "offcut", "cuts", "offcuts"
    )
    for board, pk, price, batch, sheet_size, offcut, cuts, offcuts in rows:
        source = source_key(sheet_size, offcut)
        by_board[board].append(EarlierSheet(pk, price, batch, source, places[pk], cuts, offcuts))
    return by_board


def _number(host: str | None) -> int | None:
    return int(host) if host else None


# ---- What stays and what is laid out beside it -----------------------------------------------------------


def whole_sheets(
    earlier: Iterable[CutSheet], pieces: Sequence[Piece], sheets: Sequence[Sheet], rules: Rules
) -> list[CutSheet]:
    """Those earlier sheets that can be cut as they are: all on them is needed and obeys the rules of now."""
    by_key, sources = {piece.key: piece for piece in pieces}, {sheet.key: sheet for sheet in sheets}
    left = {sheet.key: math.inf if sheet.stock is None else sheet.stock for sheet in sheets}
    whole = []
    for sheet in earlier:
        asked = [by_key[placed.key] for placed in sheet.placements if placed.key in by_key]
        if left.get(sheet.sheet_key) and not check(
            Layout((sheet,), ()), asked, [sources[sheet.sheet_key]], rules
        ):
            whole.append(sheet)
            left[sheet.sheet_key] -= 1
    return whole


def lay_out_beside(
    whole: Sequence[CutSheet],
    earlier: Iterable[CutSheet],
    pieces: Sequence[Piece],
    sheets: Sequence[Sheet],
    rules: Rules,
    time_limit_s: float | None,
    watch: Watch,
) -> Layout:
    """Pieces laid out so that whole sheets stay, but for a few with the most room left.

    Others may go on these few and on those of the earlier sheets that are not whole, and may move what lies
    there.
    """
    if sum(len(sheet.placements) for sheet in whole) == len(pieces):
        return Layout(tuple(whole), ())
    area = {sheet.key: sheet.along_mm * sheet.across_mm for sheet in sheets}
    fullest = sorted(whole, key=lambda sheet: _laid_mm2(sheet) / area[sheet.sheet_key], reverse=True)
    stay = fullest[: max(0, len(fullest) - MOST_OPENED)]
    lying = set[str]().union(*map(_keys, stay))
    used = Counter(sheet.sheet_key for sheet in stay)
    opened = set(whole).difference(stay)
    asked = {piece.key for piece in pieces}
    made = nest(
        [piece for piece in pieces if piece.key not in lying],
        [sheet.without(used[sheet.key]) for sheet in sheets],
        rules,
        time_limit_s=time_limit_s,
        watch=watch,
        # Of the rest those that a blank left, which are cut in another way; others break the rules.
        earlier=[sheet for sheet in earlier if sheet in opened or not _keys(sheet) <= asked],
    )
    return Layout((*stay, *made.sheets), made.unplaced)


def _keys(sheet: CutSheet) -> set[str]:
    return {placed.key for placed in sheet.placements}


def _laid_mm2(sheet: CutSheet) -> float:
    return sum(placed.along_mm * placed.across_mm for placed in sheet.placements if placed.host is None)
