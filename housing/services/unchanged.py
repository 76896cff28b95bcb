"""The boxes of a campaign that need not be worked out again: nothing they rest on changed since the plan."""

import json
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from itertools import groupby
from operator import attrgetter
from typing import Any

from django.db.models import F

from housing.models import Blank, Campaign, CuttingPlan, Design, Housing
from housing.models.housings import recipe_of
from housing.queries.choosing import LOOKED_AT
from housing.services.choosing import DesignChoice
from housing.services.nesting import board_blanks, faces_of, is_held
from objects.models import CatalogueObject

Status = Housing.Status
type Reason = tuple[str, dict[str, Any]]  # why a box has its design, and all that the rules advise


@dataclass(frozen=True)
class UnchangedBoxes:
    """Planned boxes as they stand, and their blanks of board.

    boxes: by key. new_reasons: why a box has its design and what the rules advise, as JSON, where the wording
    of that has changed, with the boxes.
    """

    boxes: frozenset[int] = frozenset()
    blanks: list[Blank] = field(default_factory=list)
    new_reasons: Mapping[tuple[str, str], list[int]] = field(default_factory=dict)


def unchanged_boxes(campaign: Campaign, choice: DesignChoice, plan: CuttingPlan) -> UnchangedBoxes:
    """Boxes whose objects, design, board, and advice on padding and allowances are as they were when planned
    and whose blanks fit a sheet."""
    reasons = _reasons(campaign, plan, choice)
    stored: defaultdict[int, list[Blank]] = defaultdict(list)
    faces, may_turn = faces_of(campaign), campaign.may_turn
    planned = Blank.objects.filter(housing__campaign=campaign, housing__status=Status.PLANNED)
    for blank in board_blanks(planned):
        if blank.housing_id in reasons:
            stored[blank.housing_id].append(blank)
    kept = {
        housing: blanks
        for housing, blanks in stored.items()
        if all(is_held(blank, faces[blank.board_id], may_turn) for blank in blanks)
    }
    new_reasons: defaultdict[tuple[str, str], list[int]] = defaultdict(list)
    for housing in kept:
        before, (reason, advice) = reasons[housing]
        if (reason, advice) != before:
            new_reasons[reason, json.dumps(advice)].append(housing)
    return UnchangedBoxes(
        frozenset(kept),
        [blank for blanks in kept.values() for blank in blanks],
        new_reasons,
    )


def _reasons(campaign: Campaign, plan: CuttingPlan, choice: DesignChoice) -> dict[int, tuple[Reason, Reason]]:
    """The unchanged boxes, each with the stored reason for its design and advice, and those it has now."""
    things = (
        CatalogueObject.objects.filter(
            memberships__campaign=campaign,
            housing_ties__is_live=True,
            housing_ties__housing__campaign=campaign,
            housing_ties__housing__status=Status.PLANNED,
        )
        .annotate(
            box=F("housing_ties__housing"),
            planned_design=F("housing_ties__housing__design"),
            planned_reason=F("housing_ties__housing__design_reason"),
            planned_advice=F("housing_ties__housing__advice"),
        )
        .order_by("box", "housing_ties__position")
        .only(*LOOKED_AT, "changed_at")
    )
    reasons = {}
    for box, found in groupby(things, attrgetter("box")):
        contents = list(found)
        chosen, planned = choice.choose(contents), contents[0]
        if chosen.design is None or chosen.design.pk != planned.planned_design:
            continue
        if recipe_of(chosen.advice) != recipe_of(planned.planned_advice):
            continue
        if _last_change(chosen.design, contents) <= plan.made_at:
            reasons[box] = (planned.planned_reason, planned.planned_advice), (chosen.reason, chosen.advice)
    return reasons


def _last_change(design: Design, contents: Iterable[CatalogueObject]):
    return max(design.changed_at, design.board.changed_at, *(thing.changed_at for thing in contents))
