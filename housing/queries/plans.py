"""The sheets of a cutting plan with all that their drawings show."""

from collections.abc import Mapping

from django.db.models import Count, QuerySet

from boards.core.nesting.shapes import Cut, CutSheet, Offcut, Placement, Sheet
from housing.models import Campaign, CuttingPlan, PlannedBlank, PlannedSheet


def plan_of(campaign: Campaign) -> CuttingPlan | None:
    """The campaign's plan, if it was planned."""
    return CuttingPlan.objects.filter(campaign=campaign).first()


def sheets_of(plan: CuttingPlan) -> QuerySet[PlannedSheet]:
    """The sheets of a plan in their order, with their blanks and the objects those are for."""
    return plan.sheets.select_related(
        "board", "sheet_size", "offcut", "cut_by", "plan__campaign"
    ).prefetch_related("placements__blank__housing__contents__object")


def cut_counts(plan: CuttingPlan) -> Mapping[int, int]:
    """How many sheets of each board are cut already."""
    cut = plan.sheets.exclude(cut_at=None).order_by()
    return dict(cut.values_list("board").annotate(Count("pk")))


def cut_sheet_of(sheet: PlannedSheet) -> tuple[CutSheet, Sheet]:
    """A stored sheet as the nesting knows it; pieces are named by the key of their planned blank."""
    placements = tuple(
        Placement(
            str(placed.pk),
            float(placed.x_mm),
            float(placed.y_mm),
            float(placed.along_mm),
            float(placed.across_mm),
            placed.turned,
            str(placed.host_id) if placed.host_id else None,
        )
        for placed in sheet.placements.all()
    )
    key = str(sheet.pk)
    return (
        CutSheet(
            key,
            placements,
            tuple(Cut(**row) for row in sheet.cuts),
            tuple(Offcut(**row) for row in sheet.offcuts),
        ),
        Sheet(key, float(sheet.along_mm), float(sheet.across_mm), sheet.price),
    )


def label_of(placed: PlannedBlank) -> str:
    """What is written on a blank: the numbers of its objects and the part it is."""
    numbers = ", ".join(tie.object.number for tie in placed.blank.housing.contents.all())
    return f"{numbers} {placed.blank.part.replace('_', ' ')}".strip()
