"""What holds boxes up, counted in objects, each with the list of exactly these objects.

A box that waits for several things is counted under each of them; objects count that have no box in use yet.
"""

from dataclasses import dataclass
from functools import reduce
from operator import or_

from django.db.models import Count, Exists, OuterRef, Q, QuerySet
from django.utils.translation import gettext_lazy as _

from housing.models import Campaign, CampaignObject, Hold, HousedObject, Housing, PlannedBlank, Task
from housing.queries.stock_needs import sheets_waiting_for_board
from objects.models import CatalogueObject

Problem, Reason = Housing.Problem, Hold.Reason
BOARD, MEASUREMENT, CONSERVATOR, QUESTION = "board", "measurement", "conservator", "question"
REMAKE, NO_DESIGN, TOO_LARGE, NOBODY = "remake", "no_design", "too_large", "nobody"
# In the order that they are shown: what a person can do something about today comes first.
BLOCKS = {
    BOARD: _("Wait for board or supplies"),
    MEASUREMENT: _("Wait for a measurement"),
    CONSERVATOR: _("Wait for a conservator"),
    QUESTION: _("Wait for another answer"),
    REMAKE: _("To be made again"),
    NO_DESIGN: _("No design fits"),
    TOO_LARGE: _("Larger than every sheet"),
    NOBODY: _("Work that nobody has"),
}
PROBLEMS = {
    MEASUREMENT: (Problem.UNMEASURED, Problem.CHECK),
    REMAKE: (Problem.REMAKE,),
    NO_DESIGN: (Problem.NO_DESIGN, Problem.REFUSED),
    TOO_LARGE: (Problem.TOO_LARGE,),
}
REASONS = {
    BOARD: Reason.BOARD,
    MEASUREMENT: Reason.MEASUREMENT,
    CONSERVATOR: Reason.CONSERVATOR,
    QUESTION: Reason.OTHER,
}


@dataclass(frozen=True)
class Block:
    """What objects wait for, and how many do. key: one of BLOCKS, which narrows the object list to them."""

    key: str
    number: int

    @property
    def words(self) -> str:
        return BLOCKS[self.key]


def blocks(campaign: Campaign | None = None) -> list[Block]:
    """What holds up all objects, or those of a campaign; what holds up none is left out."""
    by_problem = dict(
        _ties(campaign)
        .filter(housing__status=Housing.Status.WAITING)
        .order_by()
        .values_list("housing__problem")
        .annotate(Count("pk"))
    )
    counted = []
    for key in BLOCKS:
        number = sum(by_problem.get(problem, 0) for problem in PROBLEMS.get(key, ()))
        if boxes := _boxes_besides(key):
            waiting = _ties(campaign).filter(_any_of(boxes))
            if key in PROBLEMS:
                waiting = waiting.exclude(
                    housing__status=Housing.Status.WAITING, housing__problem__in=PROBLEMS[key]
                )
            number += waiting.count()
        counted.append(Block(key, number))
    return [block for block in counted if block.number]


def objects_blocked(key: str) -> QuerySet[CatalogueObject]:
    """The objects that a block counts."""
    boxes = _boxes_besides(key)
    if key in PROBLEMS:
        waiting = Housing.objects.filter(status=Housing.Status.WAITING, problem__in=PROBLEMS[key])
        boxes.append(waiting.order_by().values("pk"))
    ties = _ties(None).filter(_any_of(boxes))
    return CatalogueObject.objects.filter(pk__in=ties.order_by().values("object"))


def _ties(campaign: Campaign | None) -> QuerySet[HousedObject]:
    ties = HousedObject.objects.filter(is_live=True)
    if campaign is None:
        return ties
    # Asked of each tie: joined, every object of the campaign would be tried with every box that waits.
    own = CampaignObject.objects.filter(campaign=campaign, object=OuterRef("object"))
    return ties.filter(Exists(own))


def _any_of(boxes: list[QuerySet]) -> Q:
    """That a box is among those that any of the questions names."""
    return reduce(or_, (Q(housing__in=some) for some in boxes))


def _boxes_besides(key: str) -> list[QuerySet]:
    """Questions for the keys of boxes that wait, besides those whose problem says so."""
    found: list[QuerySet] = []
    in_hand = Housing.objects.exclude(status__in=[Housing.Status.HOUSED, Housing.Status.DROPPED])
    if reason := REASONS.get(key):
        holds = Hold.objects.filter(reason=reason, answered_at=None, housing__in=in_hand)
        found.append(holds.order_by().values("housing"))
    if key == BOARD:
        sheets = sheets_waiting_for_board().order_by().values("pk")
        found.append(PlannedBlank.objects.filter(sheet__in=sheets).order_by().values("blank__housing"))
    if key == NOBODY:
        tasks = Task.objects.filter(person=None, housing__campaign__is_closed=False).exclude(state="done")
        found.append(tasks.exclude(housing__status=Housing.Status.DROPPED).order_by().values("housing"))
    return found


def open_questions(campaign: Campaign | None = None) -> int:
    """Questions that nobody has answered yet."""
    holds = Hold.objects.filter(answered_at=None)
    return (holds.filter(housing__campaign=campaign) if campaign else holds).count()
