"""What the boxes of a scenario come to: sheets, hours, money with its range, and the day the work is done."""

from collections import Counter
from collections.abc import Iterator
from copy import copy
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

import numpy as np
from django.utils import timezone

from housing.core.budget.contingency import contingency
from housing.core.budget.lines import Budget as CoreBudget
from housing.core.budget.lines import Problem, Section, Target
from housing.core.budget.purchases import MaterialNeed
from housing.core.labour.rates import HourRate
from housing.core.labour.work import by_step
from housing.core.scenario_figures import Figures
from housing.core.scenarios import Differences, ScenarioRefused
from housing.models import BudgetTerms, Campaign, Housing, ReadyMadeBox
from housing.queries.budget_causes import people_of_steps
from housing.queries.budgets import terms_of
from housing.queries.materials import material_needs, supplier_terms
from housing.queries.scenario_columns import last_day
from housing.queries.standards import hour_rates
from housing.services.budget_figures import BudgetFigures, only_measuring, waiting_problems
from housing.services.budgets import assemble
from housing.services.minutes import minutes_of
from housing.services.nesting import Progress, refuse_too_large
from housing.services.ranges import simulate_budget
from housing.services.scenario_boxes import WorkedOut
from housing.services.scenario_facts import ScenarioFacts, facts_of_scenario
from housing.services.scenario_sheets import ScenarioSheets, sheets_of_scenario
from housing.services.scenario_work import GivenOut, give_out, workers_of
from objects.core.words import say, say_count

WAITING = Housing.Status.WAITING


@dataclass(frozen=True)
class Worked:
    """A scenario worked out: its figures, and the budget they come from."""

    figures: Figures
    budget: CoreBudget


def budget_of_scenario(
    campaign: Campaign, differences: Differences, boxes: WorkedOut, today: date, progress: Progress
) -> Worked:
    """Nest what is made, give out the work and add up the money; nothing is stored.

    Raises ScenarioRefused where no box is left, PlanRefused where blanks find no sheet.
    """
    altered, terms = _altered(campaign, differences), _terms(campaign, differences)
    refuse_too_large(campaign=campaign, drafts=boxes.made)
    boxes.waiting += [each for each in boxes.made if each.housing.status == WAITING]
    boxes.made = [each for each in boxes.made if each.housing.status != WAITING]
    facts = facts_of_scenario(campaign, boxes)
    if not facts.boxes:
        raise ScenarioRefused(
            say(
                "Not one box is left to be made or bought: {left_out:,} are left out and {count:,} wait "
                "for something. Choose other objects, or see what they wait for.",
                left_out=boxes.left_out,
                count=len(boxes.waiting),
            )
        )
    sheets = sheets_of_scenario(campaign, differences, boxes, progress)
    progress(85, say("Giving out the work"))
    figures, given = _worked_by(campaign, differences, terms, facts, boxes)
    progress(90, say("Adding up the money"))
    needs, lacking = material_needs(campaign, terms, facts.boxes, sheets.by_size, differences.prices, today)
    budget = assemble(
        campaign=altered,
        terms=terms,
        boxes=figures.boxes,
        needs=[*needs, *_bought(boxes, today)],
        suppliers=supplier_terms(),
        hours=figures.hours,
        rates=_rates(altered, differences),
        today=today,
        more=[*figures.problems, *lacking, *boxes.notes, *_doubts(campaign, differences, given)],
    )
    if budget.money:
        progress(94, say("Drawing how far the money may be off"))
        drawn = simulate_budget(terms=terms, minutes=figures.minutes, times=figures.times, lines=budget.lines)
        most = contingency(drawn.at(terms.contingency_percent), budget.money)
        budget = replace(budget, contingency=most)
    return Worked(_figures(campaign, boxes, facts, sheets, budget, given), budget)


def _altered(campaign: Campaign, differences: Differences) -> Campaign:
    """The campaign with another rate, not to be saved."""
    altered = copy(campaign)
    if differences.rate_per_hour is not None:
        altered.rate_per_hour = differences.rate_per_hour
    return altered


def _terms(campaign: Campaign, differences: Differences) -> BudgetTerms:
    """The campaign's terms with what is different, not to be saved; a rate of learning lets it count."""
    terms = copy(terms_of(campaign))
    for name, value in differences.terms.items():
        setattr(terms, name, int(value) if name == "contingency_percent" else value)
    if "learning_rate" in differences.terms and terms.learning == BudgetTerms.Learning.NONE:
        terms.learning = BudgetTerms.Learning.UNIT
    return terms


