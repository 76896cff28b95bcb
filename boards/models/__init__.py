"""Boards, what they are stated to meet, the sheets they are sold in, the stock, and the offcuts."""

from boards.models.boards import Board, SheetSize
from boards.models.statements import BoardStatement
from boards.models.stock import Offcut, StockMovement

__all__ = ["Board", "BoardStatement", "Offcut", "SheetSize", "StockMovement"]
