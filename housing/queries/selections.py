"""What a choice within limits is made from: planned boxes and what each takes, boards, and people."""

from collections import defaultdict
from datetime import date, timedelta
from decimal import Decimal

from django.db.models import F, QuerySet, Sum

from boards.models import SheetSize
from boards.queries import sheet_sizes_in_stock
from housing.core.enclosures.form import BOARD
from housing.core.priority import HUNDREDTHS
from housing.core.selecting import BoardOffer, Candidate, Worker
from housing.core.steps import SKILL_OF_STEP
from housing.models import Blank, BoardPlan, Campaign, HousedObject, Housing, Selection, Task
from housing.queries.priority import scores_in
from housing.queries.sizes import MM2_PER_M2

DAYS_IN_A_WEEK = 7
MINUTES_PER_HOUR = 60
LEAST_WORTH = 0.01  # points; even the least urgent object is worth more than nothing


def selections_of(campaign: Campaign) -> QuerySet[Selection]:
    """The choices of a campaign."""
    return Selection.objects.filter(campaign=campaign).select_related("campaign")


def candidates_of(campaign: Campaign) -> tuple[list[Candidate], dict[str, list[int]]]:
    """Planned boxes that are not begun, and the objects in each by its key.

    Money is what a box costs besides board; a box is worth the score of its objects together.
    """
    boxes = Housing.objects.filter(campaign=campaign, status=Housing.Status.PLANNED)
    scores, objects = scores_in(campaign), defaultdict(list)
    names: dict[str, str] = {}
    places: dict[str, str] = {}
    ties = HousedObject.objects.filter(housing__in=boxes).order_by("housing", "position")
    for housing, thing, number, name, place in ties.values_list(
        "housing", "object", "object__number", "object__name", "object__location__path"
    ):
        key = str(housing)
        objects[key].append(thing)
        names.setdefault(key, f"{number} {name}")
        places.setdefault(key, place or "")
    areas = _areas(boxes)
    minutes = _minutes(boxes)
    rows = boxes.order_by("pk").values_list(
        "pk", "design__board", "glue_cost", "padding_cost", "labour_cost", "other_cost"
    )
    return [
        Candidate(
            key=str(pk),
            name=names.get(str(pk), f"Box {pk}"),
            worth=max(sum(scores.get(thing, 0) for thing in objects[str(pk)]) / HUNDREDTHS, LEAST_WORTH),
            money=float(sum(costs, Decimal())),
            board=str(board) if areas.get(pk) else "",
            board_m2=areas.get(pk, 0.0),
            minutes=minutes[pk],
            location=places.get(str(pk), ""),
        )
        for pk, board, *costs in rows
    ], dict(objects)


def _areas(boxes: QuerySet[Housing]) -> dict[int, float]:
    """Area of the blanks of board of each box, m2."""
    rows = Blank.objects.filter(housing__in=boxes, material=BOARD).order_by()
    return {
        housing: float(area) / float(MM2_PER_M2)
        for housing, area in rows.values_list("housing").annotate(area=Sum(F("x_mm") * F("y_mm")))
    }


def _minutes(boxes: QuerySet[Housing]) -> defaultdict[int, dict[str, float]]:
    """Minutes still to be worked on each box by skill."""
    minutes: defaultdict[int, dict[str, float]] = defaultdict(dict)
    rows = Task.objects.filter(housing__in=boxes).exclude(state=Task.State.DONE).order_by()
    for housing, step, planned in rows.values_list("housing", "step").annotate(Sum("planned_minutes")):
        skill = SKILL_OF_STEP[step]
        minutes[housing][skill] = minutes[housing].get(skill, 0.0) + float(planned)
    return minutes


def offers_of(campaign: Campaign) -> list[BoardOffer]:
    """Every board that planned boxes take, in the packs of its sheet that is cheapest by area.

    What can be used of a sheet is the share that the campaign's own cutting plan uses: an approximation,
    since fewer boxes may nest a little better or worse.
    """
    planned = Housing.objects.filter(campaign=campaign, status=Housing.Status.PLANNED).order_by()
    boards = set(planned.values_list("design__board", flat=True))
    share = dict(BoardPlan.objects.filter(plan__campaign=campaign).values_list("board", "used_share"))
    sizes: defaultdict[int, list[SheetSize]] = defaultdict(list)
    for size in sheet_sizes_in_stock().filter(board__in=boards):
        sizes[size.board_id].append(size)
    offers = []
    for board in sorted(boards):
        used = share.get(board) or 1.0
        usable = {size.pk: float(size.along_mm * size.across_mm / MM2_PER_M2) * used for size in sizes[board]}
        on_offer = [size for size in sizes[board] if size.is_offered] or sizes[board]
        if not on_offer:
            continue
        best = min(on_offer, key=lambda size: float(size.price) / usable[size.pk])
        offers.append(
            BoardOffer(
                str(board),
                usable[best.pk] * best.pack,
                float(best.price * best.pack),
                sum(usable[size.pk] * size.in_stock for size in sizes[board]),
            )
        )
    return offers


def workers_until(campaign: Campaign, ends_on: date, today: date) -> list[Worker]:
    """The people of a campaign with the minutes they have from its start, or today, up to a date."""
    start = max(campaign.starts_on or today, today)
    days = max((ends_on - start + timedelta(days=1)).days, 0)
    return [
        Worker(
            str(person.pk),
            person.name,
            float(person.hours_per_week) * MINUTES_PER_HOUR * days / DAYS_IN_A_WEEK,
            person.skill_set,
        )
        for person in campaign.people.filter(is_active=True)
    ]
