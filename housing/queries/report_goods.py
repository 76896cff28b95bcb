"""Of a period: board and supplies that came, board that was used, and board that was spoiled."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal

from django.db.models import CharField, QuerySet, Value
from django.db.models.functions import Cast, Concat

from boards.core.money import to_cents
from boards.models import RackEntry, StockMovement, SupplyMovement
from boards.models.stock import Reason
from housing.models import Campaign, PlannedSheet
from housing.queries.periods import Period
from housing.queries.sheets import REFERENCE

Kind = StockMovement.Kind
NO_REASON = "No reason given"
MM2_PER_M2 = 1_000_000


@dataclass(frozen=True)
class ReceiptRow:
    """Goods that came. paid: in hundredths, as far as it was entered; untold: units whose price was not."""

    what: str
    unit: str
    quantity: Decimal
    paid: Decimal
    untold: Decimal


@dataclass(frozen=True)
class BoardRow:
    """Sheets of one size, used and spoiled. used_worth, spoiled_worth: at today's price, in hundredths."""

    board: str
    along_mm: Decimal
    across_mm: Decimal
    price: Decimal
    used: int = 0
    spoiled: int = 0

    @property
    def used_m2(self) -> Decimal:
        return self.along_mm * self.across_mm * self.used / MM2_PER_M2

    @property
    def used_worth(self) -> Decimal:
        return to_cents(self.price * self.used)

    @property
    def spoiled_worth(self) -> Decimal:
        return to_cents(self.price * self.spoiled)


@dataclass(frozen=True)
class ReasonRow:
    """Sheets written off for one reason, and what they were worth at today's price."""

    label: str
    sheets: int
    worth: Decimal


@dataclass(frozen=True)
class Goods:
    """Receipts are of the whole store, which knows no campaigns; use and loss of a campaign's own sheets."""

    receipts: tuple[ReceiptRow, ...]
    board: tuple[BoardRow, ...]
    reasons: tuple[ReasonRow, ...]
    offcuts_used: int
    offcuts_kept: int

    @property
    def paid(self) -> Decimal:
        return sum((row.paid for row in self.receipts), Decimal())

    @property
    def untold(self) -> int:
        """Goods of which a price is missing."""
        return sum(bool(row.untold) for row in self.receipts)

    @property
    def used(self) -> int:
        return sum(row.used for row in self.board)

    @property
    def spoiled(self) -> int:
        return sum(row.spoiled for row in self.board)

    @property
    def used_m2(self) -> Decimal:
        return sum((row.used_m2 for row in self.board), Decimal())

    @property
    def used_worth(self) -> Decimal:
        return sum((row.used_worth for row in self.board), Decimal())

    @property
    def spoiled_worth(self) -> Decimal:
        return sum((row.spoiled_worth for row in self.board), Decimal())


def goods_of(period: Period, campaign: Campaign | None = None) -> Goods:
    """What moved in a period, less what was reversed since; in five queries."""
    moved = StockMovement.objects.filter(period.of("at"), reversed_by=None).select_related(
        "sheet_size__board"
    )
    out = moved.filter(kind__in=(Kind.USE, Kind.WRITE_OFF))
    rack = RackEntry.objects.filter(period.of("at"), reversed_by=None)
    if campaign:
        sheets = _references(campaign)
        out, rack = out.filter(reference__in=sheets), rack.filter(reference__in=sheets)
    counted = list(rack.values_list("kind", flat=True))
    board, reasons = _used(out.order_by("sheet_size__board__code", "sheet_size", "pk"))
    came = moved.filter(kind=Kind.RECEIPT).order_by("sheet_size__board__code", "sheet_size", "pk")
    supplies = SupplyMovement.objects.filter(
        period.of("at"), reversed_by=None, kind=SupplyMovement.Kind.RECEIPT
    ).select_related("supply")
    return Goods(
        receipts=(*_sheets_received(came), *_supplies_received(supplies.order_by("supply__name", "pk"))),
        board=board,
        reasons=reasons,
        offcuts_used=counted.count(RackEntry.Kind.TAKEN),
        offcuts_kept=counted.count(RackEntry.Kind.KEPT),
    )


def _references(campaign: Campaign) -> QuerySet:
    """What entries made for the sheets of a campaign's plan refer to."""
    sheets = PlannedSheet.objects.filter(plan__campaign=campaign).order_by()
    words = Concat(Value(REFERENCE), Cast("pk", CharField()), output_field=CharField())
    return sheets.annotate(words=words).values("words")


def _used(moved: Iterable[StockMovement]) -> tuple[tuple[BoardRow, ...], tuple[ReasonRow, ...]]:
    rows: dict[int, BoardRow] = {}
    reasons: defaultdict[str, list[Decimal]] = defaultdict(list)
    for one in moved:
        size, sheets = one.sheet_size, -one.quantity
        row = rows.get(size.pk) or BoardRow(size.board.name, size.along_mm, size.across_mm, size.price)
        if one.kind == Kind.USE:
            rows[size.pk] = replace(row, used=row.used + sheets)
        else:
            rows[size.pk] = replace(row, spoiled=row.spoiled + sheets)
            reasons[one.reason] += [size.price] * sheets
    by_reason = [
        ReasonRow(
            str(Reason(reason).label) if reason else NO_REASON, len(prices), to_cents(sum(prices, Decimal()))
        )
        for reason, prices in reasons.items()
    ]
    return tuple(rows.values()), tuple(sorted(by_reason, key=lambda row: (-row.sheets, row.label)))


def _sheets_received(moved: Iterable[StockMovement]) -> list[ReceiptRow]:
    rows: dict[int, ReceiptRow] = {}
    for one in moved:
        size = one.sheet_size
        empty = ReceiptRow(str(size), "sheet", Decimal(), Decimal(), Decimal())
        paid = None if one.paid_each is None else one.paid_each * one.quantity
        rows[size.pk] = _with(rows.get(size.pk, empty), Decimal(one.quantity), paid)
    return list(rows.values())


def _supplies_received(moved: Iterable[SupplyMovement]) -> list[ReceiptRow]:
    rows: dict[int, ReceiptRow] = {}
    for one in moved:
        supply = one.supply
        empty = ReceiptRow(supply.name, supply.get_unit_display(), Decimal(), Decimal(), Decimal())
        rows[supply.pk] = _with(rows.get(supply.pk, empty), one.quantity, one.paid)
    return list(rows.values())


def _with(row: ReceiptRow, quantity: Decimal, paid: Decimal | None) -> ReceiptRow:
    return replace(
        row,
        quantity=row.quantity + quantity,
        paid=to_cents(row.paid + (paid or Decimal())),
        untold=row.untold + (quantity if paid is None else 0),
    )
