"""Stock in and out, and what is stated of boards.

Every movement of stock is a new line of the ledger; mistakes are reversed, never edited.
"""

from decimal import Decimal

from django.db import transaction
from django.utils import timezone

from boards.models import Board, BoardStatement, Offcut, SheetSize, StockMovement
from objects.core.refusals import Refusal

Kind = StockMovement.Kind
LONGEST_NOTE = 200
NOT_THERE = "Not there any more"


class StockRefused(Refusal):
    """Stock cannot move as asked; the message is a sentence for the reader."""


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


def receive_sheets(*, sheet_size: SheetSize, count: int, by=None, note: str = "") -> StockMovement:
    """Write in sheets that were delivered."""
    return _move(sheet_size, Kind.RECEIPT, _counted(count), by, note)


def use_sheets(*, sheet_size: SheetSize, count: int, by=None, note: str = "") -> StockMovement:
    """Write out sheets that are cut."""
    return _move(sheet_size, Kind.USE, -_counted(count), by, note)


def write_off_sheets(*, sheet_size: SheetSize, count: int, by=None, note: str = "") -> StockMovement:
    """Write out sheets that are spoiled or missing."""
    return _move(sheet_size, Kind.WRITE_OFF, -_counted(count), by, note)


def reverse_movement(*, movement: StockMovement, by=None, note: str = "") -> StockMovement:
    """Undo a mistaken entry with a second one; an entry can be reversed once."""
    with transaction.atomic():
        SheetSize.objects.select_for_update().get(pk=movement.sheet_size_id)
        if movement.kind == Kind.REVERSAL:
            raise StockRefused("A reversal cannot be reversed. Enter what is right as a new movement.")
        if StockMovement.objects.filter(reverses=movement).exists():
            raise StockRefused("This entry has been reversed already.")
        return _move(movement.sheet_size, Kind.REVERSAL, -movement.quantity, by, note, movement)


def keep_offcut(*, board: Board, along_mm: float, across_mm: float, note: str = "", by=None) -> Offcut:
    """Put an offcut on the rack; sides in mm along and across the flutes."""
    return Offcut.objects.create(
        board=board,
        along_mm=round(along_mm, 4),
        across_mm=round(across_mm, 4),
        note=note[:LONGEST_NOTE],
        kept_by=by,
    )


@transaction.atomic
def use_offcut(*, offcut: Offcut, by=None, note: str) -> Offcut:
    """Take an offcut off the rack to cut it up; the lock keeps two people from taking the same one.

    Raises StockRefused when it is gone already.
    """
    held = Offcut.objects.select_for_update(of=("self",)).select_related("board").get(pk=offcut.pk)
    if held.gone_at:
        became = f": {held.gone_note}" if held.gone_note else ""
        raise StockRefused(f"{held} is no longer on the rack. It left on {held.gone_at:%d %B %Y}{became}.")
    held.gone_at, held.gone_by, held.gone_note = timezone.now(), by, note[:LONGEST_NOTE]
    held.save(update_fields=["gone_at", "gone_by", "gone_note"])
    return held


def drop_offcut(*, offcut: Offcut, by=None, note: str = NOT_THERE) -> None:
    """Note that an offcut is no longer on the rack; what became of one already gone stays as it was noted."""
    Offcut.objects.filter(pk=offcut.pk, gone_at=None).update(
        gone_at=timezone.now(), gone_by=by, gone_note=note[:LONGEST_NOTE]
    )


def _counted(count: int) -> int:
    if count < 1:
        raise StockRefused(f"{count} sheets cannot be moved. Enter 1 or more.")
    return count


@transaction.atomic
def _move(sheet_size, kind, quantity, by, note, reverses=None) -> StockMovement:
    """Add one line to the ledger; the lock keeps two writers from taking the same sheets."""
    SheetSize.objects.select_for_update().get(pk=sheet_size.pk)
    last = StockMovement.objects.filter(sheet_size=sheet_size).order_by("sequence").last()
    before, sequence = (last.balance, last.sequence) if last else (0, 0)
    if before + quantity < 0:
        raise StockRefused(
            f"Only {before} sheets {sheet_size} are in stock, and {-quantity} would go out. "
            "Count the stock or receive a delivery."
        )
    return StockMovement.objects.create(
        sheet_size=sheet_size,
        sequence=sequence + 1,
        kind=kind,
        quantity=quantity,
        balance=before + quantity,
        reverses=reverses,
        by=by,
        note=note,
    )