# ---- Hours and money -------------------------------------------------------------------------------------


def _worked_by(
    campaign: Campaign, differences: Differences, terms: BudgetTerms, facts: ScenarioFacts, boxes: WorkedOut
) -> tuple[BudgetFigures, GivenOut]:
    """The minutes of all boxes and who works them."""
    every = [*facts.boxes, *facts.to_measure]
    of_boxes, measured = (minutes_of(campaign, terms, some) for some in (facts.boxes, facts.to_measure))
    minutes = np.vstack([of_boxes.planned, only_measuring(measured.planned)])
    by_key = sorted(range(len(every)), key=lambda place: int(every[place].key))
    given = give_out(
        campaign,
        [every[place] for place in by_key],
        {step: of_boxes[by_key] for step, of_boxes in by_step(every, minutes).items()},
        facts.begun,
        facts.hazardous,
        workers_of(campaign, differences),
    )
    people = given.people
    if not (differences.changes_boxes or differences.people):  # what has been given out stays so
        stored = people_of_steps(campaign)
        has_tasks = {key for key, _ in stored}
        people = {of: who for of, who in people.items() if of[0] not in has_tasks} | stored
    waiting = Counter(draft.housing.problem for draft in boxes.waiting)
    figures = BudgetFigures(
        as_of=timezone.now(),
        inputs={},
        terms=terms,
        boxes=every,
        planned=len(facts.boxes),
        minutes=minutes,
        times=of_boxes.times,
        people=people,
        problems=waiting_problems(waiting),
        waiting=dict(waiting),
    )
    return figures, given


def _rates(campaign: Campaign, differences: Differences) -> list[HourRate]:
    """What an hour of everybody costs, with the hours a week that the scenario gives them."""
    return [
        replace(rate, hours_per_week=differences.people[int(rate.key)])
        if rate.key and differences.people.get(int(rate.key))
        else rate
        for rate in hour_rates(campaign)
    ]


def _bought(boxes: WorkedOut, today: date) -> Iterator[MaterialNeed]:
    """The boxes that are bought, in the packs they are sold in."""
    counts = Counter(int(fit.box.key) for _, fit in boxes.bought)
    for box in ReadyMadeBox.objects.filter(pk__in=counts).order_by("name"):
        yield MaterialNeed(
            key=f"ready_made:{box.pk}",
            section=Section.READY_MADE,
            what=box.name,
            unit="box",
            needed=Decimal(counts[box.pk]),
            computed_from=say("{counts:,} boxes that hold what is needed", counts=counts[box.pk]),
            target=Target("ready_made", str(box.pk)),
            price=box.price,
            pack=Decimal(box.pack),
            whole_units=True,
            supplier=str(box.supplier_id) if box.supplier_id else "",
            priced_on=box.priced_on,
            is_withdrawn=bool(box.withdrawn_on and box.withdrawn_on <= today),
        )


def _doubts(campaign: Campaign, differences: Differences, given: GivenOut) -> Iterator[Problem]:
    """Work that nobody can do, and people who take part without hours."""
    for reason, number in given.nobody.items():
        yield Problem(
            say_count(
                "{count:,} step has nobody: {reason}",
                "{count:,} steps have nobody: {reason}",
                number,
                reason=reason,
            ),
            say("The day on which the work is done is not known"),
            say("Give people the skills or the hours, or take others in"),
            Target("people"),
            makes_incomplete=False,
        )
    for person in campaign.people.filter(is_active=True, hours_per_week=0).exclude(pk__in=differences.people):
        yield Problem(
            say("{person} has no hours a week", person=person),
            say("Nothing can be given to them"),
            say("Enter hours a week for them, here or on their page"),
            Target("person", str(person.pk)),
            makes_incomplete=False,
        )


def _figures(
    campaign: Campaign,
    boxes: WorkedOut,
    facts: ScenarioFacts,
    sheets: ScenarioSheets,
    budget: CoreBudget,
    given: GivenOut,
) -> Figures:
    return Figures(
        money=budget.money,
        asked_for=budget.asked_for,
        hours=round(sum(budget.hours.values()), 2),
        sheets=sheets.by_board,
        waste_share=sheets.waste_share,
        litres=sum(box.outside_litres for box in facts.boxes),
        finish=None if given.nobody else last_day(campaign, given.last_week),
        objects=sum(box.objects for box in facts.boxes),
        made=len(facts.boxes) - len(boxes.bought),
        bought=len(boxes.bought),
        left_out=boxes.left_out,
        waiting=len(boxes.waiting),
        is_complete=budget.is_complete,
    )
