"""Boards with sheets and stock, the ledger, the rack, what is stated of them; suppliers and supplies."""

from collections.abc import Iterable

from django.db.models import Count, OuterRef, Prefetch, Q, QuerySet, Subquery
from django.db.models.functions import Coalesce

from boards.models import (
    Board,
    BoardStatement,
    Offcut,
    RackEntry,
    SheetSize,
    StockMovement,
    Supplier,
    Supply,
    SupplyMovement,
)

OF_A_PLAN = "planned_sheet:"  # how references begin of entries made for a sheet of a cutting plan


def sheet_sizes_in_stock() -> QuerySet[SheetSize]:
    """Sheet sizes with `in_stock`, the balance that the last entry of their ledger leads to."""
    sizes = SheetSize.objects.select_related("board", "supplier").prefetch_related("price_breaks")
    last = StockMovement.objects.filter(sheet_size=OuterRef("pk")).order_by("-sequence").values("balance")[:1]
    return sizes.annotate(in_stock=Coalesce(Subquery(last), 0))


def boards_with_stock() -> QuerySet[Board]:
    """Boards with their sheet sizes in stock and `rack`, the offcuts on the rack."""
    return Board.objects.annotate(rack=Count("offcuts", filter=Q(offcuts__gone_at=None))).prefetch_related(
        Prefetch("sheet_sizes", sheet_sizes_in_stock())
    )


def movements_of(board: Board) -> QuerySet[StockMovement]:
    """The ledger of a board, newest entry first, with whether an entry was reversed."""
    return (
        StockMovement.objects.filter(sheet_size__board=board)
        .select_related("sheet_size__board", "by", "reversed_by", "reverses")
        .order_by("-at", "-pk")
    )


def movements_of_supply(supply: Supply) -> QuerySet[SupplyMovement]:
    """The ledger of a supply, newest entry first, with whether an entry was reversed."""
    return supply.movements.select_related("by", "reversed_by").order_by("-at", "-pk")


def entries_of(offcut: Offcut) -> QuerySet[RackEntry]:
    """What happened to an offcut, first things first, with whether an entry was reversed."""
    return offcut.entries.select_related("by", "reversed_by", "reverses").order_by("pk")


def offcuts_of(board: Board) -> QuerySet[Offcut]:
    """Offcuts of a board that are on the rack, the last kept first."""
    return board.offcuts.filter(gone_at=None).select_related("kept_by").order_by("-kept_at", "-pk")


def gone_offcuts_of(board: Board) -> QuerySet[Offcut]:
    """Offcuts of a board that were on the rack once, the last to leave it first."""
    return board.offcuts.exclude(gone_at=None).select_related("gone_by").order_by("-gone_at", "-pk")


def statements_of(board: Board) -> QuerySet[BoardStatement]:
    """What is stated of a board, with who recorded it, the last of each standard first."""
    return board.statements.select_related("board", "recorded_by")


def standards_stated(board: Board) -> set[str]:
    """Keys of the standards that somebody states a board to meet; no query where they are prefetched."""
    return {statement.standard for statement in board.statements.all()}


def standards_stated_of(boards: Iterable[int]) -> dict[int, set[str]]:
    """The same for many boards in one query, by the key of the board; one without a statement has none."""
    stated: dict[int, set[str]] = {key: set() for key in boards}
    pairs = BoardStatement.objects.filter(board__in=stated).values_list("board_id", "standard")
    for board, standard in pairs.order_by().distinct():
        stated[board].add(standard)
    return stated


def supplies_listed() -> QuerySet[Supply]:
    """Supplies by kind and name, with their suppliers and price breaks."""
    return Supply.objects.select_related("supplier").prefetch_related("price_breaks")


def suppliers_listed() -> QuerySet[Supplier]:
    """Suppliers with `sheets` and `goods`: how many sheet sizes and supplies are bought there."""
    return Supplier.objects.annotate(
        sheets=Count("sheet_sizes", distinct=True), goods=Count("supplies", distinct=True)
    )
