"""What is stated of boards, and what finished boxes told of them."""

from decimal import Decimal

from boards.models import Board, BoardStatement


def correct_board(*, board: Board, caliper_mm: float, fold_share: float, note: str) -> Board:
    """Keep what a finished box told of a board; every blank worked out from now on follows it."""
    board.measured_caliper_mm = round(Decimal(caliper_mm), 4)
    board.measured_fold_share = round(Decimal(fold_share), 4)
    board.measured_note = note[:200]
    board.save()
    return board


def forget_correction(*, board: Board) -> Board:
    """Go back to the caliper and the fold that were stated for a board."""
    board.measured_caliper_mm = board.measured_fold_share = None
    board.measured_note = ""
    board.save()
    return board


def record_statement(*, statement: BoardStatement, by=None) -> BoardStatement:
    """Keep what somebody states of a board; of one that is changed, whoever changed it last recorded it."""
    statement.recorded_by = by
    statement.save()
    return statement


def delete_statement(*, statement: BoardStatement) -> None:
    """Take back a statement that was recorded by mistake or no longer holds."""
    statement.delete()
