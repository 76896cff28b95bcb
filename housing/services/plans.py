"""The cutting plan of a campaign: nest every board's blanks, check the result, store it, cut it."""

from dataclasses import asdict, replace
from datetime import datetime

from django.db.models import QuerySet

from boards.core.nesting import Cut, layout_cost
from boards.models import Offcut, SheetSize
from housing.models import Blank, BoardPlan, Campaign, CuttingPlan, Housing, PlannedBlank, PlannedSheet
from housing.services.nesting import BoardLayout, board_blanks
from housing.services.plan_records import keep_record


def waiting_blanks(campaign: Campaign) -> QuerySet[Blank]:
    """Blanks of begun housings that are not on a sheet already cut, such as a lid whose base is cut."""
    begun = Blank.objects.filter(housing__campaign=campaign, housing__status=Housing.Status.IN_WORK)
    return board_blanks(begun).exclude(placements__sheet__cut_at__isnull=False)


def store_plan(*, campaign: Campaign, layouts: list[BoardLayout], as_of: datetime, by=None) -> CuttingPlan:
    """Store layouts as the campaign's plan; sheets cut or laid out as before stay, the others are replaced.

    as_of: when the records were read; what changed while the plan was worked out makes it out of date.
    """
    plan, _ = CuttingPlan.objects.update_or_create(
        campaign=campaign,
        defaults={
            "made_at": as_of, "by": by, "kerf_mm": campaign.kerf_mm, "trim_mm": campaign.trim_mm,
        },
    )  # fmt: skip
    stays = {sheet.pk for made in layouts for sheet in made.stays.values()}
    plan.sheets.filter(cut_at=None).exclude(pk__in=stays).delete()
    plan.board_plans.all().delete()
    position = max(plan.sheets.values_list("position", flat=True), default=0)
    for made in layouts:
        _bring_up_to_date(made)
        position = _store_layout(plan, made, position)
        BoardPlan.objects.create(
            plan=plan,
            board=made.board,
            cost=layout_cost(made.layout, [sheet for sheet, _ in made.sources.values()]),
            least_cost=made.least.cost,
            sheets=len(made.used),
            least_sheets=made.least.sheets,
            used_share=made.used_share,
        )
    keep_record(plan, by=by)
    return plan


def _bring_up_to_date(made: BoardLayout) -> None:
    """Store what a sheet that stays costs now, and the batch it is cut for, where that changed."""
    batches, used = made.batches, made.used
    for place, sheet in made.stays.items():
        if (sheet.price, sheet.batch) != (used[place].price, batches[place]):
            PlannedSheet.objects.filter(pk=sheet.pk).update(price=used[place].price, batch=batches[place])


def _store_layout(plan: CuttingPlan, made: BoardLayout, position: int) -> int:
    """Store the sheets of a board that are new, numbered on from a position; returns the last one."""
    batches = made.batches
    places = [place for place in range(len(batches)) if place not in made.stays]
    new = [made.layout.sheets[place] for place in places]
    rows = []
    for place, cut_sheet in zip(places, new, strict=True):
        sheet, source = made.sources[cut_sheet.sheet_key]
        position += 1
        rows.append(
            PlannedSheet(
                plan=plan,
                position=position,
                board=made.board,
                sheet_size=source if isinstance(source, SheetSize) else None,
                offcut=source if isinstance(source, Offcut) else None,
                batch=batches[place],
                along_mm=round(sheet.along_mm, 4),
                across_mm=round(sheet.across_mm, 4),
                price=sheet.price,
                offcuts=[asdict(offcut) for offcut in cut_sheet.offcuts],
            )
        )
    PlannedSheet.objects.bulk_create(rows)
    placed = {
        (row.pk, placed.key): PlannedBlank(
            sheet=row,
            blank=made.blanks[placed.key],
            x_mm=round(placed.x_mm, 4),
            y_mm=round(placed.y_mm, 4),
            along_mm=round(placed.along_mm, 4),
            across_mm=round(placed.across_mm, 4),
            turned=placed.turned,
        )
        for row, cut_sheet in zip(rows, new, strict=True)
        for placed in cut_sheet.placements
    }
    PlannedBlank.objects.bulk_create(placed.values())
    guests = []
    for row, cut_sheet in zip(rows, new, strict=True):
        row.cuts = [_cut_row(cut, row, placed) for cut in cut_sheet.cuts]
        for lying in cut_sheet.placements:
            if lying.host is not None:
                placed[row.pk, lying.key].host = placed[row.pk, lying.host]
                guests.append(placed[row.pk, lying.key])
    PlannedSheet.objects.bulk_update(rows, ["cuts"], batch_size=200)
    PlannedBlank.objects.bulk_update(guests, ["host"], batch_size=200)
    return position


def _cut_row(cut: Cut, row: PlannedSheet, placed: dict[tuple[int, str], PlannedBlank]) -> dict:
    """A cut as it is stored, its host named as the stored blanks are."""
    host = None if cut.host is None else str(placed[row.pk, cut.host].pk)
    return asdict(replace(cut, host=host))
