"""Campaigns as their pages show them: who waits for what, how far it is."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field

from django.db.models import Count, Max, OuterRef, Q, QuerySet, Subquery, Sum
from django.db.models.functions import Coalesce, TruncWeek

from housing.models import (
    Campaign,
    CampaignObject,
    HousedObject,
    Housing,
    HousingEvent,
    Job,
    PlannedSheet,
    Task,
)
from housing.queries.objects import objects_with_status

LAST = 10**6  # after every batch: of an object that is in none of the campaign
SHOWN_EACH = 10  # housings shown for each problem; the object list shows them all


def campaigns_with_counts() -> QuerySet[Campaign]:
    """Campaigns with how many objects are in them, how many of those are housed, and their plan.

    Counted for the campaigns shown only, and not at all where campaigns alone are counted.
    """
    objects = CampaignObject.objects.filter(campaign=OuterRef("pk")).order_by()
    housed = objects.filter(
        object__housing_ties__is_live=True, object__housing_ties__housing__status=Housing.Status.HOUSED
    )
    return Campaign.objects.select_related("plan").annotate(
        objects_count=_count(objects.values("campaign")),
        housed_count=_count(housed.values("campaign")),
    )


def _count(rows: QuerySet) -> Coalesce:
    """How many rows there are of a group; 0 for none."""
    return Coalesce(Subquery(rows.annotate(number=Count("pk")).values("number")), 0)


@dataclass
class WaitingGroup:
    """Housings that wait for the same reason: all counted, the first few shown."""

    problem: str
    label: str
    number: int = 0
    housings: list[Housing] = field(default_factory=list)


def waiting_groups(campaign: Campaign) -> list[WaitingGroup]:
    """Waiting housings counted apart by problem."""
    waiting = Housing.objects.filter(campaign=campaign, status=Housing.Status.WAITING)
    groups: dict[str, WaitingGroup] = {}
    for housing in waiting.prefetch_related("contents__object").order_by("problem", "pk"):
        group = groups.setdefault(
            housing.problem, WaitingGroup(housing.problem, housing.get_problem_display())
        )
        group.number += 1
        if group.number <= SHOWN_EACH:
            group.housings.append(housing)
    return list(groups.values())


def batch_counts(campaign: Campaign) -> list[dict]:
    """Objects and boxes of each batch, the first batch first; a box is due with the first of its objects."""
    due = dict(campaign.memberships.order_by().values_list("object", "batch"))
    boxes: dict[int, int] = {}
    ties = HousedObject.objects.filter(housing__campaign=campaign).exclude(
        housing__status=Housing.Status.DROPPED
    )
    for housing, thing in ties.order_by().values_list("housing", "object"):
        batch = due.get(thing, LAST)
        boxes[housing] = min(boxes.get(housing, LAST), batch)
    of_boxes = Counter(1 if batch == LAST else batch for batch in boxes.values())
    return [
        {"batch": batch, "objects": number, "boxes": of_boxes[batch]}
        for batch, number in sorted(Counter(due.values()).items())
    ]


def has_sheets_to_keep(campaign: Campaign) -> bool:
    """Whether the campaign has planned sheets that are not yet cut, so that planning again may leave them."""
    return PlannedSheet.objects.filter(plan__campaign=campaign, cut_at=None).exists()


def open_job(campaign: Campaign, kind: str) -> Job | None:
    """Work of a kind on this campaign that is waiting or running, if there is some."""
    return Job.objects.filter(
        kind=kind,
        state__in=[Job.State.WAITING, Job.State.RUNNING],
        parameters__campaign=campaign.pk,
    ).first()


def open_plan_job(campaign: Campaign) -> Job | None:
    """The planning of this campaign that is waiting or running, if there is one."""
    return open_job(campaign, Job.Kind.PLAN)


def open_tasks(campaign: Campaign) -> QuerySet[Task]:
    """Tasks of the campaign that are not done, without those of dropped housings."""
    return (
        Task.objects.filter(housing__campaign=campaign)
        .exclude(state=Task.State.DONE)
        .exclude(housing__status=Housing.Status.DROPPED)
    )


def counts_by_status(campaign: Campaign) -> Mapping[str, int]:
    """Objects of the campaign by how far they are."""
    objects = objects_with_status().filter(campaigns=campaign)
    return dict(objects.order_by().values_list("housing_status").annotate(Count("pk")))


def housed_by_week(campaign: Campaign) -> list[tuple]:
    """(Monday of a week, boxes that reached their shelf in it) of boxes still there, oldest first."""
    last = HousingEvent.objects.filter(housing=OuterRef("pk"), status=Housing.Status.HOUSED).order_by("-at")
    housed = Housing.objects.filter(campaign=campaign, status=Housing.Status.HOUSED)
    rows = (
        housed.annotate(week=TruncWeek(Subquery(last.values("at")[:1])))
        .order_by("week")
        .values_list("week")
        .annotate(Count("pk"))
    )
    return list(rows)


def work_by_step(campaign: Campaign) -> list[dict]:
    """Tasks of each step: how many there are, how many are done, and minutes planned against spent."""
    done = Q(state=Task.State.DONE)
    timed = done & Q(spent_minutes__isnull=False)
    names = dict(Task.Step.choices)
    rows = (
        Task.objects.filter(housing__campaign=campaign)
        .exclude(housing__status=Housing.Status.DROPPED)
        .order_by()
        .values("step")
        .annotate(
            first=Max("sequence"),
            number=Count("pk"),
            done=Count("pk", filter=done),
            timed=Count("pk", filter=timed),
            planned=Sum("planned_minutes", filter=timed, default=0),
            spent=Sum("spent_minutes", filter=timed, default=0),
        )
        .order_by("first")
    )
    return [{**row, "label": names[row["step"]]} for row in rows]
