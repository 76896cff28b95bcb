"""Sheets at the bench: issued from stock or rack, cut, and each of these taken back."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from decimal import Decimal
from typing import Any

from django.db import transaction
from django.utils import timezone

from boards.models import Offcut, RackEntry, StockMovement
from boards.queries import sheet_sizes_in_stock
from boards.services import (
    StockRefused,
    keep_offcut,
    reverse_movement,
    reverse_rack_entry,
    use_offcut,
    use_sheets,
)
from housing.core.steps import CUT, later_steps
from housing.models import Campaign, Housing, Person, PlannedSheet, Task
from housing.queries.sheets import issue_of, reference_of
from housing.services.housings import move_back, move_housing
from housing.services.moments import day_of
from housing.services.nesting import PlanRefused
from housing.services.sheet_tasks import cut_tasks, on_other_sheets, open_tasks
from housing.services.spells import end_spell
from housing.services.tasks import refuse_minutes
from objects.core.words import say

State = Task.State
CUT_NOTE = " cut"  # ends the note with which a box goes into work because a sheet of it is cut


@dataclass(frozen=True)
class CutDone:
    """A sheet that is cut. memory: what undoing it has to know, ready for JSON."""

    sheet: PlannedSheet
    memory: Mapping[str, Any] = field(default_factory=dict)


@transaction.atomic
def issue_sheet(*, sheet: PlannedSheet, by=None) -> PlannedSheet:
    """Take the sheet for the bench: stock goes down, or its offcut leaves the rack. Once issued it stays so.

    Raises StockRefused when no such sheet is in stock, PlanRefused when its offcut is gone.
    """
    sheet = locked_sheet(sheet)
    write_issue(sheet, by)
    return sheet


def cut_sheet(
    *,
    sheet: PlannedSheet,
    by=None,
    person: Person | None = None,
    minutes: Decimal | None = None,
    at: datetime | None = None,
) -> PlannedSheet:
    """Note that a sheet was cut: good offcuts go on the rack, its boxes are in work, cutting them is done.

    minutes: what the whole sheet took; the boxes on it share them by the area of their blanks there.
    Raises PlanRefused when it was cut already or its offcut is gone, StockRefused when no such sheet is in
    stock.
    """
    return cut(sheet=sheet, by=by, person=person, minutes=minutes, at=at).sheet


@transaction.atomic
def cut(
    *,
    sheet: PlannedSheet,
    by=None,
    person: Person | None = None,
    minutes: Decimal | None = None,
    at: datetime | None = None,
) -> CutDone:
    """The same as cut_sheet(), with what undoing it has to know."""
    refuse_minutes(minutes)
    sheet = locked_sheet(sheet)
    if sheet.cut_at:
        raise PlanRefused(say("{sheet} was cut already, on {day}.", sheet=sheet, day=day_of(sheet.cut_at)))
    was_issued = issue_of(sheet) is not None
    write_issue(sheet, by)
    rack = [  # only those worth keeping are listed
        keep_offcut(
            board=sheet.board,
            along_mm=rest["along_mm"],
            across_mm=rest["across_mm"],
            by=by,
            note=say("From {sheet} of {plan}", sheet=sheet, plan=sheet.plan),
            reference=reference_of(sheet),
        ).pk
        for rest in sheet.offcuts
    ]
    now = at or timezone.now()
    sheet.cut_at, sheet.cut_by = now, by
    sheet.save(update_fields=["cut_at", "cut_by"])
    boxes = list(Housing.objects.filter(blanks__placements__sheet=sheet).distinct().order_by("pk"))
    for housing in [box for box in boxes if box.status == Housing.Status.PLANNED]:
        move_housing(housing=housing, status=Housing.Status.IN_WORK, by=by, note=f"{sheet}{CUT_NOTE}")
    end_spell(at_what=sheet, at=now)
    tasks = cut_tasks(sheet=sheet, boxes=boxes, person=person, minutes=minutes, now=now)
    return CutDone(sheet, {"was_issued": was_issued, "rack": rack, "tasks": tasks})


@transaction.atomic
def take_back_cut(*, sheet: PlannedSheet, memory: Mapping[str, Any], by=None) -> PlannedSheet:
    """Undo the cutting of a sheet: stock, rack, boxes and tasks are as they were before.

    Raises PlanRefused when work went on from there, StockRefused when an offcut of it was used since.
    """
    sheet = locked_sheet(sheet)
    if not sheet.cut_at:
        raise PlanRefused(say("{sheet} is not cut.", sheet=sheet))
    _refuse_gone_on(sheet)
    words = say("cutting of {sheet}", sheet=sheet)
    for offcut in Offcut.objects.filter(pk__in=memory.get("rack", ())):
        entry = offcut.entries.get(kind=RackEntry.Kind.KEPT)
        reverse_rack_entry(entry=entry, by=by, note=say("Undone: {words}", words=words))
    if not memory.get("was_issued") and (issue := issue_of(sheet)):
        reverse_issue(issue, by, say("Undone: {words}", words=words))
    sheet.cut_at, sheet.cut_by = None, None
    sheet.save(update_fields=["cut_at", "cut_by"])
    boxes = list(Housing.objects.filter(blanks__placements__sheet=sheet).distinct().order_by("pk"))
    on_others = on_other_sheets(sheet, boxes)
    open_tasks(memory.get("tasks", ()), on_others)
    for housing in boxes:
        if (
            housing.pk not in on_others
            and housing.status == Housing.Status.IN_WORK
            and _is_in_work_by_cutting(housing)
        ):
            move_back(
                housing=housing,
                status=Housing.Status.PLANNED,
                by=by,
                note=say("Undone: {words}", words=words),
            )
    return sheet


@transaction.atomic
def take_back_issue(*, sheet: PlannedSheet, by=None) -> bool:
    """Put an issued, uncut sheet back into stock, or onto the rack. Returns whether it was out."""
    sheet = locked_sheet(sheet)
    issue = None if sheet.cut_at else issue_of(sheet)
    if issue:
        reverse_issue(issue, by, say("{sheet} put back", sheet=sheet))
    return issue is not None


def locked_sheet(sheet: PlannedSheet) -> PlannedSheet:
    """A sheet, kept from others until the transaction ends: the campaign first, as planning does, so that the
    two never wait for each other."""
    Campaign.objects.select_for_update(of=("self",)).get(plan__sheets=sheet.pk)
    return (
        PlannedSheet.objects.select_for_update(of=("self",))
        .select_related("plan__campaign", "board", "sheet_size__board", "offcut__board")
        .get(pk=sheet.pk)
    )


def write_issue(sheet: PlannedSheet, by) -> None:
    """Write a locked sheet out of the stock, or off the rack; one that is out stays out."""
    if issue_of(sheet):
        return
    reference = reference_of(sheet)
    if sheet.sheet_size:
        note = f"{sheet.plan}, {sheet}"
        try:
            use_sheets(sheet_size=sheet.sheet_size, count=1, by=by, note=note, reference=reference)
        except StockRefused as refused:
            raise StockRefused(f"{refused} {what_is_there(sheet)}") from refused
        return
    try:
        use_offcut(
            offcut=sheet.offcut,
            by=by,
            note=say("Used for {sheet} of {plan}", sheet=sheet, plan=sheet.plan),
            reference=reference,
        )
    except StockRefused as refused:
        raise PlanRefused(say("{refused} Plan the campaign again.", refused=refused)) from refused


def what_is_there(sheet: PlannedSheet) -> str:
    """What could be cut instead of a sheet that lacks, and what to do about it."""
    sizes = sheet_sizes_in_stock().filter(board=sheet.board, in_stock__gt=0).exclude(pk=sheet.sheet_size_id)
    there = ", ".join(say("{in_stock} of {size}", in_stock=size.in_stock, size=size) for size in sizes)
    other = (
        say("In stock are {there}.", there=there)
        if there
        else say("No sheet of {code} of another size is in stock.", code=sheet.board.code)
    )
    return say("{other} Or plan the campaign again with what is there.", other=other)


def reverse_issue(issue: StockMovement | RackEntry, by, words: str) -> None:
    """What was issued is back in the stock, or on the rack."""
    if isinstance(issue, RackEntry):
        reverse_rack_entry(entry=issue, by=by, note=words)
    else:
        reverse_movement(movement=issue, by=by, note=words)


def _is_in_work_by_cutting(housing: Housing) -> bool:
    begun = housing.events.filter(status=Housing.Status.IN_WORK).last()
    return begun is not None and begun.note.endswith(CUT_NOTE)


def _refuse_gone_on(sheet: PlannedSheet) -> None:
    """Raises PlanRefused where a box of the sheet is further than cut."""
    boxes = Housing.objects.filter(blanks__placements__sheet=sheet)
    later = Task.objects.filter(housing__in=boxes, step__in=later_steps(CUT))
    begun = later.exclude(state=State.TO_DO).select_related("housing").order_by("housing", "sequence").first()
    if begun:
        raise PlanRefused(
            say(
                "“{begun}” was begun since {sheet} was cut. Undo that first, or leave the sheet as it is.",
                begun=begun,
                sheet=sheet,
            )
        )
    gone_on = boxes.exclude(status__in=[Housing.Status.PLANNED, Housing.Status.IN_WORK]).first()
    if gone_on:
        raise PlanRefused(
            say(
                "{gone_on} is “{status}” by now. {sheet} stays cut.",
                gone_on=gone_on,
                status=gone_on.get_status_display(),
                sheet=sheet,
            )
        )
