"""Minutes of the boxes of a campaign: by element for budgets, by step for tasks."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from housing.core.budget.facts import BoxFacts
from housing.core.labour.work import StandardTimes, WorkTerms, by_step, standard_minutes, work_minutes
from housing.models import BudgetTerms, Campaign
from housing.queries.logged import corrections_of
from housing.queries.standards import standard_times, work_terms

type Array = NDArray[np.float64]


@dataclass(frozen=True)
class CampaignMinutes:
    """Minutes of boxes, boxes × ELEMENTS. standard: by the standard times alone; planned: as budgeted."""

    boxes: Sequence[BoxFacts]
    times: StandardTimes
    terms: WorkTerms
    standard: Array
    planned: Array

    def steps(self) -> dict[str, dict[str, tuple[float, float]]]:
        """By key of a box and step: standard and planned minutes; steps of none are left out."""
        standard, planned = by_step(self.boxes, self.standard), by_step(self.boxes, self.planned)
        return {
            box.key: {
                step: (float(standard[step][place]), float(planned[step][place]))
                for step in planned
                if standard[step][place] > 0
            }
            for place, box in enumerate(self.boxes)
        }


def minutes_of(campaign: Campaign, terms: BudgetTerms, boxes: Sequence[BoxFacts]) -> CampaignMinutes:
    """The minutes of some boxes, stored or not, in the order in which they are made."""
    times, work = standard_times(), work_terms(campaign, terms, corrections_of(terms))
    return CampaignMinutes(
        boxes, times, work, standard_minutes(boxes, times, work), work_minutes(boxes, times, work)
    )
