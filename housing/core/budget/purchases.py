"""What has to be bought: whole packs at the cheapest of their prices, less what is on hand, and freight."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date
from decimal import ROUND_CEILING, Decimal

from boards.core.money import to_cents
from housing.core.budget.lines import BudgetLine, Problem, Section, Target, total
from objects.core.words import noted

ONE = Decimal(1)
# Units that are words, with what more than one of them are; the others are signs.
COUNTED = {
    noted("sheet"): noted("sheets"),
    noted("stick"): noted("sticks"),
    noted("piece"): noted("pieces"),
    noted("pack"): noted("packs"),
}
PACK, PACKS = noted("pack of {amount}"), noted("packs of {amount}")


@dataclass(frozen=True)
class MaterialNeed:
    """Something a campaign takes. needed, on_hand: in units; pack: units in a pack; price: of a pack or None.

    spoilage_share: of what is needed, 0 to 1, bought on top. breaks: (from so many packs, price of a pack).
    whole_units: whether only whole units can be used, such as sheets. supplier: its key, "" for nobody.
    priced_on: the day from which the price holds. is_fallback: whether the price is a campaign's or design's
    own, with no supply behind it, so that it is reckoned by the unit.
    """

    key: str
    section: Section
    what: str
    unit: str
    needed: Decimal
    computed_from: str
    target: Target
    price: Decimal | None = None
    spoilage_share: Decimal = Decimal()
    on_hand: Decimal = Decimal()
    pack: Decimal = ONE
    breaks: tuple[tuple[int, Decimal], ...] = ()
    whole_units: bool = False
    supplier: str = ""
    priced_on: date | None = None
    is_withdrawn: bool = False
    is_fallback: bool = False

    @property
    def with_spoilage(self) -> Decimal:
        """Units with what is spoiled; whole ones where only these can be used."""
        units = self.needed * (1 + self.spoilage_share)
        return units.to_integral_value(ROUND_CEILING) if self.whole_units else units

    @property
    def lacking(self) -> Decimal:
        """Units that are not on hand."""
        return max(self.with_spoilage - self.on_hand, Decimal())


@dataclass(frozen=True)
class SupplierTerms:
    """What having goods sent costs: each order, a share of the goods, and from which worth it is free."""

    key: str
    name: str
    freight_each: Decimal = Decimal()
    freight_share: Decimal = Decimal()
    freight_free_from: Decimal | None = None
    lead_days: int | None = None

    def freight(self, goods: Decimal) -> Decimal:
        """Freight of one order. goods: their worth. Returns money in hundredths."""
        is_free = self.freight_free_from is not None and goods >= self.freight_free_from
        if not goods or is_free:
            return Decimal()
        return to_cents(self.freight_each + self.freight_share * goods)


@dataclass(frozen=True)
class Order:
    """What is ordered from one supplier ("" for goods that nobody is named for): keys of lines, money."""

    supplier: str
    name: str
    lines: tuple[str, ...]
    goods: Decimal
    freight: Decimal
    lead_days: int | None = None


@dataclass(frozen=True)
class Purchases:
    """Lines, what is wrong with them, and the orders they make."""

    lines: tuple[BudgetLine, ...] = ()
    problems: tuple[Problem, ...] = ()
    orders: tuple[Order, ...] = field(default=())


def cheapest_packs(
    least: int, price: Decimal, breaks: Sequence[tuple[int, Decimal]] = ()
) -> tuple[int, Decimal]:
    """How many packs to buy and at which price each, so that at least so many come for the least money.

    least: packs needed, 0 or more. price: of one. breaks: (from so many, price of one). More than needed is
    bought where a break makes that cheaper; of equal money the fewer packs.
    Source: the price of n packs falls only at a break, so only `least` and the breaks above it can be best.
    """
    if least <= 0:
        return 0, price
    counts = {least, *(count for count, _ in breaks if count > least)}
    return min(((n, _price_of(n, price, breaks)) for n in counts), key=lambda one: (one[0] * one[1], one[0]))


def _price_of(number: int, price: Decimal, breaks: Sequence[tuple[int, Decimal]]) -> Decimal:
    reached = [(count, each) for count, each in breaks if count <= number]
    return max(reached)[1] if reached else price


def buy(
    needs: Sequence[MaterialNeed],
    suppliers: Sequence[SupplierTerms],
    today: date,
) -> Purchases:
    """Lines of what is bought and of what is taken from stock, with freight, and all that is wrong.

    needs: keys all different. suppliers: of those named in needs. today: later prices do not hold yet.
    Raises ValueError for two needs with one key.
    Source: whole packs, price breaks and freight by hand in tests/housing/core/budget/test_purchases.py.
    """
    keys = [need.key for need in needs]
    if len(set(keys)) < len(keys):
        raise ValueError(f"Of {sorted(key for key in set(keys) if keys.count(key) > 1)} there are two needs.")
    known = {one.key: one for one in suppliers}
    lines: list[BudgetLine] = []
    problems: list[Problem] = []
    for need in needs:
        if need.needed > 0:
            lines += _lines(need)
            problems += _problems(need, today)
    bought: defaultdict[str, list[BudgetLine]] = defaultdict(list)
    for line in lines:
        if line.section is not Section.ON_HAND:
            bought[line.supplier].append(line)
    orders = [_order(key, of_supplier, known.get(key)) for key, of_supplier in sorted(bought.items())]
    lines += [_freight_line(order, known[order.supplier]) for order in orders if order.freight]
    return Purchases(tuple(lines), tuple(problems), tuple(orders))


def _lines(need: MaterialNeed) -> Iterator[BudgetLine]:
    each = (need.price or Decimal()) / need.pack
    if taken := min(need.on_hand, need.with_spoilage):
        yield BudgetLine(
            key=f"on_hand:{need.key}",
            section=Section.ON_HAND,
            what=need.what,
            quantity=_short(taken),
            unit=_plural(need.unit, taken),
            price=each.quantize(Decimal("0.0001")),
            computed_from=noted("{amount} on hand or cut already, of {told}").format(
                amount=_amount(taken, need.unit), told=need.computed_from
            ),
            target=need.target,
        )
    if not need.lacking:
        return
    if need.is_fallback:
        packs, price = _short(need.lacking), need.price or Decimal()
        unit = _plural(need.unit, packs)
    else:
        least = int((need.lacking / need.pack).to_integral_value(ROUND_CEILING))
        count, price = cheapest_packs(least, need.price or Decimal(), _per_pack(need))
        packs = Decimal(count)
        is_single = need.pack == 1
        unit = _plural(need.unit if is_single else "pack", packs)
        if not is_single:
            of = PACK if packs == 1 else PACKS
            unit = of.format(amount=_amount(need.pack, need.unit))
    yield BudgetLine(
        key=need.key,
        section=need.section,
        what=need.what,
        quantity=packs,
        unit=unit,
        price=price,
        computed_from=_how(need),
        target=need.target,
        supplier=need.supplier,
    )


def _per_pack(need: MaterialNeed) -> tuple[tuple[int, Decimal], ...]:
    return tuple(sorted(need.breaks)) if need.price else ()


def _how(need: MaterialNeed) -> str:
    told = need.computed_from
    if need.spoilage_share:
        share = _told(need.spoilage_share * 100)
        told = noted("{told}, {spoiled} % more for what is spoiled").format(told=told, spoiled=share)
    if taken := min(need.on_hand, need.with_spoilage):
        amount = _amount(taken, need.unit)
        told = noted("{told}, less {amount} on hand or cut already").format(told=told, amount=amount)
    if need.pack != 1 and not need.is_fallback:
        told = noted("{told}, in packs of {count}").format(told=told, count=_told(need.pack))
    return told


def _problems(need: MaterialNeed, today: date) -> Iterator[Problem]:
    amount = _amount(need.lacking, need.unit)
    if not need.lacking:
        return
    if need.is_withdrawn:
        yield Problem(
            noted("{name} is no longer sold").format(name=need.what),
            noted("{amount} that the boxes take cannot be bought at this price").format(amount=amount),
            noted("Choose another one, or enter a new offer, and plan again"),
            need.target,
        )
    if not need.price:
        yield Problem(
            (
                noted("{name} has no price") if need.price is None else noted("The price of {name} is 0")
            ).format(name=need.what),
            noted("{amount} count as nothing, so the sum is too low").format(amount=amount),
            noted("Enter its price"),
            need.target,
        )
    elif need.priced_on and need.priced_on > today:
        yield Problem(
            noted("The price of {name} holds only from {day}").format(
                name=need.what, day=f"{need.priced_on:%-d %B %Y}"
            ),
            noted("{amount} are reckoned at a price that may not be had today").format(amount=amount),
            noted("Enter the price of today, or buy after that day"),
            need.target,
            makes_incomplete=False,
        )
    if not need.supplier and not need.is_fallback:
        yield Problem(
            noted("No supplier is entered for {name}").format(name=need.what),
            noted("Freight of it is not in the sum, and it stands on nobody's order"),
            noted("Say who sells it"),
            need.target,
            makes_incomplete=False,
        )


def _order(key: str, lines: Sequence[BudgetLine], terms: SupplierTerms | None) -> Order:
    goods = total(lines)
    return Order(
        supplier=key,
        name=terms.name if terms else "",
        lines=tuple(line.key for line in lines),
        goods=goods,
        freight=terms.freight(goods) if terms else Decimal(),
        lead_days=terms.lead_days if terms else None,
    )


def _freight_line(order: Order, terms: SupplierTerms) -> BudgetLine:
    told = []
    if terms.freight_each:
        told.append(noted("{price} an order").format(price=terms.freight_each))
    if terms.freight_share:
        told.append(
            noted("{share} % of goods worth {worth:,}").format(
                share=_told(terms.freight_share * 100), worth=order.goods
            )
        )
    return BudgetLine(
        key=f"freight:{order.supplier}",
        section=Section.FREIGHT,
        what=noted("Freight of what {name} sends").format(name=order.name),
        quantity=ONE,
        unit=noted("order"),
        price=order.freight,
        computed_from=" and ".join(told),
        target=Target("supplier", order.supplier),
        supplier=order.supplier,
    )


def _short(quantity: Decimal) -> Decimal:
    """To thousandths of a unit, never less than nothing."""
    return quantity.quantize(Decimal("0.001")).normalize() + 0


def _told(quantity: Decimal) -> str:
    return f"{_short(quantity):,f}".rstrip("0").rstrip(".") if quantity % 1 else f"{quantity:,.0f}"


def _amount(quantity: Decimal, unit: str) -> str:
    return f"{_told(quantity)} {_plural(unit, quantity)}"


def _plural(unit: str, quantity: Decimal) -> str:
    return COUNTED[unit] if unit in COUNTED and quantity != 1 else unit
