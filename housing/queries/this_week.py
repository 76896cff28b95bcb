"""What was done since a day, and how much of the work, board and money of running campaigns is used."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from django.db.models import Count, Q, QuerySet, Sum
from django.utils import timezone

from housing.models import Budget, Campaign, CampaignObject, Hold, Housing, HousingEvent, PlannedSheet, Task
from objects.models import CatalogueObject

State = Task.State


@dataclass(frozen=True)
class Done:
    """Since a day: sheets cut, objects whose boxes were made and housed, hours, and hours by person.

    sheets: (campaign's key, its name, sheets cut of its plan) for each. by_person: (key, name, steps, hours).
    """

    since: date
    sheets: Sequence[tuple[int, str, int]]
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


def done_since(day: date, campaign: Campaign | None = None) -> Done:
    """What was done since a day, that day among it; of one campaign only where given."""
    start = start_of(day)
    tasks = Task.objects.filter(state=State.DONE, done_at__gte=start).exclude(
        housing__status=Housing.Status.DROPPED
    )
    sheets = PlannedSheet.objects.filter(cut_at__gte=start)
    made, housed = (
        objects_that_reached(status, day) for status in (Housing.Status.MADE, Housing.Status.HOUSED)
    )
    if campaign:
        tasks, sheets = tasks.filter(housing__campaign=campaign), sheets.filter(plan__campaign=campaign)
        made, housed = made.filter(campaigns=campaign), housed.filter(campaigns=campaign)
    people = [
        (person, name or "Nobody named", number, (spent or Decimal()) / 60)
        for person, name, number, spent in tasks.order_by("person__name")
        .values_list("person", "person__name")
        .annotate(Count("pk"), Sum("spent_minutes"))
    ]
    of_plans = sheets.order_by("plan__campaign__name").values_list("plan__campaign", "plan__campaign__name")
    return Done(
        day,
        list(of_plans.annotate(Count("pk"))),
        made.count(),
        housed.count(),
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
    """A campaign: its budget, board cut of what is planned, hours worked of all, objects on shelves.

    board_used, board: money, at the prices of the plan. hours_done: logged; hours_of_done: planned for the
    same steps; hours: planned for all. housed, objects: of those in the campaign.
    """

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
    objects: int

    @property
    def board_percent(self) -> int:
        return round(self.board_used / self.board * 100) if self.board else 0

    @property
    def hours_percent(self) -> int:
        return round(self.hours_of_done / self.hours * 100) if self.hours else 0


def used_of_running() -> list[Used]:
    """Running campaigns with a plan."""
    return used_of(list(Campaign.objects.filter(is_closed=False, plan__isnull=False)))


def used_of(campaigns: Sequence[Campaign]) -> list[Used]:
    """What campaigns have used; the number of queries does not grow with them."""
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
    objects, housed = _in_campaigns(campaigns)
    nothing = dict.fromkeys(("board_used", "board", "sheets_cut", "sheets"), Decimal())
    return [
        Used(
            campaign,
            budgets.get(campaign.pk),
            **sheets.get(campaign.pk, nothing),
            hours_done=work.get(campaign.pk, {}).get("spent", Decimal()) / 60,
            hours_of_done=work.get(campaign.pk, {}).get("of_done", Decimal()) / 60,
            hours=work.get(campaign.pk, {}).get("planned", Decimal()) / 60,
            housed=housed.get(campaign.pk, 0),
            objects=objects.get(campaign.pk, 0),
        )
        for campaign in campaigns
    ]


def _in_campaigns(campaigns: Sequence[Campaign]) -> tuple[dict[int, int], dict[int, int]]:
    """Objects by campaign: all, and those on their shelf in a box made for them."""
    members = CampaignObject.objects.filter(campaign__in=campaigns).order_by()
    housed = members.filter(
        object__housing_ties__is_live=True, object__housing_ties__housing__status=Housing.Status.HOUSED
    )
    all_of, housed_of = (
        dict(some.values_list("campaign").annotate(Count("pk"))) for some in (members, housed)
    )
    return all_of, housed_of


def open_questions(campaign: Campaign | None = None) -> int:
    """Questions that nobody has answered yet."""
    holds = Hold.objects.filter(answered_at=None)
    return (holds.filter(housing__campaign=campaign) if campaign else holds).count()
