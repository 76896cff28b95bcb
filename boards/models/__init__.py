"""Boards, the sheets they are sold in, what is in stock, and the offcuts on the rack."""

from boards.models.boards import Board, SheetSize
from boards.models.stock import Offcut, StockMovement

__all__ = ["Board", "Offcut", "SheetSize", "StockMovement"]
