"""A campaign's plan in figures: what the pages show and what `demo --json` prints come from here."""

from decimal import Decimal

from django.db.models import Count, Sum

from boards.core.money import to_cents
from housing.models import Blank, Campaign, EstimateLine, Housing, PlannedSheet, Task

Status = Housing.Status


def plan_summary(campaign: Campaign) -> dict:
    """Objects, housings, blanks, sheets by board, cost by category, labour hours and tasks by person."""
    housings = Housing.objects.filter(campaign=campaign)
    lines = EstimateLine.objects.filter(estimate__plan__campaign=campaign)
    in_it = campaign.memberships.count()
    housed = campaign.memberships.filter(
        object__housing_ties__is_live=True, object__housing_ties__housing__status=Status.HOUSED
    ).count()
    tasks = Task.objects.filter(housing__campaign=campaign).exclude(housing__status=Status.DROPPED)
    return {
        "campaign": campaign.name,
        "objects": in_it,
        "housed": housed,
        "unhoused": in_it - housed,
        "housings_planned": housings.filter(status=Status.PLANNED).count(),
        "housings_waiting": _counts(housings.filter(status=Status.WAITING), "problem"),
        "blanks": Blank.objects.filter(placements__sheet__plan__campaign=campaign).distinct().count(),
        "sheets_by_board": _counts(PlannedSheet.objects.filter(plan__campaign=campaign), "board__code"),
        "currency": campaign.currency,
        "cost_by_category": {
            row["category"]: str(to_cents(row["total"]))
            for row in lines.values("category").annotate(total=Sum("amount")).order_by("category")
        },
        "cost": str(to_cents(lines.aggregate(total=Sum("amount", default=Decimal()))["total"])),
        "labour_hours": labour_hours(campaign),
        "tasks_by_person": _counts(tasks, "person__name", nobody="nobody"),
    }


def labour_hours(campaign: Campaign) -> float:
    """Hours of work in the estimate, to a tenth."""
    lines = EstimateLine.objects.filter(
        estimate__plan__campaign=campaign, category=EstimateLine.Category.LABOUR
    )
    return round(float(lines.aggregate(total=Sum("quantity", default=Decimal()))["total"]) / 60, 1)


def _counts(rows, field: str, nobody: str = "") -> dict[str, int]:
    counted = rows.order_by(field).values_list(field).annotate(Count("pk"))
    return {value or nobody: count for value, count in counted}
