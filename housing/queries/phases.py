"""The phases of a campaign with their figures, as a stored budget has them."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from housing.core.budget.lines import Problem
from housing.core.budget.months import Calendar
from housing.core.budget.phases import BatchCost, PhaseFigures, PhaseTerms, phase_figures, phase_problems
from housing.core.budget.telling import told_problem
from housing.models import Budget, Campaign, Phase


@dataclass(frozen=True)
class PhasesOfBudget:
    """Phases with their figures, and what is wrong with them."""

    phases: Sequence[PhaseFigures]
    problems: Sequence[Problem]


def phases_of(campaign: Campaign) -> list[PhaseTerms]:
    """The phases as they are entered now, in the order of their dates."""
    return [
        PhaseTerms(
            name=phase.name,
            starts_on=phase.starts_on,
            ends_on=phase.ends_on,
            first_batch=phase.first_batch,
            last_batch=phase.last_batch,
            money=phase.money,
            key=str(phase.pk),
        )
        for phase in Phase.objects.filter(campaign=campaign)
    ]


def phases_in(stored: Budget) -> PhasesOfBudget:
    """The phases of a budget: those of now for the live one, those of then for a frozen one."""
    content = stored.content
    if stored.frozen_at:
        phases = [phase_from_json(one) for one in content.get("phases", ())]
    else:
        phases = phases_of(stored.campaign)
    calendar = Calendar.from_json(content["months"]) if "months" in content else Calendar()
    batches = batch_costs(content)
    hours_a_week = content.get("months", {}).get("hours_a_week", 0.0)
    figures = phase_figures(phases, batches, calendar, hours_a_week)
    dates = _day(content.get("starts_on")), _day(content.get("ends_on"))
    return PhasesOfBudget(
        figures, [told_problem(one) for one in phase_problems(figures, batches, stored.currency, dates)]
    )


def batch_costs(content: Mapping[str, Any]) -> list[BatchCost]:
    """What the boxes of each batch cost, and last what no box causes."""
    return [
        BatchCost(
            int(row["label"]) if row["label"].isdecimal() else None, row["boxes"], Decimal(row["total"])
        )
        for row in content["by_batch"]
    ]


def phases_to_json(phases: Iterable[PhaseTerms]) -> list[dict[str, Any]]:
    """What a frozen budget keeps of its phases."""
    return [
        {
            "name": phase.name,
            "starts_on": phase.starts_on.isoformat(),
            "ends_on": phase.ends_on.isoformat(),
            "first_batch": phase.first_batch,
            "last_batch": phase.last_batch,
            "money": None if phase.money is None else str(phase.money),
        }
        for phase in phases
    ]


def phase_from_json(kept: Mapping[str, Any]) -> PhaseTerms:
    """A phase that phases_to_json() wrote."""
    return PhaseTerms(
        name=kept["name"],
        starts_on=date.fromisoformat(kept["starts_on"]),
        ends_on=date.fromisoformat(kept["ends_on"]),
        first_batch=kept["first_batch"],
        last_batch=kept["last_batch"],
        money=None if kept["money"] is None else Decimal(kept["money"]),
    )


def _day(text: str | None) -> date | None:
    return date.fromisoformat(text) if text else None
