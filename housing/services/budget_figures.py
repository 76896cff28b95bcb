"""What a campaign's budget is worked out from, read from its records at one moment."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

import numpy as np
from django.utils import timezone
from numpy.typing import NDArray

from housing.core.budget.facts import BoxFacts
from housing.core.budget.lines import Problem, Target
from housing.core.budget.worked import hours_by_person
from housing.core.labour.elements import Element
from housing.core.labour.rates import WorkedHours
from housing.core.labour.work import COLUMN, StandardTimes, by_step
from housing.models import BudgetTerms, Campaign, Housing
from housing.queries.box_facts import TO_MEASURE, boxes_to_measure, facts_of_campaign
from housing.queries.budget_causes import people_of_steps
from housing.queries.budgets import boxes_without_a_plan, inputs_of, terms_of, waiting_counts
from housing.services.minutes import minutes_of
from objects.core.words import noted, say, say_count
from objects.speaking import in_language

type Minutes = NDArray[np.float64]
Waits = Housing.Problem

# What to do about boxes that wait; what waits for measuring has that in the budget.
TO_DO = {
    Waits.UNMEASURED: noted("Measure height, width and depth, then plan again"),
    Waits.CHECK: noted("Check their sizes, then plan again"),
    Waits.NO_DESIGN: noted("Make a rule or choose a design for them, then plan again"),
    Waits.REFUSED: noted("Choose another design for them, then plan again"),
    Waits.TOO_LARGE: noted("Enter a larger sheet or choose another form, then plan again"),
}


@dataclass(frozen=True)
class BudgetFigures:
    """Boxes with their minutes and who works them. minutes: boxes × ELEMENTS; people: by box and step.

    The first `planned` boxes have a place in the plan; the others wait to be measured. problems: what is
    known to be missing already.
    """

    as_of: datetime
    inputs: dict[str, str]
    terms: BudgetTerms
    boxes: Sequence[BoxFacts]
    planned: int
    minutes: Minutes
    times: StandardTimes
    people: dict[tuple[str, str], str]
    problems: list[Problem]
    waiting: dict[str, int]

    @property
    def planned_boxes(self) -> Sequence[BoxFacts]:
        """Those with a place in the plan."""
        return self.boxes[: self.planned]

    @property
    def of_step(self) -> dict[str, Minutes]:
        """Minutes of each box by step."""
        return by_step(self.boxes, self.minutes)

    @property
    def hours(self) -> list[WorkedHours]:
        """Hours by person and step."""
        keys = [box.key for box in self.boxes]
        found = hours_by_person(keys, self.of_step, self.people)
        return [WorkedHours(person, step, hours) for (person, step), hours in found.items()]


@in_language("en")  # a budget keeps what it says in English
def budget_figures(campaign: Campaign) -> BudgetFigures:
    """Read them."""
    as_of, inputs, waiting = timezone.now(), inputs_of(campaign), waiting_counts(campaign)
    planned, measured = facts_of_campaign(campaign), boxes_to_measure(campaign)
    terms = terms_of(campaign)
    of_planned, of_measured = (minutes_of(campaign, terms, boxes) for boxes in (planned, measured))
    return BudgetFigures(
        as_of=as_of,
        inputs=inputs,
        terms=terms,
        boxes=[*planned, *measured],
        planned=len(planned),
        minutes=np.vstack([of_planned.planned, only_measuring(of_measured.planned)]),
        times=of_planned.times,
        people=people_of_steps(campaign),
        problems=waiting_problems(waiting) + _unplanned_problem(boxes_without_a_plan(campaign)),
        waiting=waiting,
    )


def only_measuring(minutes: Minutes) -> Minutes:
    """Minutes of boxes of which only the objects are measured: what else they take is not known yet."""
    only = np.zeros_like(minutes)
    only[:, COLUMN[Element.MEASURE]] = minutes[:, COLUMN[Element.MEASURE]]
    return only


def waiting_problems(waiting: dict[str, int]) -> list[Problem]:
    """What is missing of a budget because boxes wait. waiting: how many, by what they wait for."""
    return [
        Problem(
            say_count(
                "{count:,} box waits: {what}",
                "{count:,} boxes wait: {what}",
                number,
                what=str(Waits(problem).label).lower(),
            ),
            say("Only measuring them is in the budget, nothing else that they cost")
            if problem in TO_MEASURE
            else say("Nothing of what they cost is in the budget"),
            TO_DO[Waits(problem)],
            Target("waiting"),
        )
        for problem, number in waiting.items()
    ]


def _unplanned_problem(number: int) -> list[Problem]:
    if not number:
        return []
    return [
        Problem(
            say_count(
                "{count:,} object was added since the campaign was planned",
                "{count:,} objects were added since the campaign was planned",
                number,
            ),
            say("No box for them is in the budget"),
            say("Plan the campaign again"),
            Target("waiting"),
        )
    ]


def _boxes(number: int) -> str:
    return say_count("{count:,} box", "{count:,} boxes", number)
