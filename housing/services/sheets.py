"""Sheets at the bench: issued from stock or rack, cut, spoiled, and each of these taken back."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from decimal import Decimal
from typing import Any

from django.db import transaction
from django.utils import timezone

from boards.core.money import share_out, to_cents
from boards.models import Offcut, RackEntry, Reason, StockMovement
from boards.services import (
    StockRefused,
    drop_offcut,
    keep_offcut,
    reverse_movement,
    reverse_rack_entry,
    use_offcut,
    use_sheets,
    write_off_sheets,
)
from housing.core.steps import CUT, OF_SHEETS, later_steps
from housing.models import Blank, Campaign, Housing, Person, PlannedBlank, PlannedSheet, Task
from housing.queries.sheets import issue_of, reference_of
from housing.services.housings import move_back, move_housing
from housing.services.nesting import PlanRefused, board_blanks
from housing.services.tasks import refuse_minutes

State = Task.State


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
    sheet = _locked(sheet)
    _issue(sheet, by)
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
    sheet = _locked(sheet)
    if sheet.cut_at:
        raise PlanRefused(f"{sheet} was cut already, on {sheet.cut_at:%d %B %Y}.")
    was_issued = issue_of(sheet) is not None
    _issue(sheet, by)
    rack = [  # only those worth keeping are listed
        keep_offcut(
            board=sheet.board,
            along_mm=rest["along_mm"],
            across_mm=rest["across_mm"],
            by=by,
            note=f"From {sheet} of {sheet.plan}",
            reference=reference_of(sheet),
        ).pk
        for rest in sheet.offcuts
    ]
    now = at or timezone.now()
    sheet.cut_at, sheet.cut_by = now, by
    sheet.save(update_fields=["cut_at", "cut_by"])
    moved = []
    boxes = Housing.objects.filter(blanks__placements__sheet=sheet).distinct().order_by("pk")
    for housing in boxes.filter(status=Housing.Status.PLANNED):
        move_housing(housing=housing, status=Housing.Status.IN_WORK, by=by, note=f"{sheet} cut")
        moved.append(housing.pk)
    tasks = _do_tasks(sheet, [box.pk for box in boxes], person, minutes, now)
    return CutDone(sheet, {"was_issued": was_issued, "rack": rack, "moved": moved, "tasks": tasks})


@transaction.atomic
def take_back_cut(*, sheet: PlannedSheet, memory: Mapping[str, Any], by=None) -> PlannedSheet:
    """Undo the cutting of a sheet: stock, rack, boxes and tasks are as they were before.

    Raises PlanRefused when work went on from there, StockRefused when an offcut of it was used since.
    """
    sheet = _locked(sheet)
    if not sheet.cut_at:
        raise PlanRefused(f"{sheet} is not cut.")
    _refuse_gone_on(sheet)
    words = f"Cutting of {sheet} undone"
    for offcut in Offcut.objects.filter(pk__in=memory.get("rack", ())):
        entry = offcut.entries.get(kind=RackEntry.Kind.KEPT)
        reverse_rack_entry(entry=entry, by=by, note=words)
    if not memory.get("was_issued") and (issue := issue_of(sheet)):
        _take_back_issue(issue, by, words)
    sheet.cut_at, sheet.cut_by = None, None
    sheet.save(update_fields=["cut_at", "cut_by"])
    for before in memory.get("tasks", ()):
        spent = before["spent_minutes"]
        Task.objects.filter(pk=before["pk"]).update(
            state=before["state"],
            person=before["person"],
            started_at=before["started_at"],
            done_at=None,
            spent_minutes=None if spent is None else Decimal(spent),
        )
    still = set(
        Housing.objects.filter(blanks__placements__sheet__cut_at__isnull=False).values_list("pk", flat=True)
    )
    for housing in Housing.objects.filter(pk__in=set(memory.get("moved", ())) - still):
        move_back(housing=housing, status=Housing.Status.PLANNED, by=by, note=words)
    return sheet


@transaction.atomic
def take_back_issue(*, sheet: PlannedSheet, by=None) -> bool:
    """Put an issued, uncut sheet back into stock, or onto the rack. Returns whether it was out."""
    sheet = _locked(sheet)
    issue = None if sheet.cut_at else issue_of(sheet)
    if issue:
        _take_back_issue(issue, by, f"{sheet} put back")
    return issue is not None


@transaction.atomic
def spoil_sheet(
    *, sheet: PlannedSheet, reason: str = Reason.MISCUT, note: str = "", by=None
) -> tuple[PlannedSheet, Decimal]:
    """Note that the sheet at the bench was spoiled: it is written off, and the planned sheet needs another.

    An offcut is gone for good; then the campaign has to be planned again. Returns the sheet and what is lost.
    Raises PlanRefused when it was cut already, StockRefused when no such sheet is there to be spoiled.
    """
    sheet = _locked(sheet)
    if sheet.cut_at:
        raise PlanRefused(
            f"{sheet} is noted as cut. Undo that first, or have the boxes made again at their fit check."
        )
    words = f"Spoiled at the bench, {sheet} of {sheet.plan}" + (f": {note}" if note else "")
    issue = issue_of(sheet)
    if sheet.offcut_id:
        if issue:
            reverse_rack_entry(entry=issue, by=by, note=words)
        elif sheet.offcut.gone_at:
            raise PlanRefused(f"{sheet.offcut} is no longer on the rack. Plan the campaign again.")
        drop_offcut(offcut=sheet.offcut, by=by, note=words, thrown=True)
        return sheet, Decimal()
    if issue:
        reverse_movement(movement=issue, by=by, note=words)
    write_off_sheets(
        sheet_size=sheet.sheet_size, count=1, by=by, reason=reason, note=words, reference=reference_of(sheet)
    )
    return sheet, sheet.price


def _locked(sheet: PlannedSheet) -> PlannedSheet:
    """The campaign first, as planning does, so that the two never wait for each other."""
    Campaign.objects.select_for_update(of=("self",)).get(plan__sheets=sheet.pk)
    return (
        PlannedSheet.objects.select_for_update(of=("self",))
        .select_related("plan__campaign", "board", "sheet_size__board", "offcut__board")
        .get(pk=sheet.pk)
    )


def _issue(sheet: PlannedSheet, by) -> None:
    if issue_of(sheet):
        return
    reference = reference_of(sheet)
    if sheet.sheet_size:
        use_sheets(
            sheet_size=sheet.sheet_size, count=1, by=by, note=f"{sheet.plan}, {sheet}", reference=reference
        )
        return
    try:
        use_offcut(offcut=sheet.offcut, by=by, note=f"Used for {sheet} of {sheet.plan}", reference=reference)
    except StockRefused as refused:
        raise PlanRefused(f"{refused} Plan the campaign again.") from refused


def _take_back_issue(issue: StockMovement | RackEntry, by, words: str) -> None:
    if isinstance(issue, RackEntry):
        reverse_rack_entry(entry=issue, by=by, note=words)
    else:
        reverse_movement(movement=issue, by=by, note=words)


def _do_tasks(
    sheet: PlannedSheet, boxes: Iterable[int], person: Person | None, minutes: Decimal | None, now: datetime
) -> list[dict[str, Any]]:
    """Fetching and cutting of the boxes on a sheet: done where all their blanks are cut by now, else begun.

    Returns each task as it was before, ready for JSON.
    """
    tasks = list(
        Task.objects.select_for_update(of=("self",))
        .filter(housing__in=boxes, step__in=OF_SHEETS)
        .exclude(state=State.DONE)
        .order_by("housing", "sequence")
    )
    if not tasks:
        return []
    board = board_blanks(Blank.objects.filter(housing__in=boxes))
    unfinished = set(board.exclude(placements__sheet__cut_at__isnull=False).values_list("housing", flat=True))
    shares = dict.fromkeys((task.pk for task in tasks), None)
    if minutes is not None:
        weights = _weights(sheet, tasks)
        shares = dict(zip(shares, share_out(to_cents(Decimal(minutes)), weights), strict=True))
    before = []
    for task in tasks:
        before.append(
            {
                "pk": task.pk,
                "state": task.state,
                "person": task.person_id,
                "started_at": task.started_at.isoformat() if task.started_at else None,
                "spent_minutes": None if task.spent_minutes is None else str(task.spent_minutes),
            }
        )
        share = shares[task.pk]
        if share is not None:
            task.spent_minutes = (task.spent_minutes or Decimal()) + share
        task.person = person or task.person
        task.started_at = task.started_at or now
        if task.housing_id in unfinished:
            task.state = State.STARTED
        else:
            task.state, task.done_at = State.DONE, now
    Task.objects.bulk_update(tasks, ["state", "person", "started_at", "done_at", "spent_minutes"])
    return before


def _weights(sheet: PlannedSheet, tasks: list[Task]) -> list[float]:
    """Area of a box's blanks on the sheet, shared between fetching and cutting as these are planned."""
    areas: dict[int, float] = {}
    for housing, along, across in PlannedBlank.objects.filter(sheet=sheet).values_list(
        "blank__housing", "along_mm", "across_mm"
    ):
        areas[housing] = areas.get(housing, 0.0) + float(along * across)
    planned: dict[int, float] = {}
    for task in tasks:
        planned[task.housing_id] = planned.get(task.housing_id, 0.0) + _planned(task)
    return [areas[task.housing_id] * _planned(task) / planned[task.housing_id] for task in tasks]


def _planned(task: Task) -> float:
    return max(float(task.planned_minutes), 0.01)  # tasks of no time still share, so that none is lost


def _refuse_gone_on(sheet: PlannedSheet) -> None:
    """Raises PlanRefused where a box of the sheet is further than cut."""
    boxes = Housing.objects.filter(blanks__placements__sheet=sheet)
    later = Task.objects.filter(housing__in=boxes, step__in=later_steps(CUT))
    begun = later.exclude(state=State.TO_DO).select_related("housing").order_by("housing", "sequence").first()
    if begun:
        raise PlanRefused(
            f"“{begun}” was begun since {sheet} was cut. Undo that first, or leave the sheet as it is."
        )
    gone_on = boxes.exclude(status__in=[Housing.Status.PLANNED, Housing.Status.IN_WORK]).first()
    if gone_on:
        raise PlanRefused(f"{gone_on} is “{gone_on.get_status_display()}” by now. {sheet} stays cut.")
