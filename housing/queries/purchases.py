"""What a campaign has to order from whom, as its stored budget has it."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from boards.models import Supplier
from housing.core.budget.lines import GOODS, BudgetLine, Section, total
from housing.models import Budget
from housing.queries.budgets import told_budget

NOBODY = "none"  # stands for goods of no supplier where the address of a page names one


@dataclass(frozen=True)
class SupplierOrder:
    """What is ordered from one supplier; key "" and no name for goods that nobody is named for.

    goods: lines of what is bought. freight: what having it sent costs, hundredths. lead_days: None where not
    known. note: how to order there.
    """

    key: str
    name: str
    goods: tuple[BudgetLine, ...]
    freight: tuple[BudgetLine, ...] = ()
    lead_days: int | None = None
    note: str = ""

    @property
    def slug(self) -> str:
        """How an address names it."""
        return self.key or NOBODY

    @property
    def goods_total(self) -> Decimal:
        return total(self.goods)

    @property
    def freight_total(self) -> Decimal:
        return total(self.freight)

    @property
    def total(self) -> Decimal:
        return self.goods_total + self.freight_total

    def comes_on(self, ordered_on: date) -> date | None:
        """When it is there if it is ordered on a day; None where the supplier's days are not known."""
        return None if self.lead_days is None else ordered_on + timedelta(days=self.lead_days)


def orders_of(stored: Budget, slug: str = "") -> list[SupplierOrder]:
    """The orders of a stored budget by name of supplier, goods of nobody last; slug: only that one's.

    Together they are the goods and the freight of the budget, to the cent.
    """
    lines: dict[str, list[BudgetLine]] = {}
    for line in told_budget(stored).lines:
        if line.section in GOODS:
            lines.setdefault(line.supplier, []).append(line)
    kept = {order["supplier"]: order for order in stored.content.get("orders", ())}
    known = {str(one.pk): one for one in Supplier.objects.filter(pk__in=[key for key in lines if key])}
    orders = [_order(key, of_one, kept.get(key, {}), known.get(key)) for key, of_one in lines.items()]
    ordered = sorted(orders, key=lambda order: (not order.name, order.name.casefold()))
    return [order for order in ordered if slug in ("", order.slug)]


def _order(
    key: str, lines: Sequence[BudgetLine], kept: dict[str, object], known: Supplier | None
) -> SupplierOrder:
    days = kept.get("lead_days")
    return SupplierOrder(
        key=key,
        name=str(kept.get("name") or known or ""),
        goods=tuple(line for line in lines if line.section is not Section.FREIGHT),
        freight=tuple(line for line in lines if line.section is Section.FREIGHT),
        lead_days=days if isinstance(days, int) else None,
        note=known.note if known else "",
    )
