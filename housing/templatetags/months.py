"""Months and phases of a budget: {% months_of stored as months %} is what pages and prints show of them."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Any

from django import template
from django.utils.safestring import SafeString, mark_safe

from housing.core.budget.lines import Problem, Target
from housing.core.budget.months import Calendar, Month
from housing.core.budget.ordering import OrderDay, order_problems
from housing.core.budget.phases import PhaseFigures
from housing.core.budget.telling import told_problem
from housing.core.drawing.month_chart import Column, Part, columns_svg
from housing.models import Budget
from housing.queries.phases import phases_in
from objects.core.words import noted, say

register = template.Library()

PARTS = (
    Part("month-goods", noted("Goods, when ordered"), "#cccccc"),
    Part("month-work", noted("Work"), "#5e5e5e"),
    Part("month-rest", noted("Indirect costs"), "#ffffff"),
)
NO_START = Problem(
    noted("The campaign has no start date"),
    noted("Nothing can be said of months"),
    noted("Enter the day it starts, then work the budget out again"),
    Target("campaign"),
    makes_incomplete=False,
)


@dataclass(frozen=True)
class ShownMonths:
    """Months as they are shown. all_: sums; orders: days of orders; problems: of months and phases."""

    rows: Sequence[Month]
    all_: Month
    chart: SafeString
    orders: Sequence[OrderDay]
    phases: Sequence[PhaseFigures]
    problems: Sequence[Problem]

    @property
    def has_in_kind(self) -> bool:
        return bool(self.all_.in_kind)

    @property
    def has_indirect(self) -> bool:
        return bool(self.all_.indirect)


@register.simple_tag
def months_of(stored: Budget) -> ShownMonths | None:
    """The months of a stored budget; None for one that was worked out before months were kept."""
    content = stored.content
    if "months" not in content:
        return None
    calendar, phases = Calendar.from_json(content["months"]), phases_in(stored)
    orders = [_order(order) for order in content["months"]["orders"]]
    starts = bool(content.get("starts_on"))
    return ShownMonths(
        rows=calendar.months,
        all_=_sum(calendar.months),
        chart=mark_safe(_chart(calendar, stored.currency)),  # noqa: S308  drawn by us, all words escaped
        orders=orders,
        phases=phases.phases,
        problems=[
            *map(told_problem, [*([] if starts else [NO_START]), *order_problems(orders)]),
            *phases.problems,
        ],
    )


def _order(kept: dict[str, Any]) -> OrderDay:
    days = {key: date.fromisoformat(kept[key]) for key in ("needed_on", "order_on")}
    return OrderDay(**kept | days)


def _sum(months: Sequence[Month]) -> Month:
    money: dict[Any, Decimal] = {}
    for month in months:
        for section, amount in month.money.items():
            money[section] = money.get(section, Decimal()) + amount
    return Month(None, money, sum((month.hours for month in months), Decimal()))


def _chart(calendar: Calendar, currency: str) -> str:
    """A column a month; empty where nothing is dated."""
    columns = [
        Column(f"{month.first:%b %Y}", tuple(map(float, (month.goods, month.work, month.indirect))))
        for month in calendar.months
        if month.first
    ]
    shown = [place for place in range(len(PARTS)) if any(column.amounts[place] for column in columns)]
    return columns_svg(
        say("What has to be paid in each month, {currency}", currency=currency),
        [replace(PARTS[place], words=say(PARTS[place].words)) for place in shown],
        [Column(column.label, tuple(column.amounts[place] for place in shown)) for column in columns],
        currency,
    ) if shown else ""  # fmt: skip
