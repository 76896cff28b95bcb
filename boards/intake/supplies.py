"""Lists of supplies: one supply a row, with its supplier, whose freight may stand on each of its rows."""

from collections.abc import Iterable
from typing import Any

from boards.core.price_breaks import break_fault, breaks_text, parse_breaks
from boards.core.supplies import measure_fault, unit_fault
from boards.intake.buying import Suppliers, read_breaks, read_day
from boards.models import Supplier, Supply
from boards.services import count_supply, store_breaks
from objects.core.words import noted, say
from objects.intake import Field, ListKind, Row, RowReading
from objects.intake.kinds import BATCH, overwrite

FREIGHT = ("freight_each", "freight_share", "freight_free_from", "lead_days")


class SupplyList(ListKind):
    """What is bought besides board; a supplier not known yet is entered along with it."""

    key = "supplies"
    model, identity, identity_label = Supply, "name", noted("supply")
    fields = (
        Field("name", noted("Name"), ("supply", "material", "description"), required=True),
        Field("kind", noted("Kind"), ("type",)),
        Field("unit", noted("Unit"), ("counted in",)),
        Field("pack", noted("Units in a pack"), ("pack", "pack size")),
        Field("price", noted("Price per pack"), ("price", "price of a pack", "pack price")),
        Field("priced_on", noted("Price holds from"), ("price date", "priced on")),
        Field("breaks", noted("Price breaks"), ("quantity prices", "price from")),
        Field("on_hand", noted("Units on hand"), ("on hand", "in stock")),
        Field("reorder_level", noted("Order again at"), ("reorder level", "reorder at")),
        Field("spoilage_share", noted("Spoiled %"), ("spoiled", "waste %", "spoilage")),
        Field("grams_each", noted("Grams in a unit"), ("grams each", "grams")),
        Field("fills_litres", noted("Litres that a unit fills"), ("fills litres", "litres")),
        Field("is_usual", noted("The usual one"), ("usual", "is usual")),
        Field("withdrawn_on", noted("No longer sold from"), ("withdrawn on", "withdrawn")),
        Field("source", noted("Where the figures come from"), ("source",)),
        Field("supplier", noted("Supplier"), ("sold by", "vendor")),
        Field("freight_each", noted("Freight of an order"), ("freight",)),
        Field("freight_share", noted("Freight %"), ("freight share", "freight as % of the goods")),
        Field("freight_free_from", noted("Free of freight from"), ("freight free from",)),
        Field("lead_days", noted("Days until it comes"), ("lead days", "delivery days")),
    )

    def __init__(self, **context: Any) -> None:
        super().__init__(**context)
        self.suppliers = Suppliers()
        self.first_freight: dict[str, tuple[int, dict]] = {}
        self.usual: dict[str, int] = {}

    def records(self) -> Iterable[Supply]:
        return Supply.objects.select_related("supplier").prefetch_related("price_breaks")

    def read(self, row: Row) -> None:
        row.text("name", 120)
        row.choice("kind", Supply.Kind.choices)
        row.choice("unit", Supply.Unit.choices)
        row.number("pack", "0.001", "9999999", places=3)
        row.number("price", "0", "99999999")
        if row.values.get("price") == 0:
            row.notes.append(
                noted("A price of 0 is taken as one that is not known; budgets that need it say so.")
            )
        read_day(row, "priced_on")
        read_day(row, "withdrawn_on")
        read_breaks(row)
        row.number("on_hand", "0", "9999999", places=3)
        row.number("reorder_level", "0", "9999999", places=3)
        row.number("grams_each", "0.01", "999999")
        row.number("fills_litres", "0.001", "99999", places=3)
        row.yes_no("is_usual")
        row.text("source", 300)
        self.suppliers.read(row)
        row.number("freight_each", "0", "999999")
        row.number("freight_free_from", "0", "99999999")
        row.whole("lead_days", 0, 3650)
        for field, most in (("spoilage_share", "99"), ("freight_share", "100")):
            row.number(field, "0", most)
            if field in row.values:
                row.values[field] /= 100

    def settle(self, row: Row, record: Supply | None) -> None:
        """Kind and unit have to suit each other, and freight has to be the same for one supplier."""
        if row.problems:
            return
        if record is None and not {"kind", "unit"} <= row.values.keys():
            row.refuse(noted("A new supply needs a kind and a unit. Fill them in."))
            return
        kind, unit = (row.values.get(field) or getattr(record, field) for field in ("kind", "unit"))
        known = {
            field: row.values.get(field, getattr(record, field, None))
            for field in ("price", "grams_each", "fills_litres", "is_usual")
        }
        measures = bool(known["grams_each"]), bool(known["fills_litres"])
        fault = unit_fault(kind, unit) or measure_fault(kind, unit, *measures, bool(known["is_usual"]))
        fault = fault or break_fault(parse_breaks(row.values.get("breaks", "")), known["price"])
        if fault:
            row.refuse(fault)
        self._settle_freight(row)
        if row.values.get("is_usual"):
            first = self.usual.setdefault(kind, row.line)
            if first != row.line:
                row.refuse(
                    say(
                        "Line {first} is the usual one of this kind already. Leave one of them out.",
                        first=first,
                    )
                )

    def _settle_freight(self, row: Row) -> None:
        freight = {field: row.values[field] for field in FREIGHT if field in row.values}
        if not freight:
            return
        supplier = row.values.get("supplier")
        if supplier is None:
            row.refuse(noted("Freight is told, but no supplier. Fill in who sends it."))
            return
        line, first = self.first_freight.setdefault(supplier.name.casefold(), (row.line, freight))
        for field in freight.keys() & first.keys():
            if freight[field] != first[field]:
                row.refuse(
                    say(
                        "{label} differs from line {line}, which is the same supplier.",
                        label=self.label(field),
                        line=line,
                    )
                )

    def current(self, record: Supply, field: str) -> Any:
        if field == "breaks":
            return breaks_text([(one.least, one.price) for one in record.price_breaks.all()])
        return getattr(record, field)

    def label(self, field: str) -> str:
        if field == "breaks":
            return "price breaks"
        return str((Supplier if field in FREIGHT else Supply)._meta.get_field(field).verbose_name)

    def changes(self, row: Row, record: Supply) -> dict[str, tuple]:
        supplier = row.values.get("supplier")
        found = {}
        for field, value in row.values.items():
            now = getattr(supplier, field) if field in FREIGHT else self.current(record, field)
            if field != self.identity and now != value:
                found[field] = (now, value)
        return found

    def save(self, rows: list[RowReading], by: Any = None) -> None:
        self._save_suppliers(rows)
        self._pass_on_what_is_usual(rows)
        known = Supply.objects.select_for_update(of=("self",)).in_bulk(
            [row.instance.pk for row in rows if row.instance]
        )
        new, changed = [], []
        for row in rows:
            is_new = row.instance is None
            row.instance = row.instance or Supply()
            for field, value in row.values.items():
                if field not in (*FREIGHT, "breaks", "on_hand") and (is_new or field != self.identity):
                    setattr(row.instance, field, value)
            if not is_new:
                row.instance.on_hand = known[row.instance.pk].on_hand
            (new if is_new else changed).append(row.instance)
        Supply.objects.bulk_create(new, batch_size=BATCH)
        overwrite(changed)
        self._count(rows, by)
        for row in rows:
            if "breaks" in row.values:
                store_breaks(of=row.instance, breaks=parse_breaks(row.values["breaks"]))

    def _count(self, rows: list[RowReading], by: Any) -> None:
        """What a list says is on hand counts as counted, where the ledger says otherwise."""
        for row in rows:
            counted = row.values.get("on_hand")
            if counted is not None and counted != row.instance.on_hand:
                count_supply(
                    supply=row.instance, counted=counted, by=by, note=noted("As a list of supplies has it")
                )

    def _save_suppliers(self, rows: list[RowReading]) -> None:
        named: dict[str, Supplier] = {}
        for row in rows:
            if (supplier := row.values.get("supplier")) is not None:
                named[supplier.name.casefold()] = supplier
                for field in FREIGHT:
                    if field in row.values:
                        setattr(supplier, field, row.values[field])
        for supplier in named.values():
            supplier.save()

    @staticmethod
    def _pass_on_what_is_usual(rows: list[RowReading]) -> None:
        """The usual one of a kind that a list names takes that from the one before."""
        kinds = {row.values.get("kind") or row.instance.kind for row in rows if row.values.get("is_usual")}
        Supply.objects.filter(kind__in=kinds, is_usual=True).update(is_usual=False)
        for row in rows:
            if row.instance is not None and row.instance.kind in kinds:
                row.instance.is_usual = False
