"""When goods are ordered: so long before they are first needed as their supplier takes to send them."""

from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass
from datetime import date, timedelta
from typing import Any

from housing.core.budget.lines import Problem, Target
from objects.core.words import noted


@dataclass(frozen=True)
class OrderDay:
    """When goods of one supplier ("" for nobody named) are ordered.

    needed_on: the day on which the first of them is needed. lead_days: None where not known, which counts as
    none. late_days: how many days after needed_on they come, since an order cannot go out before today.
    """

    supplier: str
    name: str
    needed_on: date
    order_on: date
    lead_days: int | None = None
    late_days: int = 0

    def to_json(self) -> dict[str, Any]:
        return asdict(self) | {
            "needed_on": self.needed_on.isoformat(),
            "order_on": self.order_on.isoformat(),
        }


def order_day(supplier: str, name: str, needed_on: date, lead_days: int | None, today: date) -> OrderDay:
    """When to order what is needed on a day. lead_days: days from order to delivery, None if not known.

    Source: subtraction of days; that all goods of a supplier come with one order is how freight is reckoned.
    """
    wanted = needed_on - timedelta(days=lead_days or 0)
    order_on = max(wanted, today)
    return OrderDay(supplier, name, needed_on, order_on, lead_days, (order_on - wanted).days)


def order_problems(orders: Sequence[OrderDay]) -> Iterator[Problem]:
    """What keeps goods from being there in time, or from being dated well."""
    for order in orders:
        who = order.name or noted("nobody named")
        if order.late_days and order.lead_days:
            yield Problem(
                noted("Ordered today, goods of {who} come {days} too late").format(
                    who=who, days=_days(order.late_days)
                ),
                noted("Work that needs them is planned for {day}").format(day=f"{order.needed_on:%-d %B %Y}"),
                noted("Order at once, and begin later or with other boxes"),
                Target("purchases"),
                makes_incomplete=False,
            )
        if order.supplier and order.lead_days is None:
            yield Problem(
                noted("How many days goods of {who} take to come is not entered").format(who=who),
                noted("The months have them ordered on the day they are needed"),
                noted("Enter the days"),
                Target("supplier", order.supplier),
                makes_incomplete=False,
            )


def _days(number: int) -> str:
    return noted("1 day") if number == 1 else noted("{number:,} days").format(number=number)
