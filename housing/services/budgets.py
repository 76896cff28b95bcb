"""Budgets: put together from boxes, sheets and hours; worked out and stored for a campaign; frozen."""

from collections import defaultdict
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

from django.db import transaction
from django.utils import timezone

from housing.core.budget.contingency import contingency
from housing.core.budget.facts import BoxFacts
from housing.core.budget.indirect import indirect_line
from housing.core.budget.lines import Budget as CoreBudget
from housing.core.budget.lines import Problem, Target
from housing.core.budget.purchases import MaterialNeed, SupplierTerms, buy
from housing.core.budget.sharing import BoxShares, share_lines
from housing.core.budget.simulation import Simulation
from housing.core.budget.stored import to_json
from housing.core.labour.rates import HourRate, WorkedHours, labour_lines
from housing.models import Budget, BudgetTerms, Campaign
from housing.queries.budget_causes import causes_of
from housing.queries.budget_sources import sources_of
from housing.queries.budgets import baselines, changes_since, live_budget, read_budget
from housing.queries.materials import material_needs, supplier_terms
from housing.queries.months import months_of
from housing.queries.phases import phases_of, phases_to_json
from housing.queries.plans import plan_of
from housing.queries.standards import hour_rates, supervision_of
from housing.services.box_costs import store_box_costs
from housing.services.budget_content import content_of
from housing.services.budget_figures import BudgetFigures, budget_figures
from housing.services.ranges import simulate_budget
from objects.core.refusals import Refusal
from objects.core.words import say

type Told = Callable[..., object]


class BudgetRefused(Refusal):
    """A budget cannot be worked out, frozen or changed as asked; the message is a sentence for the reader."""


def assemble(
    *,
    campaign: Campaign,
    terms: BudgetTerms,
    boxes: Sequence[BoxFacts],
    needs: Sequence[MaterialNeed],
    suppliers: Sequence[SupplierTerms],
    hours: Sequence[WorkedHours],
    rates: Sequence[HourRate],
    today: date,
    more: Sequence[Problem] = (),
) -> CoreBudget:
    """A budget of boxes that may be stored or only thought of; without contingency; nothing is stored.

    needs: what the boxes and their sheets take. hours: who works how long at which step. rates: of everybody
    in hours. more: problems that are known already, those of needs among them.
    """
    bought = buy(needs, suppliers, today)
    worked, doubts = labour_lines(hours, rates, supervision_of(terms))
    lines = [*bought.lines, *worked]
    if indirect := indirect_line(lines, terms.indirect_share, campaign.currency):
        lines.append(indirect)
    by_step: defaultdict[str, float] = defaultdict(float)
    for one in hours:
        by_step[one.step] += one.hours
    problems = (*more, *bought.problems, *doubts)
    if not boxes:
        problems = (*problems, _no_box(campaign))
    return CoreBudget(campaign.currency, tuple(lines), problems, hours=dict(by_step))


def _no_box(campaign: Campaign) -> Problem:
    return Problem(
        say("No box of “{campaign}” is planned", campaign=campaign),
        say("The budget has nothing in it"),
        say("See what its boxes wait for"),
        Target("waiting"),
    )


def make_budget(
    *, campaign: Campaign, by=None, with_range: bool = True, progress: Told = lambda *told: None
) -> Budget:
    """Work out the live budget of a campaign and what each box costs, in place of the one before.

    with_range: also how uncertain it is, which takes longer; without it there is no contingency.
    Everything is worked out first and then stored in one short transaction.
    Raises BudgetRefused where the campaign was not planned yet.
    """
    if (plan := plan_of(campaign)) is None:
        raise BudgetRefused(
            say(
                "“{campaign}” has no plan yet. Plan it first; its budget comes with the plan.",
                campaign=campaign,
            )
        )
    progress(5, say("Reading boxes and sheets"))
    figures, today = budget_figures(campaign), timezone.localdate()
    needs, lacking = material_needs(campaign, figures.terms, figures.planned_boxes)
    suppliers = supplier_terms()
    budget = assemble(
        campaign=campaign,
        terms=figures.terms,
        boxes=figures.boxes,
        needs=needs,
        suppliers=suppliers,
        hours=figures.hours,
        rates=hour_rates(campaign),
        today=today,
        more=[*figures.problems, *lacking],
    )
    progress(30, say("Sharing it out over the boxes"))
    causes = causes_of(campaign, figures.boxes, budget.lines, figures.of_step, figures.people)
    shares = share_lines(budget.lines, figures.boxes, figures.of_step, causes)
    simulation = None
    if with_range and budget.money:
        progress(40, say("Trying how uncertain it is"))
        simulation = simulate_budget(
            terms=figures.terms, minutes=figures.minutes, times=figures.times, lines=budget.lines
        )
        figure = simulation.at(figures.terms.contingency_percent)
        budget = replace(budget, contingency=contingency(figure, budget.money))
    orders = buy(needs, suppliers, today).orders
    content = content_of(campaign, plan, figures, budget, shares, orders, simulation)
    content["months"] = months_of(
        campaign,
        planned_at=plan.made_at,
        boxes=figures.boxes,
        minutes=figures.of_step,
        people=figures.people,
        lines=budget.lines,
        causes=causes,
        orders=orders,
        hours=hours_of(budget),
        today=today,
    )
    content["sources"] = sources_of(campaign, figures.terms, budget.lines)
    content["suppliers"] = {one.key: _freight_terms(one) for one in suppliers}
    progress(95, say("Storing it"))
    return _store(campaign, by, figures, budget, content, shares)


