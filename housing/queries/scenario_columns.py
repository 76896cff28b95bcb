"""A campaign and its scenarios side by side: their figures, and what is different, in words."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Any

from django.db.models import FloatField, Max, QuerySet, Sum
from django.db.models.functions import Cast
from django.utils import timezone

from housing.core.scenario_figures import Compared, Figures, compare
from housing.core.scenarios import Differences, ScenarioRefused, describe, read
from housing.models import Campaign, HousedObject, Housing, Job, PlannedBlank, PlannedSheet, Scenario, Task
from housing.queries.budgets import is_budget_current, live_budget
from housing.queries.scenarios import inputs_now, inputs_of_scenario, names_of
from objects.core.words import say

Status = Housing.Status
DAYS_IN_WEEK = 7


@dataclass(frozen=True)
class Column:
    """One way of doing the campaign. scenario: None for the campaign as it is. words: what is different.

    figures: None where nothing was worked out yet. fault: why it cannot be read. is_current: whether all it
    rests on is as it was. problems: what makes its figures incomplete or doubtful.
    """

    name: str
    scenario: Scenario | None
    words: list[str] = field(default_factory=list)
    figures: Figures | None = None
    is_current: bool = True
    fault: str = ""
    problems: list[dict[str, Any]] = field(default_factory=list)


def columns_of(campaign: Campaign) -> list[Column]:
    """The campaign as it is, then its scenarios in their order."""
    scenarios = list(campaign.scenarios.all())
    readings: dict[int, Differences | str] = {}
    for scenario in scenarios:
        try:
            readings[scenario.pk] = read(scenario.differences)
        except ScenarioRefused as refused:
            readings[scenario.pk] = str(refused)
    names = names_of(one for one in readings.values() if isinstance(one, Differences))
    now = inputs_now(campaign) if any(scenario.result for scenario in scenarios) else {}
    return [
        _as_it_is(campaign),
        *(_column(campaign, scenario, readings[scenario.pk], names, now) for scenario in scenarios),
    ]


def _column(
    campaign: Campaign,
    scenario: Scenario,
    reading: Differences | str,
    names: Mapping[str, str],
    now: Mapping[str, str],
) -> Column:
    if isinstance(reading, str):
        return Column(scenario.name, scenario, fault=reading)
    words = list(describe(reading, names, campaign.currency))
    if not scenario.result:
        return Column(scenario.name, scenario, words)
    return Column(
        scenario.name,
        scenario,
        words,
        Figures.from_json(scenario.result["figures"]),
        scenario.result["inputs"] == inputs_of_scenario(now, reading),
        problems=scenario.result["problems"],
    )


def table_of(columns: list[Column], currency: str) -> list[Compared]:
    """The figures of the columns side by side."""
    return compare([column.figures for column in columns], currency)


def open_scenario_job(campaign: Campaign) -> Job | None:
    """Scenarios of this campaign being worked out, or waiting for it."""
    return Job.objects.filter(
        kind=Job.Kind.SCENARIO,
        state__in=[Job.State.WAITING, Job.State.RUNNING],
        parameters__campaign=campaign.pk,
    ).first()


# ---- The campaign as it is -------------------------------------------------------------------------------


def _as_it_is(campaign: Campaign) -> Column:
    """The figures of the plan and of the budget as they are stored."""
    budget = live_budget(campaign)
    housings = Housing.objects.filter(campaign=campaign)
    in_hand = housings.exclude(status__in=(Status.WAITING, Status.DROPPED))
    if not in_hand.exists():
        return Column(say("As it is"), None)
    problems = budget.content["problems"] if budget else []
    figures = Figures(
        money=budget.money if budget else None,
        asked_for=budget.asked_for if budget and budget.content.get("range") else None,
        hours=float(budget.hours) if budget else None,
        sheets=_sheets(campaign),
        waste_share=_waste_share(campaign),
        litres=_litres(in_hand),
        finish=_finish(campaign),
        objects=HousedObject.objects.filter(is_live=True, housing__in=in_hand).count(),
        made=in_hand.count(),
        waiting=housings.filter(status=Status.WAITING).count(),
        is_complete=budget.is_complete if budget else True,
    )
    is_current = budget is None or is_budget_current(budget)
    return Column(say("As it is"), None, [], figures, is_current, problems=problems)


def _sheets(campaign: Campaign) -> dict[str, int]:
    sheets = PlannedSheet.objects.filter(plan__campaign=campaign).exclude(sheet_size=None)
    return dict(Counter(sheets.order_by("board__code").values_list("board__code", flat=True)))


def _waste_share(campaign: Campaign) -> float | None:
    def area(rows: QuerySet[Any]) -> float:
        sides = Cast("along_mm", FloatField()) * Cast("across_mm", FloatField())
        return float(rows.aggregate(area=Sum(sides, output_field=FloatField()))["area"] or 0.0)

    sheets = area(PlannedSheet.objects.filter(plan__campaign=campaign).order_by())
    blanks = area(PlannedBlank.objects.filter(sheet__plan__campaign=campaign).order_by())
    return 1 - blanks / sheets if sheets else None


def _litres(housings: QuerySet[Housing]) -> float:
    sides = [Cast(f"outside_{side}_mm", FloatField()) for side in "xyz"]
    volume = sides[0] * sides[1] * sides[2]
    total = housings.order_by().aggregate(all=Sum(volume, output_field=FloatField()))["all"]
    return float(total or 0.0) / 1e6


def _finish(campaign: Campaign) -> date | None:
    """The last day of the last week with work, None where some work has nobody or none is left."""
    tasks = Task.objects.filter(housing__campaign=campaign).exclude(state=Task.State.DONE)
    tasks = tasks.exclude(housing__status=Status.DROPPED)
    if tasks.filter(person=None).exists():
        return None
    return last_day(campaign, tasks.aggregate(last=Max("week"))["last"] or 0)


def last_day(campaign: Campaign, week: int) -> date | None:
    """The last day of a week of the campaign, counted from 1; None for week 0."""
    start = campaign.starts_on or timezone.localdate()
    return start + timedelta(days=DAYS_IN_WEEK * week - 1) if week else None
