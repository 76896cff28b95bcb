"""The sheets of a plan that are not yet cut, as the nesting takes them up again."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from django.db.models import FloatField
from django.db.models.functions import Cast

from boards.core.nesting import Cut, CutSheet, Offcut, Piece, Placement
from housing.models import CuttingPlan, PlannedBlank

SAME_MM = 1e-3  # sides are kept to a ten thousandth of a mm
LENGTHS = ("x_mm", "y_mm", "along_mm", "across_mm")


@dataclass(frozen=True)
class EarlierSheet:
    """A stored sheet: its key, price and batch, what it is cut from, its blanks, cuts and offcuts.

    blanks: key of the stored place, key of the blank, x, y, along, across in mm, turned, host.
    """

    pk: int
    price: Decimal
    batch: int
    source: str
    blanks: list[tuple]
    cuts: list[dict]
    offcuts: list[dict]

    def to_core(self, keys: Mapping[int, str], pieces: Mapping[str, Piece]) -> CutSheet:
        """The sheet as the nesting knows it.

        keys: the pieces that the stored blanks are now, by blank. pieces: by key. A blank that is not among
        them, or no longer has the size or the direction in which it lies, goes by a key that no piece has.
        """
        names = {}
        for place, blank, _, _, *sides, turned, _ in self.blanks:
            key = keys.get(blank)
            names[place] = key if key and _may_lie(pieces[key], *sides, turned) else f"gone {place}"
        return CutSheet(
            self.source,
            tuple(Placement(names[place], *where, names.get(host)) for place, _, *where, host in self.blanks),
            tuple(Cut(**{**row, "host": names.get(_number(row.get("host")))}) for row in self.cuts),
            tuple(Offcut(**row) for row in self.offcuts),
        )


def source_key(sheet_size: int | None, offcut: int | None) -> str:
    """What the nesting calls a sheet size, or an offcut on the rack."""
    return f"offcut {offcut}" if offcut else str(sheet_size)


def earlier_sheets(plan: CuttingPlan | None) -> Mapping[int, list[EarlierSheet]]:
    """The sheets of a plan that are not yet cut, by board; none without a plan."""
    by_board: defaultdict[int, list[EarlierSheet]] = defaultdict(list)
    if plan is None:
        return by_board
    blanks: defaultdict[int, list[tuple]] = defaultdict(list)
    placed = (
        PlannedBlank.objects.filter(sheet__plan=plan, sheet__cut_at=None)
        .annotate(**{f"float_{name}": Cast(name, FloatField()) for name in LENGTHS})
        .order_by("pk")
        .values_list("sheet", "pk", "blank", *(f"float_{name}" for name in LENGTHS), "turned", "host")
    )
    for sheet, *blank in placed:
        blanks[sheet].append(tuple(blank))
    rows = plan.sheets.filter(cut_at=None).values_list(
        "board", "pk", "price", "batch", "sheet_size", "offcut", "cuts", "offcuts"
    )
    for board, pk, price, batch, sheet_size, offcut, cuts, offcuts in rows:
        source = source_key(sheet_size, offcut)
        by_board[board].append(EarlierSheet(pk, price, batch, source, blanks[pk], cuts, offcuts))
    return by_board


def _may_lie(piece: Piece, along_mm: float, across_mm: float, turned: bool) -> bool:
    """Whether a piece has these sides as it lies, and may lie so."""
    sides = (piece.across_mm, piece.along_mm) if turned else (piece.along_mm, piece.across_mm)
    is_same = abs(sides[0] - along_mm) < SAME_MM and abs(sides[1] - across_mm) < SAME_MM
    return is_same and (piece.may_turn or not turned)


def _number(host: str | None) -> int | None:
    return int(host) if host else None
