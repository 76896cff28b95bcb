"""What the running campaigns still need of sheets and supplies, by day, beside what is in stock.

Sheets are those of stored plans that are neither cut nor issued, in their weeks. Supplies are what the live
budget of a campaign has of them, in whole packs where they are still to be bought, shared over the steps that
use them up: what steps that are done took is no longer needed.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal

from django.db.models import CharField, Count, Exists, OuterRef, QuerySet, Value
from django.db.models.functions import Cast, Concat
from django.utils import timezone

from boards.models import RackEntry, SheetSize, StockMovement, Supplier, Supply
from boards.queries import sheet_sizes_in_stock
from housing.core.shortage import Shortage, order_by, shortage
from housing.core.steps import FIT, GLUE, LABEL
from housing.core.weeks import first_day
from housing.models import Budget, Campaign, Housing, PlannedSheet, Task
from housing.queries.budgets import read_budget
from housing.queries.sheets import REFERENCE

STEP_OF_KIND = {Supply.Kind.GLUE: GLUE, Supply.Kind.TAPE: GLUE, Supply.Kind.LABEL: LABEL}  # all others: FIT
BOUGHT, TAKEN = "supply:", "on_hand:supply:"


@dataclass(frozen=True)
class NeededOn:
    """Units that a campaign needs from a day on."""

    day: date
    units: Decimal
    campaign: Campaign


@dataclass(frozen=True)
class StockNeed:
    """A sheet size or a supply: what is there, what is needed by day, and what that comes to."""

    thing: SheetSize | Supply
    in_stock: Decimal
    today: date
    needs: tuple[NeededOn, ...] = field(default=())

    @property
    def is_sheet(self) -> bool:
        return isinstance(self.thing, SheetSize)

    @property
    def supplier(self) -> Supplier | None:
        return self.thing.supplier

    @property
    def needed(self) -> Decimal:
        return sum((need.units for need in self.needs), Decimal())

    @property
    def by_campaign(self) -> list[NeededOn]:
        """What each campaign needs in all, from its first day on."""
        found: dict[int, NeededOn] = {}
        for need in self.needs:
            before = found.get(need.campaign.pk, need)
            units = need.units if before is need else before.units + need.units
            found[need.campaign.pk] = NeededOn(min(before.day, need.day), units, need.campaign)
        return list(found.values())

    @property
    def shortage(self) -> Shortage:
        return shortage(((need.day, need.units) for need in self.needs), self.in_stock)

    @property
    def order_by(self) -> date | None:
        """The last day to order what is missing; None where the supplier's days are not known."""
        return order_by(self.shortage.since, self.supplier.lead_days if self.supplier else None)

    @property
    def is_late(self) -> bool:
        """Whether what is ordered today comes after it is needed."""
        return self.order_by is not None and self.order_by < self.today

    @property
    def is_low(self) -> bool:
        """Whether no more is there than the level at which to order again."""
        level = self.thing.reorder_level
        return level is not None and self.in_stock <= level

    @property
    def is_short(self) -> bool:
        return self.shortage.missing > 0


def stock_needs(today: date | None = None) -> list[StockNeed]:
    """Every sheet size and supply that is needed, or that is at its reorder level; sheets first."""
    today = today or timezone.localdate()
    sheets, supplies = _sheets_needed(today), _supplies_needed(today)
    found = [
        StockNeed(size, Decimal(size.in_stock), today, tuple(sheets.get(size.pk, ())))
        for size in sheet_sizes_in_stock()
    ]
    found += [
        StockNeed(supply, supply.on_hand, today, tuple(supplies.get(supply.pk, ())))
        for supply in Supply.objects.select_related("supplier")
    ]
    return [one for one in found if one.needs or one.is_low]


def boards_short(today: date | None = None) -> list[StockNeed]:
    """Sheet sizes of which the running campaigns need more than there is, the first to run out first."""
    today = today or timezone.localdate()
    needed = _sheets_needed(today)
    sizes = sheet_sizes_in_stock().filter(pk__in=needed)
    short = [StockNeed(size, Decimal(size.in_stock), today, tuple(needed[size.pk])) for size in sizes]
    return sorted((one for one in short if one.is_short), key=lambda one: (one.shortage.since, one.thing.pk))


