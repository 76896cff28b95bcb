"""Boards and supplies, what boards are stated to meet, what is sold by whom, the stock, and the offcuts."""

from boards.models.boards import Board, SheetSize
from boards.models.statements import BoardStatement
from boards.models.stock import Offcut, RackEntry, Reason, StockMovement, SupplyMovement
from boards.models.supplies import PriceBreak, Supplier, Supply

__all__ = [
    "Board",
    "BoardStatement",
    "Offcut",
    "PriceBreak",
    "RackEntry",
    "Reason",
    "SheetSize",
    "StockMovement",
    "Supplier",
    "Supply",
    "SupplyMovement",
]
