"""A campaign's plan in figures: what the pages show and what `demo --json` prints come from here."""

from django.db.models import Count

from housing.core.budget.lines import APART, Section
from housing.models import Budget, Campaign, Housing, PlannedBlank, PlannedSheet, Task
from housing.queries.budgets import live_budget

Status = Housing.Status


def plan_summary(campaign: Campaign) -> dict:
    """Objects, housings, blanks, sheets by board, the budget by section, hours and tasks by person."""
    housings = Housing.objects.filter(campaign=campaign)
    budget = live_budget(campaign)
    in_it = campaign.memberships.count()
    housed = campaign.memberships.filter(
        object__housing_ties__is_live=True, object__housing_ties__housing__status=Status.HOUSED
    ).count()
    tasks = Task.objects.filter(housing__campaign=campaign).exclude(housing__status=Status.DROPPED)
    placed = PlannedBlank.objects.filter(sheet__plan__campaign=campaign)
    return {
        "campaign": campaign.name,
        "objects": in_it,
        "housed": housed,
        "unhoused": in_it - housed,
        "housings_planned": housings.filter(status=Status.PLANNED).count(),
        "housings_waiting": _counts(housings.filter(status=Status.WAITING), "problem"),
        "blanks": placed.aggregate(number=Count("blank", distinct=True))["number"],
        "sheets_by_board": _counts(PlannedSheet.objects.filter(plan__campaign=campaign), "board__code"),
        "currency": campaign.currency,
        **_money(budget),
        "labour_hours": round(float(budget.hours), 1) if budget else 0.0,
        "tasks_by_person": _counts(tasks, "person__name", nobody="nobody"),
    }


def _money(budget: Budget | None) -> dict:
    """What the live budget comes to; before there is one, nothing by any section."""
    if budget is None:
        return {"cost_by_category": {}, "cost": "0.00", "contingency": "0.00", "is_complete": False}
    sections = budget.content["sections"]
    return {
        "cost_by_category": {key: money for key, money in sections.items() if Section(key) not in APART},
        "cost": str(budget.money),
        "contingency": str(budget.contingency),
        "is_complete": budget.is_complete,
    }


def _counts(rows, field: str, nobody: str = "") -> dict[str, int]:
    counted = rows.order_by(field).values_list(field).annotate(Count("pk"))
    return {value or nobody: count for value, count in counted}