def sheets_waiting_for_board() -> QuerySet[PlannedSheet]:
    """Sheets of running campaigns that cannot be cut now, since no sheet of their size is in stock."""
    gone = list(sheet_sizes_in_stock().filter(in_stock__lte=0).values_list("pk", flat=True))
    waiting = sheets_to_issue().filter(sheet_size__in=gone)
    return waiting.select_related("plan__campaign", "sheet_size__board").order_by("plan", "position")


def sheets_to_issue() -> QuerySet[PlannedSheet]:
    """Planned sheets of running campaigns that are neither cut nor issued."""
    reference = Concat(Value(REFERENCE), Cast(OuterRef("pk"), CharField()))
    out = StockMovement.objects.filter(kind="use", reversed_by=None, reference=reference)
    off = RackEntry.objects.filter(kind="taken", reversed_by=None, reference=reference)
    running = PlannedSheet.objects.filter(plan__campaign__is_closed=False, cut_at=None)
    return running.filter(~Exists(out), ~Exists(off))


def _sheets_needed(today: date) -> dict[int, list[NeededOn]]:
    counted = (
        sheets_to_issue()
        .exclude(sheet_size=None)
        .order_by()
        .values_list("sheet_size", "plan__campaign", "week")
        .annotate(Count("pk"))
    )
    campaigns = _running()
    found: dict[int, list[NeededOn]] = {}
    for size, key, week, number in sorted(counted):
        campaign = campaigns[key]
        need = NeededOn(_day(campaign, week, today), Decimal(number), campaign)
        found.setdefault(size, []).append(need)
    return found


def _supplies_needed(today: date) -> dict[int, list[NeededOn]]:
    campaigns, kinds = _running(), dict(Supply.objects.values_list("pk", "kind"))
    packs = dict(Supply.objects.values_list("pk", "pack"))
    work = _work_by_week()
    found: dict[int, list[NeededOn]] = {}
    for stored in Budget.objects.filter(campaign__in=campaigns, frozen_at=None).order_by("campaign"):
        campaign = campaigns[stored.campaign_id]
        for supply, units in _supplies_of(stored, packs).items():
            step = STEP_OF_KIND.get(Supply.Kind(kinds[supply]), FIT)
            shares = _shares(work.get((campaign.pk, step)))
            for week, share in shares:
                need = NeededOn(_day(campaign, week, today), round(units * share, 3), campaign)
                if need.units:
                    found.setdefault(supply, []).append(need)
    return found


def _supplies_of(stored: Budget, packs: Mapping[int, Decimal]) -> dict[int, Decimal]:
    """Units of each supply that all boxes of a campaign take, by its budget; of supplies still listed."""
    units: defaultdict[int, Decimal] = defaultdict(Decimal)
    for line in read_budget(stored).lines:
        for start, is_bought in ((BOUGHT, True), (TAKEN, False)):
            key = line.key.removeprefix(start)
            if line.key.startswith(start) and key.isdecimal() and int(key) in packs:
                units[int(key)] += line.quantity * (packs[int(key)] if is_bought else 1)
    return dict(units)


type Work = dict[int, list[int]]  # by week: tasks of a step that are open, and all of them


def _work_by_week() -> dict[tuple[int, str], Work]:
    tasks = (
        Task.objects.filter(housing__campaign__is_closed=False, step__in=(GLUE, FIT, LABEL))
        .exclude(housing__status=Housing.Status.DROPPED)
        .order_by()
        .values_list("housing__campaign", "step", "week", "state")
        .annotate(Count("pk"))
    )
    found: dict[tuple[int, str], Work] = {}
    for campaign, step, week, state, number in tasks:
        counts = found.setdefault((campaign, step), {}).setdefault(week, [0, 0])
        counts[1] += number
        if state != Task.State.DONE:
            counts[0] += number
    return found


def _shares(work: Work | None) -> Iterator[tuple[int, Decimal]]:
    """Week and the share of the whole that is still to be used up in it; all in week 1 without tasks."""
    if not work:
        yield 1, Decimal(1)
        return
    whole = sum(every for _, every in work.values())
    for week, (still, _) in sorted(work.items()):
        yield week, Decimal(still) / whole


def _running() -> dict[int, Campaign]:
    return {campaign.pk: campaign for campaign in Campaign.objects.filter(is_closed=False)}


def _day(campaign: Campaign, week: int, today: date) -> date:
    """The Monday of a week of the work, or the start of a campaign not given out yet; never past."""
    if campaign.work_from:
        return max(first_day(campaign.work_from, week), today)
    return max(campaign.starts_on or today, today)
