"""The boxes of a campaign that need not be worked out again: nothing they rest on changed since the plan."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from itertools import groupby
from operator import attrgetter

from django.db.models import F

from housing.models import Blank, Campaign, CuttingPlan, Design, Housing
from housing.services.choosing import DesignChoice
from housing.services.nesting import board_blanks, faces_of, is_held
from objects.models import CatalogueObject

Status = Housing.Status
LOOKED_AT = (
    "classification", "materials", "height_mm", "width_mm", "depth_mm", "weight_g", "changed_at"
)  # fmt: skip


@dataclass(frozen=True)
class UnchangedBoxes:
    """Planned boxes as they stand, and their blanks of board.

    boxes: by key. begun: boxes further on whose design is as it was. new_reasons: why a box has its design,
    where the wording of that has changed, with the boxes.
    """

    boxes: frozenset[int] = frozenset()
    begun: frozenset[int] = frozenset()
    blanks: list[Blank] = field(default_factory=list)
    new_reasons: Mapping[str, list[int]] = field(default_factory=dict)


def unchanged_boxes(campaign: Campaign, choice: DesignChoice, plan: CuttingPlan) -> UnchangedBoxes:
    """Boxes whose objects, design and board are as they were when planned and whose blanks fit a sheet."""
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
    begun = Housing.objects.filter(campaign=campaign, design__changed_at__lte=plan.made_at)
    new_reasons: defaultdict[str, list[int]] = defaultdict(list)
    for housing in kept:
        stored_reason, reason = reasons[housing]
        if reason != stored_reason:
            new_reasons[reason].append(housing)
    return UnchangedBoxes(
        frozenset(kept),
        frozenset(begun.exclude(status__in=(Status.WAITING, Status.PLANNED)).values_list("pk", flat=True)),
        [blank for blanks in kept.values() for blank in blanks],
        new_reasons,
    )


def _reasons(campaign: Campaign, plan: CuttingPlan, choice: DesignChoice) -> dict[int, tuple[str, str]]:
    """The unchanged boxes, each with the stored reason for its design and the one it has now."""
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
        )
        .order_by("box", "housing_ties__position")
        .only(*LOOKED_AT)
    )
    reasons = {}
    for box, found in groupby(things, attrgetter("box")):
        contents = list(found)
        design, reason = choice.design_for(contents)
        if design is None or design.pk != contents[0].planned_design:
            continue
        if _last_change(design, contents) <= plan.made_at:
            reasons[box] = contents[0].planned_reason, reason
    return reasons


def _last_change(design: Design, contents: Iterable[CatalogueObject]):
    return max(design.changed_at, design.board.changed_at, *(thing.changed_at for thing in contents))
