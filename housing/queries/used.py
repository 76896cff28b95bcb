"""What running campaigns have used of board, hours and money, beside what was planned."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from django.db.models import Count, Q, Sum
from django.db.models.functions import Coalesce

from boards.core.money import to_cents
from housing.core.labour.rates import VOLUNTEER
from housing.models import Budget, Campaign, CampaignObject, Housing, Person, PlannedSheet, Task
from housing.queries.standards import rate_of

State = Task.State


@dataclass(frozen=True)
class Used:
    """A campaign: its budget, board cut of what is planned, hours worked of all, objects on shelves.

    board_used, board: money, at the prices of the plan. hours_done: logged; hours_of_done: planned for the
    same steps; hours: planned for all. paid: money for the work done, at what was logged, else at what was
    planned. housed, objects: of those in the campaign.
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
    paid: Decimal
    housed: int
    objects: int

    @property
    def money_used(self) -> Decimal:
        return self.board_used + self.paid

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
    work = _work_of(campaigns)
    objects, housed = _in_campaigns(campaigns)
    nothing = dict.fromkeys(("board_used", "board", "sheets_cut", "sheets"), Decimal())
    return [
        Used(
            campaign,
            budgets.get(campaign.pk),
            **sheets.get(campaign.pk, nothing),
            **work.get(campaign.pk, _Work()).hours,
            paid=to_cents(work.get(campaign.pk, _Work()).paid),
            housed=housed.get(campaign.pk, 0),
            objects=objects.get(campaign.pk, 0),
        )
        for campaign in campaigns
    ]


@dataclass
class _Work:
    """Minutes of a campaign's steps, and money for those done."""

    logged: Decimal = Decimal()
    of_done: Decimal = Decimal()
    planned: Decimal = Decimal()
    paid: Decimal = Decimal()

    @property
    def hours(self) -> dict[str, Decimal]:
        return {
            "hours_done": self.logged / 60,
            "hours_of_done": self.of_done / 60,
            "hours": self.planned / 60,
        }


def _work_of(campaigns: Sequence[Campaign]) -> dict[int, _Work]:
    """The steps of campaigns, counted by person, since each costs what the person does."""
    rates = {person.pk: rate_of(person) for person in Person.objects.select_related("grade")}
    of_nobody = {campaign.pk: campaign.rate_per_hour for campaign in campaigns}
    done = Q(state=State.DONE)
    told = (
        Task.objects.filter(housing__campaign__in=campaigns)
        .exclude(housing__status=Housing.Status.DROPPED)
        .order_by()
        .values_list("housing__campaign", "person")
        .annotate(
            logged=Sum("spent_minutes", filter=done, default=Decimal()),
            of_done=Sum("planned_minutes", filter=done, default=Decimal()),
            planned=Sum("planned_minutes", default=Decimal()),
            took=Sum(Coalesce("spent_minutes", "planned_minutes"), filter=done, default=Decimal()),
        )
    )
    found: dict[int, _Work] = {}
    for campaign, person, logged, of_done, planned, took in told:
        work = found.setdefault(campaign, _Work())
        work.logged += logged
        work.of_done += of_done
        work.planned += planned
        rate = rates.get(person)
        if rate is None or rate.kind != VOLUNTEER:
            an_hour = rate.rate * (1 + rate.on_cost_share) if rate else of_nobody[campaign]
            work.paid += took / 60 * an_hour
    return found


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
