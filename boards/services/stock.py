"""Sheets in and out. Every movement is a new line of the ledger; mistakes are reversed, never edited."""

from decimal import Decimal
from uuid import UUID

from boards.models import Reason, SheetSize, StockMovement
from boards.services.ledgers import Ledger, StockRefused
from objects.core.words import say

Kind = StockMovement.Kind
SHEETS = Ledger(StockMovement, SheetSize, "sheet_size", "sheet")


def receive_sheets(
    *,
    sheet_size: SheetSize,
    count: int,
    by=None,
    note: str = "",
    paid_each: Decimal | None = None,
    entry_id: UUID | None = None,
) -> StockMovement:
    """Write in sheets that were delivered. paid_each: what one cost; None where nobody said."""
    return SHEETS.write(
        sheet_size, Kind.RECEIPT, _counted(count), by=by, note=note, paid_each=paid_each, entry_id=entry_id
    )


def use_sheets(
    *,
    sheet_size: SheetSize,
    count: int,
    by=None,
    note: str = "",
    reference: str = "",
    entry_id: UUID | None = None,
) -> StockMovement:
    """Write out sheets that are issued to be cut. reference: what for, such as planned_sheet:12."""
    return SHEETS.write(
        sheet_size, Kind.USE, -_counted(count), by=by, note=note, reference=reference, entry_id=entry_id
    )


def write_off_sheets(
    *,
    sheet_size: SheetSize,
    count: int,
    by=None,
    note: str = "",
    reason: str = Reason.OTHER,
    reference: str = "",
    entry_id: UUID | None = None,
) -> StockMovement:
    """Write out sheets that are spoiled or missing, with the reason."""
    return SHEETS.write(
        sheet_size,
        Kind.WRITE_OFF,
        -_counted(count),
        by=by,
        note=note,
        reason=reason,
        reference=reference,
        entry_id=entry_id,
    )


def count_sheets(
    *, sheet_size: SheetSize, counted: int, by=None, note: str = "", entry_id: UUID | None = None
) -> StockMovement:
    """Note how many sheets were counted; the ledger follows the count, and the difference can be read."""
    if counted < 0:
        raise StockRefused(
            say("{counted} sheets cannot have been counted. Enter 0 or more.", counted=counted)
        )
    return SHEETS.count(sheet_size, counted, by=by, note=note, entry_id=entry_id)


def reverse_movement(
    *, movement: StockMovement, by=None, note: str = "", entry_id: UUID | None = None
) -> StockMovement:
    """Undo a mistaken entry with a second one; an entry can be reversed once."""
    return SHEETS.reverse(movement, by=by, note=note, reference=movement.reference, entry_id=entry_id)


def _counted(count: int) -> int:
    if count < 1:
        raise StockRefused(say("{count} sheets cannot be moved. Enter 1 or more.", count=count))
    return count
