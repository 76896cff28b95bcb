"""Lists of boards and of supplies."""

from boards.intake.boards import BoardList
from boards.intake.supplies import SupplyList

__all__ = ["BoardList", "SupplyList"]
