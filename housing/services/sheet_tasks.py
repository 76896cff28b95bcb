"""Fetching and cutting, which are done sheet by sheet: what a cut sheet does to the tasks of its boxes."""

from collections.abc import Iterable, Mapping, Sequence, Set
from datetime import datetime
from decimal import Decimal
from typing import Any

from boards.core.money import share_out, to_cents
from housing.core.steps import OF_SHEETS
from housing.models import Blank, Housing, Person, PlannedBlank, PlannedSheet, Task
from housing.services.nesting import board_blanks

State = Task.State


def cut_tasks(
    *,
    sheet: PlannedSheet,
    boxes: Sequence[Housing],
    person: Person | None,
    minutes: Decimal | None,
    now: datetime,
) -> list[dict[str, Any]]:
    """Fetching and cutting of the boxes on a sheet: done where all their blanks are cut by now, else begun.

    minutes: of the whole sheet, shared so that they add up. Returns each task as it was before, for JSON.
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
    on_others = on_other_sheets(sheet, boxes)
    before = []
    for task in tasks:
        share = shares[task.pk]
        before.append(
            {
                "pk": task.pk,
                "state": task.state,
                "person": task.person_id,
                "started_at": task.started_at.isoformat() if task.started_at else None,
                "share": None if share is None else str(share),
                "by_sheets": task.state == State.STARTED and task.housing_id in on_others,
            }
        )
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


def on_other_sheets(sheet: PlannedSheet, boxes: Sequence[Housing]) -> set[int]:
    """Those of some boxes, by key, of which another sheet is cut already."""
    others = PlannedBlank.objects.filter(blank__housing__in=boxes, sheet__cut_at__isnull=False)
    return set(others.exclude(sheet=sheet).values_list("blank__housing", flat=True))


def open_tasks(memory: Iterable[Mapping[str, Any]], on_others: Set[int]) -> None:
    """Take from fetching and cutting what a cut has added. on_others: boxes of which other sheets are cut."""
    rows = {before["pk"]: before for before in memory}
    tasks = list(
        Task.objects.select_for_update(of=("self",)).filter(pk__in=rows).order_by("housing", "sequence")
    )
    for task in tasks:
        before = rows[task.pk]
        if before["share"] is not None:
            task.spent_minutes = (task.spent_minutes or Decimal()) - Decimal(before["share"]) or None
        task.done_at, task.person_id = None, before["person"]
        if task.housing_id in on_others:
            task.state = State.STARTED
            continue
        task.state = State.TO_DO if before["by_sheets"] else before["state"]
        task.started_at = None
        if task.state == State.STARTED:
            task.started_at = datetime.fromisoformat(before["started_at"])
    Task.objects.bulk_update(tasks, ["state", "person", "started_at", "done_at", "spent_minutes"])


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
