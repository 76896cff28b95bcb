"""What a batch of boxes needs before work on it begins: sheets, supplies, hours and days."""

from collections import Counter
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from django.db.models import Max, Min, Sum

from housing.core.weeks import DAYS_A_WEEK, first_day
from housing.models import Campaign, Housing, Person, PlannedSheet, Task


@dataclass(frozen=True)
class Batch:
    """Boxes that are made together. sheets: those they are cut from, in the order of the plan; of_box: their
    positions by box. supplies: what else is fetched, and how much of it. minutes: planned, of what is not
    done yet. due: the last day of the last week that a step is planned for, None where nothing counts weeks.
    """

    boxes: Sequence[Housing]
    sheets: Sequence[PlannedSheet]
    of_box: dict[int, list[int]]
    supplies: Sequence[tuple[str, float]]
    minutes: Decimal
    due: date | None


def batch_of(
    boxes: Sequence[Housing],
    *,
    campaign: Campaign | None = None,
    person: Person | None = None,
    week: int | None = None,
) -> Batch:
    """The batch of some boxes; hours and days are those of a person, or of a week, where one is given."""
    keys = [box.pk for box in boxes]
    tasks = Task.objects.filter(housing__in=keys).exclude(state=Task.State.DONE)
    if person:
        tasks = tasks.filter(person=person)
    if week:
        tasks = tasks.filter(week=week)
    told = tasks.aggregate(minutes=Sum("planned_minutes"), last=Max("week"), first=Min("week"))
    of_box, sheets = _sheets(keys)
    supplies: Counter[str] = Counter()
    for box in boxes:
        for what, number in box.supplies:
            supplies[what] += number
    return Batch(
        boxes,
        sheets,
        of_box,
        sorted(supplies.items()),
        told["minutes"] or Decimal(),
        _due(campaign, told["last"]),
    )


def _due(campaign: Campaign | None, week: int | None) -> date | None:
    """The Sunday of a week of the campaign."""
    if campaign is None or campaign.work_from is None or week is None:
        return None
    return first_day(campaign.work_from, week) + timedelta(days=DAYS_A_WEEK - 1)


def _sheets(boxes: Collection[int]) -> tuple[dict[int, list[int]], list[PlannedSheet]]:
    """Positions of the sheets that each box is cut from, and the sheets."""
    sheets = (
        PlannedSheet.objects.filter(placements__blank__housing__in=boxes)
        .select_related("board", "offcut", "plan")
        .defer("cuts", "offcuts")
        .order_by("plan", "position")
        .distinct()
    )
    found = list(sheets)
    of_box: dict[int, list[int]] = {}
    rows = PlannedSheet.objects.filter(placements__blank__housing__in=boxes).order_by("plan", "position")
    for box, position in rows.values_list("placements__blank__housing", "position").distinct():
        of_box.setdefault(box, []).append(position)
    return of_box, found