def hours_of(budget: CoreBudget) -> Decimal:
    """All hours of work together, in hundredths."""
    return Decimal(f"{sum(budget.hours.values()):.2f}")


def _freight_terms(one: SupplierTerms) -> dict[str, str]:
    free_from = one.freight_free_from
    return {
        "each": str(one.freight_each),
        "share": str(one.freight_share),
        "free_from": "" if free_from is None else str(free_from),
    }


def _store(
    campaign: Campaign,
    by: Any,
    figures: BudgetFigures,
    budget: CoreBudget,
    content: dict[str, Any],
    shares: BoxShares,
) -> Budget:
    """Keep a budget as the live one, unless somebody meanwhile kept one that rests on newer records."""
    with transaction.atomic():
        Campaign.objects.select_for_update().get(pk=campaign.pk)
        live = live_budget(campaign)
        if live and live.made_at > figures.as_of:
            return live
        live = live or Budget(campaign=campaign)
        live.made_at, live.by, live.content = figures.as_of, by, content
        live.currency, live.money, live.contingency = budget.currency, budget.money, budget.contingency
        live.is_complete, live.boxes = budget.is_complete, len(figures.boxes)
        live.hours = hours_of(budget)
        live.save()
        store_box_costs(campaign=campaign, shares=shares)
        return live


@transaction.atomic
def freeze_budget(*, campaign: Campaign, name: str, by=None) -> Budget:
    """Keep the live budget as it is now under a name; the copy never changes again.

    Raises BudgetRefused where there is none, without a name, or where a baseline has that name already.
    """
    Campaign.objects.select_for_update().get(pk=campaign.pk)
    live, name = live_budget(campaign), " ".join(name.split())
    if live is None:
        raise BudgetRefused(
            say("“{campaign}” has no budget yet. Work it out first, then freeze it.", campaign=campaign)
        )
    if not name:
        raise BudgetRefused(say("A baseline needs a name, such as the grant's, so that it is found again."))
    if baselines(campaign).filter(name__iexact=name).exists():
        raise BudgetRefused(
            say("There is a baseline “{name}” already. Give this one another name.", name=name)
        )
    phases = phases_to_json(phases_of(campaign))
    content = live.content | {"changed_when_frozen": changes_since(live), "phases": phases}
    kept = {f.attname: getattr(live, f.attname) for f in Budget._meta.concrete_fields if not f.primary_key}
    return Budget.objects.create(
        **kept | {"name": name, "by_id": by and by.pk, "frozen_at": timezone.now(), "content": content}
    )


@transaction.atomic
def set_contingency(*, campaign: Campaign, percent: int) -> Budget:
    """Have the contingency be enough in so many of 100 cases; the range stays as it was worked out.

    Raises BudgetRefused where no range was worked out, since there is nothing to choose from then.
    """
    Campaign.objects.select_for_update().get(pk=campaign.pk)
    live = live_budget(campaign)
    if live is None or not live.content["range"]:
        raise BudgetRefused(
            say("How uncertain the budget is was not worked out yet. Work the budget out again, then choose.")
        )
    simulation = Simulation.from_json(live.content["range"])
    live.contingency = contingency(simulation.at(percent), live.money)
    budget = replace(read_budget(live), contingency=live.contingency)
    live.content = live.content | to_json(budget) | {"percent": percent}
    live.content["terms"] |= {"contingency_percent": percent}
    live.save(update_fields=["contingency", "content"])
    BudgetTerms.objects.update_or_create(campaign=campaign, defaults={"contingency_percent": percent})
    return live


def use_log(*, campaign: Campaign, is_used: bool) -> BudgetTerms:
    """Let logged minutes and spoiled sheets correct the stated figures of a campaign, or not."""
    terms, _ = BudgetTerms.objects.update_or_create(
        campaign=campaign, defaults={"uses_logged_times": is_used}
    )
    return terms
