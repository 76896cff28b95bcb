"""What was done since a day, and how much of the work, board and money of running campaigns is used."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from django.db.models import Count, Q, QuerySet, Sum
from django.utils import timezone

from housing.models import Budget, Campaign, Hold, Housing, HousingEvent, PlannedSheet, Task
from objects.models import CatalogueObject

State = Task.State


@dataclass(frozen=True)
class Done:
    """Since a day: sheets cut, objects whose boxes were made and housed, hours, and hours by person."""

    since: date
    sheets: int
    made: int
    housed: int
    tasks: int
    hours: Decimal
    by_person: Sequence[tuple[int | None, str, int, Decimal]]

    @property
    def is_any(self) -> bool:
        return bool(self.sheets or self.made or self.housed or self.tasks)


def start_of(day: date) -> datetime:
    """The first moment of a day, here."""
    return timezone.make_aware(datetime.combine(day, datetime.min.time()))


def done_since(day: date) -> Done:
    """What was done since a day, that day among it."""
    start = start_of(day)
    tasks = Task.objects.filter(state=State.DONE, done_at__gte=start).exclude(
        housing__status=Housing.Status.DROPPED
    )
    people = [
        (person, name or "Nobody named", number, (spent or Decimal()) / 60)
        for person, name, number, spent in tasks.order_by("person__name")
        .values_list("person", "person__name")
        .annotate(Count("pk"), Sum("spent_minutes"))
    ]
    return Done(
        day,
        PlannedSheet.objects.filter(cut_at__gte=start).count(),
        objects_that_reached(Housing.Status.MADE, day).count(),
        objects_that_reached(Housing.Status.HOUSED, day).count(),
        sum(number for _, _, number, _ in people),
        sum((hours for *_, hours in people), Decimal()),
        people,
    )


def objects_that_reached(status: str, day: date | None = None) -> QuerySet[CatalogueObject]:
    """Objects whose box in hand got to a status since a day, or ever, and was not taken back from there."""
    events = HousingEvent.objects.filter(status=status)
    reached = (events.filter(at__gte=start_of(day)) if day else events).values("housing")
    further = [Housing.Status.MADE, Housing.Status.HOUSED]
    still = further[further.index(Housing.Status(status)) :]
    return CatalogueObject.objects.filter(
        housing_ties__is_live=True,
        housing_ties__housing__in=reached,
        housing_ties__housing__status__in=still,
    )


@dataclass(frozen=True)
class Used:
    """A running campaign: its budget, board cut of what is planned, hours worked of all, boxes on shelves."""

    campaign: Campaign
    budget: Budget | None
    board_used: Decimal
    board: Decimal
    sheets_cut: int
    sheets: int
    hours_done: Decimal
    hours_of_done: Decimal
    hours: Decimal
    housed: int
    boxes: int

    @property
    def board_percent(self) -> int:
        return round(self.board_used / self.board * 100) if self.board else 0

    @property
    def hours_percent(self) -> int:
        return round(self.hours_of_done / self.hours * 100) if self.hours else 0


def used_of_running() -> list[Used]:
    """Running campaigns with a plan; the number of questions does not grow with them."""
    campaigns = list(Campaign.objects.filter(is_closed=False, plan__isnull=False))
    budgets = {one.campaign_id: one for one in Budget.objects.filter(campaign__in=campaigns, frozen_at=None)}
    cut = Q(cut_at__isnull=False)
    sheets = {
        row.pop("plan__campaign"): row
        for row in PlannedSheet.objects.filter(plan__campaign__in=campaigns)
        .order_by()
        .values("plan__campaign")
        .annotate(
            board_used=Sum("price", filter=cut, default=Decimal()),
            board=Sum("price", default=Decimal()),
            sheets_cut=Count("pk", filter=cut),
            sheets=Count("pk"),
        )
    }
    done = Q(state=State.DONE)
    work = {
        row["housing__campaign"]: row
        for row in Task.objects.filter(housing__campaign__in=campaigns)
        .exclude(housing__status=Housing.Status.DROPPED)
        .order_by()
        .values("housing__campaign")
        .annotate(
            spent=Sum("spent_minutes", filter=done, default=Decimal()),
            of_done=Sum("planned_minutes", filter=done, default=Decimal()),
            planned=Sum("planned_minutes", default=Decimal()),
        )
    }
    boxes = {
        row["campaign"]: row
        for row in Housing.objects.filter(campaign__in=campaigns)
        .exclude(status=Housing.Status.DROPPED)
        .order_by()
        .values("campaign")
        .annotate(boxes=Count("pk"), housed=Count("pk", filter=Q(status=Housing.Status.HOUSED)))
    }
    nothing = dict.fromkeys(("board_used", "board", "sheets_cut", "sheets"), Decimal())
    return [
        Used(
            campaign,
            budgets.get(campaign.pk),
            **sheets.get(campaign.pk, nothing),
            hours_done=work.get(campaign.pk, {}).get("spent", Decimal()) / 60,
            hours_of_done=work.get(campaign.pk, {}).get("of_done", Decimal()) / 60,
            hours=work.get(campaign.pk, {}).get("planned", Decimal()) / 60,
            housed=boxes.get(campaign.pk, {}).get("housed", 0),
            boxes=boxes.get(campaign.pk, {}).get("boxes", 0),
        )
        for campaign in campaigns
    ]


def open_questions() -> list[tuple[str, str, int]]:
    """Open questions by what they wait for: (reason, its label, how many)."""
    rows = Hold.objects.filter(answered_at=None).order_by().values_list("reason").annotate(number=Count("pk"))
    return [(reason, Hold.Reason(reason).label, number) for reason, number in rows.order_by("-number")]


def work_of_nobody() -> int:
    """Open tasks of running campaigns that nobody has."""
    open_tasks = Task.objects.filter(person=None, housing__campaign__is_closed=False)
    return open_tasks.exclude(state=State.DONE).exclude(housing__status=Housing.Status.DROPPED).count()
