"""Which sheets a person cuts next, and whether there is what they are cut from."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.db.models import Count, F

from boards.queries import sheet_sizes_in_stock
from housing.core.steps import OF_SHEETS
from housing.models import Hold, Person, PlannedSheet, Task
from housing.queries.sheets import issued_among
from housing.queries.waits import week_now
from objects.core.words import say

SHOWN_SHEETS = 6  # those due first; the plan shows all


@dataclass(frozen=True)
class SheetDue:
    """A sheet to cut. minutes: planned for fetching and cutting what lies on it. in_stock: sheets of its
    size, None for an offcut. is_issued: it lies at the bench already. holds: why it must wait, if it must."""

    sheet: PlannedSheet
    boxes: int
    minutes: Decimal
    week: int
    is_late: bool
    is_issued: bool
    in_stock: int | None
    holds: tuple[str, ...] = ()

    @property
    def lacks_board(self) -> bool:
        return self.in_stock == 0 and not self.is_issued


def sheets_due(person: Person, today: date, *, ahead: bool) -> list[SheetDue]:
    """Uncut sheets that a person cuts, the first due first; those at the bench already before all.

    ahead: also those of the weeks to come.
    """
    uncut = PlannedSheet.objects.filter(person=person, cut_at=None).select_related("plan__campaign")
    due = [
        sheet
        for sheet in uncut.only("week", "position", "plan__campaign__work_from")
        if ahead or sheet.week <= week_now(sheet.plan.campaign, today)
    ]
    issued = issued_among(sheet.pk for sheet in due)
    due.sort(key=lambda sheet: (sheet.pk not in issued, sheet.week, sheet.position))
    order = {sheet.pk: place for place, sheet in enumerate(due[:SHOWN_SHEETS])}
    shown = sorted(
        PlannedSheet.objects.filter(pk__in=order)
        .select_related("plan__campaign", "board", "sheet_size", "offcut")
        .annotate(boxes=Count("placements__blank__housing", distinct=True)),
        key=lambda sheet: order[sheet.pk],
    )
    stock = dict(
        sheet_sizes_in_stock()
        .filter(pk__in=[sheet.sheet_size_id for sheet in shown])
        .values_list("pk", "in_stock")
    )
    minutes, held = _minutes(shown), _held_sheets(shown)
    return [
        SheetDue(
            sheet,
            sheet.boxes,
            minutes[sheet.pk],
            sheet.week,
            sheet.week < week_now(sheet.plan.campaign, today),
            sheet.pk in issued,
            None if sheet.offcut_id else stock.get(sheet.sheet_size_id, 0),
            tuple(held[sheet.pk]),
        )
        for sheet in shown
    ]


def _minutes(sheets: Sequence[PlannedSheet]) -> defaultdict[int, Decimal]:
    """Planned for fetching and cutting what lies on some sheets, by sheet."""
    minutes: defaultdict[int, Decimal] = defaultdict(Decimal)
    tasks = Task.objects.filter(sheet__in=sheets, step__in=OF_SHEETS).exclude(state=Task.State.DONE)
    for sheet, planned in tasks.values_list("sheet", "planned_minutes"):
        minutes[sheet] += planned
    return minutes


def _held_sheets(sheets: Sequence[PlannedSheet]) -> defaultdict[int, list[str]]:
    """Open questions of the boxes on some sheets, by sheet."""
    found: defaultdict[int, list[str]] = defaultdict(list)
    of_sheet = "housing__blanks__placements__sheet"
    rows = Hold.objects.filter(answered_at=None, **{f"{of_sheet}__in": sheets}).select_related("housing")
    for hold, sheet in {(hold, hold.sheet): None for hold in rows.annotate(sheet=F(of_sheet))}:
        found[sheet].append(
            say(
                "{housing} waits {reason}: {question}",
                housing=hold.housing,
                reason=hold.get_reason_display().lower(),
                question=hold.question,
            )
        )
    return found
