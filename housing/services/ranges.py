"""How uncertain a campaign's budget is: its lines and the minutes of its boxes put to the simulation."""

from collections.abc import Mapping, Sequence

import numpy as np
from django.db import transaction
from numpy.typing import NDArray

from housing.core.budget.causes import (
    BOX,
    LEARNING,
    OF_LABOUR,
    OF_SECTION,
    Cause,
    element_cause,
    element_causes,
    with_ranges,
)
from housing.core.budget.lines import BudgetLine, Section
from housing.core.budget.simulation import CostLine, Simulation, SimulationInput, simulate
from housing.core.labour.elements import ELEMENTS, SHIPPED
from housing.core.labour.work import LEARNED, StandardTimes
from housing.core.steps import SAME_WORK_AS
from housing.models import BudgetTerms, Campaign

TRIALS = 10_000
SEED = 1  # so that the same campaign always has the same range
OF_PEOPLE = (Section.LABOUR, Section.SUPERVISION)

type Array = NDArray[np.float64]


def simulate_budget(
    *, terms: BudgetTerms, minutes: Array, times: StandardTimes, lines: Sequence[BudgetLine]
) -> Simulation:
    """The range of the money to be paid.

    minutes: boxes × ELEMENTS, as budgeted. An element costs what its step costs in the lines, shared out over
    all minutes of that step: given hours cost nothing.
    """
    paid = dict.fromkeys((one.step for one in SHIPPED.values()), 0.0)
    for line in lines:
        if line.section is Section.LABOUR:
            paid[SAME_WORK_AS.get(line.step, line.step)] += float(line.amount)
    supervision = sum(float(line.amount) for line in lines if line.section is Section.SUPERVISION)
    of_step = dict.fromkeys(paid, 0.0)
    for column, element in enumerate(ELEMENTS):
        of_step[SHIPPED[element].step] += float(minutes[:, column].sum())
    rates = np.array([_rate(paid[SHIPPED[e].step], of_step[SHIPPED[e].step]) for e in ELEMENTS])
    other = [
        CostLine(float(line.amount), OF_SECTION[line.section]) for line in lines if line.section in OF_SECTION
    ]
    # Labour of steps that no box has minutes of, and supervision, move with pace and pay.
    loose = supervision + sum(money for step, money in paid.items() if not of_step[step])
    indirect = sum(float(line.amount) for line in lines if line.section is Section.INDIRECT)
    direct = sum(float(line.amount) for line in lines if line.section in {*OF_SECTION, *OF_PEOPLE})
    return simulate(
        SimulationInput(
            minutes=minutes,
            cost_per_minute=rates,
            box_scatter=causes_of_terms(terms)[BOX].range,
            element_causes=element_causes(),
            labour_causes=OF_LABOUR,
            hour_causes=("pace",),
            lines=[*other, CostLine(loose, OF_LABOUR)] if loose else other,
            causes=causes_of_terms(terms) | element_ranges(times),
            indirect_share=indirect / direct if direct else 0.0,
            group_causes={} if terms.learning == BudgetTerms.Learning.NONE else {LEARNING: LEARNED},
        ),
        trials=TRIALS,
        seed=SEED,
    )


def causes_of_terms(terms: BudgetTerms) -> dict[str, Cause]:
    """The causes with the ranges of a campaign."""
    return with_ranges(
        {key: (float(low), float(likely), float(high)) for key, (low, likely, high) in terms.ranges.items()}
    )


def element_ranges(times: StandardTimes) -> Mapping[str, Cause]:
    """How far the standard times may be off, those that hold for every design."""
    points = [times.of(element) for element in ELEMENTS]
    causes = [element_cause(at, one.low, one.likely, one.high) for at, one in enumerate(points)]
    return {cause.key: cause for cause in causes}


def _rate(money: float, minutes: float) -> float:
    return money / minutes if minutes else 0.0


@transaction.atomic
def set_ranges(*, campaign: Campaign, ranges: Mapping[str, tuple[float, float, float]]) -> BudgetTerms:
    """Keep ranges as multiples by cause, those only that differ from what is shipped.

    Raises RangeRefused for figures out of order.
    """
    entered, shipped = with_ranges(ranges), with_ranges({})
    own = {
        key: [cause.range.low, cause.range.likely, cause.range.high]
        for key, cause in entered.items()
        if cause.range != shipped[key].range
    }
    terms, _ = BudgetTerms.objects.update_or_create(campaign=campaign, defaults={"ranges": own})
    return terms
