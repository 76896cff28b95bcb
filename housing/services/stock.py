"""Entries of the stock ledger that were made for planned sheets, taken back by hand."""

from django.db import transaction

from boards.models import StockMovement
from boards.services import StockRefused, reverse_movement
from housing.models import PlannedSheet
from housing.queries.sheets import REFERENCE, issue_of
from housing.services.sheets import take_back_issue
from objects.core.words import say


@transaction.atomic
def undo_entry(*, movement: StockMovement, by=None) -> None:
    """Reverse an entry so that the plan keeps together with the stock.

    Raises StockRefused where its planned sheet is noted as cut: undoing that gives the sheet back.
    """
    key = movement.reference.removeprefix(REFERENCE)
    sheet = PlannedSheet.objects.filter(pk=int(key)).first() if key.isdecimal() else None
    if sheet is None or issue_of(sheet) != movement:
        reverse_movement(movement=movement, by=by)
    elif sheet.cut_at:
        raise StockRefused(
            say("{sheet} is noted as cut. Undo that at the bench, and the stock follows.", sheet=sheet)
        )
    else:
        take_back_issue(sheet=sheet, by=by)
