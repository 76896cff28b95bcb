"""All that the report of a period tells; page, PDF and workbook show these figures and reckon none."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from django.db.models import Count, Q
from django.utils import timezone

from housing.core.budget.tracking import Tracking
from housing.core.drawing.burnup_chart import BurnUp
from housing.models import Budget, Campaign, Hold, Housing
from housing.queries.budgets import baselines, live_budget
from housing.queries.forecast import Finish, burn_up, finish_of
from housing.queries.misfits import CauseRow, checks_of, misfits_of
from housing.queries.periods import Period
from housing.queries.report_counts import Counts, counts_of
from housing.queries.report_goods import Goods, goods_of
from housing.queries.report_photos import PhotoPairs, photos_of
from housing.queries.report_work import Work, work_of
from housing.queries.stock_needs import sheets_waiting_for_board
from housing.queries.tracking import progress_against
from objects.core.words import say


@dataclass(frozen=True)
class BudgetRow:
    """The budget of a campaign that was frozen last, or the live one. money: without the contingency.

    tracking: what is spent and to come beside it, as of today; None beside a live one, or where it cannot
    be compared.
    """

    campaign: str
    name: str
    frozen_at: datetime | None
    currency: str
    money: Decimal
    contingency: Decimal
    tracking: Tracking | None = None

    @property
    def words(self) -> str:
        return (
            say("Frozen as “{self_name}”", self_name=self.name) if self.frozen_at else say("Live, not frozen")
        )


@dataclass(frozen=True)
class TriedBoxes:
    """How boxes fitted. tried, wrong: boxes; causes: what went wrong and what it cost."""

    tried: int
    wrong: int
    causes: tuple[CauseRow, ...]

    @property
    def adjusted(self) -> int:
        return sum(row.adjusted for row in self.causes)

    @property
    def remade(self) -> int:
        return sum(row.remade for row in self.causes)


@dataclass(frozen=True)
class Blocks:
    """What holds boxes up: (what, how many). open_questions: at the end of the period; the rest: today."""

    waiting: tuple[tuple[str, int], ...]
    questions: tuple[tuple[str, int], ...]
    sheets: tuple[tuple[str, int], ...]

    @property
    def is_any(self) -> bool:
        return bool(self.waiting or self.questions or self.sheets)


@dataclass(frozen=True)
class Report:
    """The report of a period. currency: of all money without one of its own, "" where there are several."""

    period: Period
    campaign: Campaign | None
    today: date
    shows_costs: bool
    currency: str
    counts: Counts
    work: Work
    goods: Goods
    budgets: tuple[BudgetRow, ...]
    tried: TriedBoxes
    blocks: Blocks
    photos: PhotoPairs
    finish: Finish | None = None
    burn_up: BurnUp | None = None

    @property
    def of(self) -> str:
        return str(self.campaign) if self.campaign else say("All campaigns")

    @property
    def title(self) -> str:
        return say("Report: {of}, {period}", of=self.of, period=self.period)

    @property
    def is_over(self) -> bool:
        """Whether the period ended before today, so that what is told of today is not of its end."""
        return self.period.last < self.today

    @property
    def is_ahead(self) -> bool:
        """Whether days of the period are still to come."""
        return self.period.last > self.today


def report_of(
    campaign: Campaign | None,
    first: date,
    last: date,
    *,
    shows_costs: bool = False,
    today: date | None = None,
) -> Report:
    """The report of a campaign, or of all, from a first to a last day, both in it.

    shows_costs: tell what people cost and what given hours are worth. The number of questions asked of the
    database does not grow with records.
    """
    period, today = Period(first, last), today or timezone.localdate()
    is_open = campaign is not None and not campaign.is_closed
    finish = finish_of(campaign, today) if campaign and is_open else None
    tried = misfits_of(checks_of(campaign, first, last))
    return Report(
        period=period,
        campaign=campaign,
        today=today,
        shows_costs=shows_costs,
        currency=_currency(campaign),
        counts=counts_of(period, campaign),
        work=work_of(period, campaign, shows_costs=shows_costs),
        goods=goods_of(period, campaign),
        budgets=_budgets(campaign, today),
        tried=TriedBoxes(tried.tried, tried.wrong, tuple(tried.causes)),
        blocks=_blocks(period, campaign),
        photos=photos_of(period, campaign),
        finish=finish,
        burn_up=burn_up(campaign, today, finish) if campaign and finish else None,
    )


def _currency(campaign: Campaign | None) -> str:
    """The campaign's currency, or the one that all campaigns have."""
    if campaign:
        return campaign.currency
    found = set(Campaign.objects.order_by().values_list("currency", flat=True))
    return found.pop() if len(found) == 1 else ""


def _budgets(campaign: Campaign | None, today: date) -> tuple[BudgetRow, ...]:
    """Of one campaign its budget with what is spent; of all, each running one's budget without."""
    if campaign is None:
        kept: dict[int, Budget] = {}
        stored = Budget.objects.filter(campaign__is_closed=False).select_related("campaign").defer("content")
        for one in stored.order_by("campaign__name", "frozen_at", "pk"):
            before = kept.get(one.campaign_id)
            if before is None or before.frozen_at is None or one.frozen_at is not None:
                kept[one.campaign_id] = one
        return tuple(_budget_row(one) for one in kept.values())
    if baseline := baselines(campaign).first():
        standing = progress_against(baseline, today)
        return (_budget_row(baseline, standing.tracking if standing else None),)
    live = live_budget(campaign)
    return (_budget_row(live),) if live else ()


def _budget_row(stored: Budget, tracking: Tracking | None = None) -> BudgetRow:
    return BudgetRow(
        campaign=str(stored.campaign),
        name=stored.name,
        frozen_at=stored.frozen_at,
        currency=stored.currency,
        money=stored.money,
        contingency=stored.contingency,
        tracking=tracking,
    )


def _blocks(period: Period, campaign: Campaign | None) -> Blocks:
    waiting = Housing.objects.filter(status=Housing.Status.WAITING).order_by()
    asked = Hold.objects.filter(asked_at__lt=period.end).order_by()
    asked = asked.filter(Q(answered_at__isnull=True) | Q(answered_at__gte=period.end))
    sheets = sheets_waiting_for_board()
    if campaign:
        waiting = waiting.filter(campaign=campaign)
        asked = asked.filter(housing__campaign=campaign)
        sheets = sheets.filter(plan__campaign=campaign)
    problems = waiting.values_list("problem").annotate(Count("pk"))
    reasons = asked.values_list("reason").annotate(Count("pk"))
    sizes: dict[str, int] = {}
    for sheet in sheets:
        if sheet.sheet_size:
            sizes[str(sheet.sheet_size)] = sizes.get(str(sheet.sheet_size), 0) + 1
    return Blocks(
        waiting=_most_first([(str(Housing.Problem(problem).label), number) for problem, number in problems]),
        questions=_most_first([(str(Hold.Reason(reason).label), number) for reason, number in reasons]),
        sheets=_most_first(list(sizes.items())),
    )


def _most_first(rows: Sequence[tuple[str, int]]) -> tuple[tuple[str, int], ...]:
    return tuple(sorted(rows, key=lambda row: (-row[1], row[0])))
