"""Sheets spoiled at the bench: written off with the reason, and that taken back."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from django.db import transaction

from boards.models import RackEntry, Reason, StockMovement
from boards.services import (
    StockRefused,
    drop_offcut,
    reverse_movement,
    reverse_rack_entry,
    write_off_sheets,
)
from housing.models import PlannedSheet
from housing.queries.sheets import issue_of, reference_of
from housing.services.nesting import PlanRefused
from housing.services.sheets import locked_sheet, reverse_issue, what_is_there, write_issue
from objects.core.words import say


@dataclass(frozen=True)
class Spoilt:
    """A planned sheet whose sheet was spoiled, and what is lost, in the campaign's currency; nothing for an
    offcut, which was paid for with its sheet. memory: what undoing it has to know, ready for JSON."""

    sheet: PlannedSheet
    lost: Decimal
    memory: Mapping[str, Any] = field(default_factory=dict)


@transaction.atomic
def spoil_sheet(*, sheet: PlannedSheet, reason: str = Reason.MISCUT, note: str = "", by=None) -> Spoilt:
    """Note that the sheet at the bench was spoiled: it is written off, and the planned sheet needs another.

    An offcut is gone for good; then the campaign has to be planned again.
    Raises PlanRefused when it was cut already, StockRefused when no such sheet is there to be spoiled.
    """
    sheet = locked_sheet(sheet)
    if sheet.cut_at:
        raise PlanRefused(
            say(
                "{sheet} is noted as cut. Undo that first, or have the boxes made again at their fit check.",
                sheet=sheet,
            )
        )
    words = say("Spoiled at the bench, {sheet} of {plan}", sheet=sheet, plan=sheet.plan) + (
        f": {note}" if note else ""
    )
    issue = issue_of(sheet)
    memory = {"was_issued": issue is not None}
    if sheet.offcut_id:
        if not issue and sheet.offcut.gone_at:
            raise PlanRefused(
                say("{offcut} is no longer on the rack. Plan the campaign again.", offcut=sheet.offcut)
            )
        if issue:
            reverse_issue(issue, by, words)
        drop_offcut(offcut=sheet.offcut, by=by, note=words, thrown=True)
        return Spoilt(sheet, Decimal(), memory)
    if issue:
        reverse_issue(issue, by, words)
    try:
        written_off = write_off_sheets(
            sheet_size=sheet.sheet_size,
            count=1,
            by=by,
            reason=reason,
            note=words,
            reference=reference_of(sheet),
        )
    except StockRefused as refused:
        raise StockRefused(f"{refused} {what_is_there(sheet)}") from refused
    return Spoilt(sheet, sheet.price, memory | {"written_off": written_off.pk})


@transaction.atomic
def take_back_spoiling(*, sheet: PlannedSheet, memory: Mapping[str, Any], by=None) -> PlannedSheet:
    """Undo the spoiling of a sheet: it is at the bench again, or in stock if it was never taken.

    Raises PlanRefused when another sheet was taken since, StockRefused when the write-off was reversed
    already or its offcut has gone on.
    """
    sheet = locked_sheet(sheet)
    if sheet.cut_at or issue_of(sheet):
        raise PlanRefused(
            say("Another sheet was cut for {sheet} since. Undo that first.", sheet=sheet)
            if sheet.cut_at
            else say("Another sheet was taken for {sheet} since. Undo that first.", sheet=sheet)
        )
    words = say("Undone: spoiling of {sheet}", sheet=sheet)
    if sheet.offcut_id:
        thrown = RackEntry.objects.filter(offcut=sheet.offcut, kind=RackEntry.Kind.THROWN, reversed_by=None)
        if entry := thrown.last():
            reverse_rack_entry(entry=entry, by=by, note=words)
    else:
        movement = StockMovement.objects.get(pk=memory["written_off"])
        reverse_movement(movement=movement, by=by, note=words)
    if memory.get("was_issued"):
        write_issue(sheet, by)
    return sheet
