"""What a campaign has spent since a budget of it was frozen, what is still to come, and what work earned."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from decimal import Decimal

from django.utils import timezone

from boards.core.money import to_cents
from boards.models import StockMovement
from housing.core.budget.earned_value import EarnedValue, earned_of
from housing.core.budget.lines import APART, GOODS, Budget, BudgetLine, Section
from housing.core.budget.months import Calendar
from housing.core.budget.tracking import Tracking, track
from housing.core.labour.rates import SUPERVISED, VOLUNTEER, HourRate
from housing.models import Budget as StoredBudget
from housing.models import BudgetTerms, Campaign, Housing, Task
from housing.queries.budgets import live_budget, read_budget, terms_of
from housing.queries.standards import hour_rates

type Money = defaultdict[Section, Decimal]

HOUR, WORK = Decimal(60), (Section.LABOUR, Section.SUPERVISION)
SHEET, ON_HAND = "sheet:", "on_hand:"


@dataclass(frozen=True)
class Progress:
    """A campaign beside one of its baselines.

    work: its paid work in the terms of earned value, None where none was planned. done, tasks: steps done
    and all; unlogged: done without minutes, counted as planned. sheets: received since it was frozen.
    """

    baseline: StoredBudget
    live_made_at: datetime
    tracking: Tracking
    work: EarnedValue | None
    done: int
    tasks: int
    unlogged: int
    sheets: int


@dataclass
class _Work:
    """Money and planned minutes of the work done and of what is open; supervised: minutes of each."""

    spent: Money = field(default_factory=lambda: defaultdict(Decimal))
    to_come: Money = field(default_factory=lambda: defaultdict(Decimal))
    supervised: list[Decimal] = field(default_factory=lambda: [Decimal(), Decimal()])
    minutes_done: Decimal = Decimal()
    minutes: Decimal = Decimal()
    done: int = 0
    tasks: int = 0
    unlogged: int = 0


def progress_against(baseline: StoredBudget, today: date | None = None) -> Progress | None:
    """How a campaign stands against a baseline; None where it has no live budget in the same currency."""
    campaign, live = baseline.campaign, live_budget(baseline.campaign)
    if live is None or live.currency != baseline.currency:
        return None
    before, now, terms = read_budget(baseline), read_budget(live), terms_of(campaign)
    work = _work(campaign, terms)
    bought, sheets = _received(baseline, before, now)
    spent, to_come = work.spent, work.to_come
    for section in GOODS:
        spent[section] = bought[section]
        to_come[section] = sum((line.amount for line in now.of(section)), Decimal())
    for money in (spent, to_come):
        direct = sum((amount for section, amount in money.items() if section not in APART), Decimal())
        money[Section.INDIRECT] = to_cents(direct * terms.indirect_share)
    planned = before.section_totals()
    kept = [section for section in Section if section in planned or spent[section] or to_come[section]]
    return Progress(
        baseline=baseline,
        live_made_at=live.made_at,
        tracking=track(planned, {one: spent[one] for one in kept}, {one: to_come[one] for one in kept}),
        work=_earned(baseline, planned, work, today or timezone.localdate()),
        done=work.done,
        tasks=work.tasks,
        unlogged=work.unlogged,
        sheets=sheets,
    )


def _work(campaign: Campaign, terms: BudgetTerms) -> _Work:
    """Tasks done at what was logged, open ones at what is planned, each at the rate of whoever has it.

    Of boxes that were dropped only what was done counts.
    """
    rates = {rate.key: rate for rate in hour_rates(campaign)}
    work = _Work()
    tasks = Task.objects.filter(housing__campaign=campaign).order_by()
    rows: Iterable[tuple[int | None, str, Decimal, Decimal | None, str]] = tasks.values_list(
        "person", "state", "planned_minutes", "spent_minutes", "housing__status"
    )
    for person, state, planned, logged, status in rows:
        is_done = state == Task.State.DONE
        if status == Housing.Status.DROPPED and not is_done:
            continue
        took = logged if is_done and logged is not None else planned
        rate = rates[str(person or "")]
        _add(work.spent if is_done else work.to_come, rate, took)
        if rate.kind in SUPERVISED:
            work.supervised[not is_done] += took
        work.tasks += 1
        work.minutes += planned
        if is_done:
            work.done += 1
            work.minutes_done += planned
            work.unlogged += logged is None
    supervisor = rates[str(terms.supervisor_id or "")]
    for money, minutes in zip((work.spent, work.to_come), work.supervised, strict=True):
        hours = minutes * terms.supervision_share / HOUR
        money[Section.SUPERVISION] = hours * supervisor.rate * (1 + supervisor.on_cost_share)
        for section in (*WORK, Section.IN_KIND):
            money[section] = to_cents(money[section])
    return work


def _add(money: Money, rate: HourRate, minutes: Decimal) -> None:
    if rate.kind == VOLUNTEER:
        money[Section.IN_KIND] += minutes / HOUR * rate.in_kind_rate
    else:
        money[Section.LABOUR] += minutes / HOUR * rate.rate * (1 + rate.on_cost_share)


def _received(baseline: StoredBudget, before: Budget, now: Budget) -> tuple[Money, int]:
    """What has come since a baseline was frozen, by section, and how many sheets of board.

    Sheets: receipts in the ledger less those reversed, at the price of now, of the sizes that either budget
    takes. Other goods have no ledger: where more is on hand for the campaign than then, what was planned for
    them and is no longer to be paid. Freight: likewise, once anything came.
    """
    came: Money = defaultdict(Decimal)
    then, today = _by_key(before), _by_key(now)
    sizes = {int(key.rpartition(SHEET)[2]) for key in {*then, *today} if SHEET in key}
    moved = StockMovement.objects.filter(
        sheet_size__in=sizes, kind=StockMovement.Kind.RECEIPT, at__gt=baseline.frozen_at, reversed_by=None
    )
    sheets = 0
    for count, price in moved.values_list("quantity", "sheet_size__price"):
        came[Section.BOARD] += count * (price or Decimal())
        sheets += count
    for key, line in then.items():
        if line.section not in GOODS or key.startswith(SHEET):
            continue
        if _quantity(today, ON_HAND + key) > _quantity(then, ON_HAND + key):
            still = today[key].amount if key in today else Decimal()
            came[line.section] += max(line.amount - still, Decimal())
    if any(came.values()):
        totals = [sum((line.amount for line in one.of(Section.FREIGHT)), Decimal()) for one in (before, now)]
        came[Section.FREIGHT] = max(totals[0] - totals[1], Decimal())
    return came, sheets


def _by_key(budget: Budget) -> dict[str, BudgetLine]:
    return {line.key: line for line in budget.lines}


def _quantity(lines: Mapping[str, BudgetLine], key: str) -> Decimal:
    return lines[key].quantity if key in lines else Decimal()


def _earned(
    baseline: StoredBudget, planned: Mapping[Section, Decimal], work: _Work, today: date
) -> EarnedValue | None:
    budget = sum((planned.get(section, Decimal()) for section in WORK), Decimal())
    if not budget:
        return None
    return EarnedValue(
        budget=budget,
        earned=earned_of(budget, work.minutes_done, work.minutes),
        spent=sum((work.spent[section] for section in WORK), Decimal()),
        planned=_planned_by(baseline, today),
    )


def _planned_by(baseline: StoredBudget, today: date) -> Decimal | None:
    """Work planned to be done by a day, a month's spread evenly over its days; None where not dated."""
    kept = baseline.content.get("months")
    if not kept:
        return None
    months = Calendar.from_json(kept).months
    if any(month.first is None and month.of(*WORK) for month in months):
        return None
    total = Decimal()
    for month in months:
        if month.first is None or month.first > today:
            continue
        following = (month.first + timedelta(days=31)).replace(day=1)
        days = (following - month.first).days
        passed = min((today - month.first).days + 1, days)
        total += month.of(*WORK) * passed / days
    return to_cents(total)
