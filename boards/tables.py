"""The lists of boards, supplies and suppliers."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

import django_tables2 as tables
from django.db.models import QuerySet
from django.template.defaultfilters import floatformat
from django.urls import reverse
from django.utils.formats import date_format
from django.utils.html import format_html
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from boards.models import Board, SheetSize, Supplier, Supply
from objects.readers import Reader
from objects.tables.shaped import InFile, ShapedTable, in_unit_of, lengths

NUMBER = {"td": {"class": "number"}, "th": {"class": "number"}}
SIZE = {"td": {"class": "size"}, "th": {"class": "size"}}
NAME = {"td": {"class": "row-name"}}


def _column(words: Any, **named: Any) -> tables.Column:
    return tables.Column(verbose_name=words, empty_values=(), orderable=False, **named)


def _tag(shown: object, words: str) -> str:
    return format_html('{} <span class="tag tag-check">{}</span>', shown, words)


@dataclass(frozen=True)
class SheetRow:
    """A board in one of its sheet sizes; a board without any has a row of its own."""

    board: Board
    sheet: SheetSize | None


def sheet_rows(boards: Iterable[Board]) -> list[SheetRow]:
    return [SheetRow(board, sheet) for board in boards for sheet in list(board.sheet_sizes.all()) or [None]]


class BoardTable(ShapedTable):
    """Boards of boards_with_stock(), a row a sheet size."""

    key, caption, required = "boards", _("Boards with their sheet sizes and stock"), ("board",)
    unusual = ("supplier",)

    board = _column(_("Board"), attrs=NAME)
    made_as = _column(_("Made as"))
    caliper = _column(_("Caliper"), attrs=SIZE)
    sheet = _column(_("Sheet (along × across)"), attrs=SIZE)
    supplier = _column(_("Supplier"))
    price = _column(_("Price"), attrs=NUMBER)
    in_stock = _column(_("In stock"), attrs=NUMBER)
    offcuts = _column(_("Offcuts on the rack"), attrs=NUMBER)

    def __init__(self, rows: Sequence[SheetRow], *, reader: Reader, **named: Any) -> None:
        super().__init__(rows, **named)
        self.reader = reader

    def render_board(self, record: SheetRow) -> str:
        address = reverse("boards:board-detail", args=[record.board.pk])
        return format_html('<a href="{}">{}</a>', address, record.board)

    def render_made_as(self, record: SheetRow) -> str:
        made = record.board.get_construction_display()
        if not record.board.flute:
            return made
        return gettext("%(made)s, flute %(flute)s") % {"made": made, "flute": record.board.flute}

    def render_caliper(self, record: SheetRow) -> str:
        return self.reader.length(record.board.caliper_mm)

    def render_sheet(self, record: SheetRow) -> str:
        sheet = record.sheet
        if sheet is None:
            return gettext("No sheet size yet. Enter one before you plan with this board.")
        size = f"{self.reader.length(sheet.along_mm)} × {self.reader.length(sheet.across_mm)}"
        if sheet.is_offered:
            return size
        return format_html('{} <span class="soft">{}</span>', size, gettext("no longer bought"))

    def render_supplier(self, record: SheetRow) -> str:
        return str(record.sheet.supplier or "—") if record.sheet else "—"

    def render_price(self, record: SheetRow) -> str:
        return floatformat(record.sheet.price, "2g") if record.sheet else "—"

    def render_in_stock(self, record: SheetRow) -> str:
        sheet = record.sheet
        if sheet is None:
            return "—"
        shown = floatformat(sheet.in_stock, "0g")
        is_low = sheet.reorder_level is not None and sheet.in_stock <= sheet.reorder_level
        return _tag(shown, gettext("Time to order")) if is_low else shown

    def render_offcuts(self, record: SheetRow) -> str:
        return str(record.board.rack)

    def in_file(self, name: str, reader: Reader) -> InFile | None:
        """Lengths, money and stock as plain numbers, the sides of a sheet in two columns."""
        match name:
            case "caliper":
                return lengths(gettext("Caliper"), reader, lambda row: row.board.caliper_mm)
            case "sheet":
                sides = (gettext("Along"), gettext("Across"))
                return tuple(f"{side} ({reader.unit})" for side in sides), lambda row: (
                    in_unit_of(reader, row.sheet and row.sheet.along_mm),
                    in_unit_of(reader, row.sheet and row.sheet.across_mm),
                )
            case "price":
                return (gettext("Price"),), lambda row: (row.sheet and row.sheet.price,)
            case "in_stock":
                return (gettext("In stock"),), lambda row: (row.sheet and row.sheet.in_stock,)
            case "offcuts":
                return (gettext("Offcuts on the rack"),), lambda row: (row.board.rack,)
        return None


class SupplyTable(ShapedTable):
    """Supplies of supplies_listed(); managers get what changes them."""

    key, caption = "supplies", _("Supplies with their packs, prices and suppliers")
    page_only = ("change",)

    name = _column(_("Name"), attrs=NAME)
    kind = _column(_("Kind"))
    supplier = _column(_("Supplier"))
    pack = _column(_("Pack"), attrs=NUMBER)
    price = _column(_("Price of a pack"), attrs=NUMBER)
    price_breaks = _column(_("Price breaks"))
    on_hand = _column(_("On hand"), attrs=NUMBER)
    reorder_level = _column(_("Order again at"), attrs=NUMBER)
    to_note = _column(_("To note"))
    change = tables.TemplateColumn(
        verbose_name=_("Change"), orderable=False, template_name="boards/supply_actions.html"
    )

    def __init__(self, supplies: QuerySet[Supply], *, today: date, can_edit: bool, **named: Any) -> None:
        super().__init__(supplies, exclude=() if can_edit else ("change",), **named)
        self.today = today

    def render_name(self, record: Supply) -> str:
        return format_html(
            '<a href="{}">{}</a>', reverse("boards:supply-detail", args=[record.pk]), record.name
        )

    def render_kind(self, record: Supply) -> str:
        kind = record.get_kind_display()
        return gettext("%(kind)s, the usual one") % {"kind": kind} if record.is_usual else kind

    def render_supplier(self, record: Supply) -> str:
        return str(record.supplier or gettext("Not entered"))

    def render_pack(self, record: Supply) -> str:
        return self._amount(record, record.pack)

    def render_price(self, record: Supply) -> str:
        return "—" if record.price is None else floatformat(record.price, "2g")

    def render_price_breaks(self, record: Supply) -> str:
        breaks = (
            gettext("from %(least)s: %(price)s")
            % {"least": floatformat(one.least, "-3g"), "price": floatformat(one.price, "2g")}
            for one in record.price_breaks.all()
        )
        return "; ".join(breaks) or "—"

    def render_on_hand(self, record: Supply) -> str:
        return self._amount(record, record.on_hand)

    def render_reorder_level(self, record: Supply) -> str:
        if record.reorder_level is None:
            return "—"
        shown = floatformat(record.reorder_level, "-3g")
        return _tag(shown, gettext("Time to order")) if record.on_hand <= record.reorder_level else shown

    def render_to_note(self, record: Supply) -> str:
        if record.withdrawn_on and record.withdrawn_on <= self.today:
            day = date_format(record.withdrawn_on)
            return _tag("", gettext("No longer sold since %(day)s") % {"day": day})
        if not record.price:
            return _tag("", gettext("No price: budgets that need it are incomplete"))
        if record.priced_on and record.priced_on > self.today:
            day = date_format(record.priced_on)
            return _tag("", gettext("The price holds only from %(day)s") % {"day": day})
        return record.source or "—"

    def _amount(self, record: Supply, amount: Decimal) -> str:
        return f"{floatformat(amount, '-3g')} {record.get_unit_display()}"

    def in_file(self, name: str, reader: Reader) -> InFile | None:
        """Amounts and money as plain numbers, the unit of amounts in a column of its own."""
        match name:
            case "pack":
                return (gettext("Pack"), gettext("Unit")), lambda supply: (
                    supply.pack.normalize(),
                    supply.get_unit_display(),
                )
            case "price":
                return (gettext("Price of a pack"),), lambda supply: (supply.price,)
            case "on_hand":
                return (gettext("On hand"),), lambda supply: (supply.on_hand,)
            case "reorder_level":
                return (gettext("Order again at"),), lambda supply: (supply.reorder_level,)
        return None


class SupplierTable(ShapedTable):
    """Suppliers of suppliers_listed(); managers get what changes them."""

    key, caption = "suppliers", _("Suppliers with what freight costs and how long it takes")
    page_only = ("change",)

    name = _column(_("Name"), attrs=NAME)
    freight_each = _column(_("Freight of an order"), attrs=NUMBER)
    freight_share = _column(_("Share of the goods"), attrs=NUMBER)
    freight_free_from = _column(_("Free from"), attrs=NUMBER)
    lead_days = _column(_("Days until it comes"), attrs=NUMBER)
    sheets = _column(_("Sheet sizes"), attrs=NUMBER)
    goods = _column(_("Supplies"), attrs=NUMBER)
    note = _column(_("How to order"))
    change = tables.TemplateColumn(
        verbose_name=_("Change"), orderable=False, template_name="boards/supplier_actions.html"
    )

    def __init__(self, suppliers: QuerySet[Supplier], *, can_edit: bool, **named: Any) -> None:
        super().__init__(suppliers, exclude=() if can_edit else ("change",), prefix="suppliers-", **named)

    def render_freight_each(self, value: Decimal) -> str:
        return floatformat(value, "2g")

    def render_freight_share(self, record: Supplier) -> str:
        return f"{floatformat(record.freight_percent, '-2')} %" if record.freight_share else "—"

    def render_freight_free_from(self, value: Decimal | None) -> str:
        return "—" if value is None else floatformat(value, "2g")

    def render_lead_days(self, value: int | None) -> str:
        return gettext("Not entered") if value is None else str(value)

    def render_note(self, value: str) -> str:
        return value or "—"

    def in_file(self, name: str, reader: Reader) -> InFile | None:
        """Money and days as plain numbers, freight by share in percent."""
        match name:
            case "freight_each":
                return (gettext("Freight of an order"),), lambda supplier: (supplier.freight_each,)
            case "freight_share":
                return (gettext("Share of the goods, %"),), lambda supplier: (supplier.freight_percent,)
            case "freight_free_from":
                return (gettext("Free from"),), lambda supplier: (supplier.freight_free_from,)
            case "lead_days":
                return (gettext("Days until it comes"),), lambda supplier: (supplier.lead_days,)
        return None
