"""Boards with their sheets and what is in stock, the ledger and the rack."""

from django.db.models import Count, Prefetch, Q, QuerySet, Sum

from boards.models import Board, Offcut, SheetSize, StockMovement


def sheet_sizes_in_stock() -> QuerySet[SheetSize]:
    """Sheet sizes with `in_stock`, the sum of all their movements."""
    return SheetSize.objects.select_related("board").annotate(in_stock=Sum("movements__quantity", default=0))


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


def offcuts_of(board: Board) -> QuerySet[Offcut]:
    """Offcuts of a board that are on the rack, the last kept first."""
    return board.offcuts.filter(gone_at=None).select_related("kept_by").order_by("-kept_at", "-pk")


def gone_offcuts_of(board: Board) -> QuerySet[Offcut]:
    """Offcuts of a board that were on the rack once, the last to leave it first."""
    return board.offcuts.exclude(gone_at=None).select_related("gone_by").order_by("-gone_at", "-pk")
