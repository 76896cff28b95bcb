"""Suppliers and supplies: entered, changed, taken off the list, and taken in as a list."""

import csv
from decimal import Decimal
from pathlib import Path

import pytest
from django.conf import settings
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from boards.intake import BoardList, SupplyList
from boards.models import Board, PriceBreak, SheetSize, Supplier, Supply
from objects.intake import preview
from tests.factories import make_sheet_size

pytestmark = pytest.mark.django_db
LIST = "/boards/supplies/"
DEMO = Path(settings.BASE_DIR) / "fixtures" / "demo"
HEADER = "Name,Kind,Unit,Units in a pack,Price per pack,Supplier,Freight of an order,The usual one\n"


def supply_data(**given) -> dict:
    return {
        "name": "Glue stick", "kind": "glue", "unit": "stick", "pack": "100", "price": "31.50",
        "breaks": "3: 29.00\n10: 26.50", "there": "12.5", "spoilage_share": "8", "grams_each": "23.4",
        "is_usual": "on", **given,
    }  # fmt: skip


def supplier_data(**given) -> dict:
    return {
        "name": "Harbour Paper", "freight_each": "24", "freight_share": "4", "freight_free_from": "600",
        "lead_days": "10", "note": "", **given,
    }  # fmt: skip


def make_supply(**given) -> Supply:
    return Supply.objects.create(
        **{"name": "Glue stick", "kind": "glue", "unit": "stick", "grams_each": 23, "price": 30, **given}
    )


def taken_in(kind, text: str):
    understood = preview(kind, text.encode())
    understood.kind.save(understood.kind.rows_to_write(understood.rows))
    return understood


# ---- Pages -----------------------------------------------------------------------------------------------


def test_a_supply_is_entered_with_its_price_breaks(manager):
    manager.post(f"{LIST}new/", supply_data())

    supply = Supply.objects.get()
    assert (supply.pack, supply.on_hand, supply.spoilage_share) == (100, Decimal("12.5"), Decimal("0.08"))
    assert list(supply.price_breaks.values_list("least", "price")) == [
        (3, Decimal("29.00")), (10, Decimal("26.50")),
    ]  # fmt: skip
    assert "from 10: 26.50" in manager.get(LIST).content.decode()


def test_saving_a_supply_as_it_is_changes_nothing(manager):
    manager.post(f"{LIST}new/", supply_data())
    supply, breaks = Supply.objects.values().get(), list(PriceBreak.objects.values())
    address = f"{LIST}{supply['id']}/edit/"
    form = manager.get(address).context["form"]

    shown = {name: form[name].value() for name in form.fields}
    manager.post(address, {name: value for name, value in shown.items() if value not in (None, False)})

    assert (Supply.objects.values().get(), list(PriceBreak.objects.values())) == (supply, breaks)


@pytest.mark.parametrize(
    ("given", "field", "told"),
    [
        ({"price": "-1"}, "price", "Enter 0 or more."),
        ({"pack": "0"}, "pack", "Enter more than 0."),
        ({"spoilage_share": "100"}, "spoilage_share", "Enter 0 to less than 100 per cent."),
        ({"breaks": "3 for two"}, "breaks", "is no price break"),
        ({"breaks": "3: 40"}, "breaks", "not less than 31.50"),
        ({"unit": "m"}, "unit", "Glue is counted in sticks"),
        ({"grams_each": ""}, "grams_each", "Enter the grams in a unit"),
        ({"kind": "tissue", "unit": "m2", "fills_litres": ""}, "fills_litres", "how many litres"),
        ({"kind": "foam", "unit": "sheet"}, "unit", "counted in m²"),
    ],
)
def test_a_supply_that_no_budget_could_reckon_with_is_refused(manager, given, field, told):
    form = manager.post(f"{LIST}new/", supply_data(**given)).context["form"]

    assert list(form.errors) == [field]
    assert told in form.errors[field][0]
    assert not Supply.objects.exists()


def test_the_usual_one_takes_that_from_the_one_before(manager):
    make_supply(name="Old stick", is_usual=True)

    manager.post(f"{LIST}new/", supply_data())

    assert list(Supply.objects.filter(is_usual=True).values_list("name", flat=True)) == ["Glue stick"]


def test_a_supply_is_taken_off_the_list_with_its_breaks(manager):
    manager.post(f"{LIST}new/", supply_data(there=""))

    manager.post(f"{LIST}{Supply.objects.get().pk}/delete/", {"confirmed": "yes"})

    assert not Supply.objects.exists() and not PriceBreak.objects.exists()


def test_a_supplier_is_entered_and_changed(manager):
    manager.post("/boards/suppliers/new/", supplier_data())
    supplier = Supplier.objects.get()
    assert (supplier.freight_share, supplier.freight_free_from) == (Decimal("0.04"), 600)

    manager.post(f"/boards/suppliers/{supplier.pk}/edit/", supplier_data(freight_free_from=""))

    supplier.refresh_from_db()
    assert supplier.freight_free_from is None


def test_a_supplier_who_sells_something_stays(manager):
    supplier = Supplier.objects.create(name="Harbour Paper")
    make_supply(supplier=supplier)
    make_sheet_size(supplier=supplier)

    page = manager.post(f"/boards/suppliers/{supplier.pk}/delete/", follow=True)

    assert "still sells 1 sheet size and 1 supply" in page.content.decode()
    assert Supplier.objects.exists()


def test_a_supplier_who_sells_nothing_goes(manager):
    supplier = Supplier.objects.create(name="Harbour Paper")

    manager.post(f"/boards/suppliers/{supplier.pk}/delete/", {"confirmed": "yes"})

    assert not Supplier.objects.exists()


@pytest.mark.parametrize("name", ["supply-new", "supplier-new"])
def test_only_a_manager_enters(maker, name):
    assert maker.get(reverse(f"boards:{name}")).status_code == 403


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"price": None}, "No price"),
        ({"price": 0}, "No price"),
        ({"withdrawn_on": "2020-05-01"}, "No longer sold since 1 May 2020"),
        ({"priced_on": "2999-01-01"}, "The price holds only from 1 January 2999"),
    ],
)
def test_the_list_says_what_makes_budgets_incomplete_or_doubtful(viewer, given, told):
    make_supply(**given)

    assert told in viewer.get(LIST).content.decode()


def test_the_list_asks_the_database_as_often_for_three_supplies_as_for_one(viewer):
    def queries() -> int:
        with CaptureQueriesContext(connection) as made:
            assert viewer.get(LIST).status_code == 200
        return len(made)

    make_supply(supplier=Supplier.objects.create(name="A"))
    viewer.get(LIST)
    once = queries()
    for name in ("B", "C"):
        make_supply(name=name, supplier=Supplier.objects.create(name=name))

    assert queries() == once


def test_a_sheet_is_entered_with_its_supplier_and_price_breaks(manager):
    size = make_sheet_size()
    supplier, before = Supplier.objects.create(name="Harbour Paper"), size.board.changed_at
    data = {
        "along_mm": "60 in", "across_mm": "40 in", "price": "17.60", "pack": "1", "is_offered": "on",
        "supplier": supplier.pk, "priced_on": "2026-09-01", "breaks": "50: 16.40; 200: 15.60",
    }  # fmt: skip

    manager.post(f"/boards/sheets/{size.pk}/edit/", data)

    size.refresh_from_db()
    assert (size.supplier, str(size.priced_on)) == (supplier, "2026-09-01")
    assert [one.least for one in size.price_breaks.all()] == [50, 200]
    assert Board.objects.get().changed_at > before  # plans compare with it


# ---- Lists -----------------------------------------------------------------------------------------------


def test_the_demo_list_is_taken_in_whole_and_changes_nothing_the_second_time():
    text = (DEMO / "supplies.csv").read_text("utf-8")

    first = taken_in(SupplyList(), text)

    assert {row.status for row in first.rows} == {"new"}
    glue = Supply.objects.get(kind="glue")
    assert (glue.pack, glue.spoilage_share, glue.is_usual) == (100, Decimal("0.08"), True)
    assert glue.supplier.freight_free_from == 150
    assert [row.status for row in preview(SupplyList(), text.encode()).rows] == ["unchanged"] * len(
        first.rows
    )


def test_the_paddings_of_the_demo_designs_are_all_sold():
    taken_in(SupplyList(), (DEMO / "supplies.csv").read_text("utf-8"))
    designs = (DEMO / "designs.csv").read_text("utf-8").splitlines()

    linings = {row["Padding"] for row in csv.DictReader(designs)} - {""}

    assert linings <= set(Supply.objects.filter(unit="m2").values_list("name", flat=True))


def test_freight_that_changed_is_a_change_of_the_row():
    taken_in(SupplyList(), HEADER + "Label,label,piece,100,9,Harbour Paper,24,yes\n")

    (row,) = taken_in(SupplyList(), HEADER + "Label,label,piece,100,9,Harbour Paper,30,yes\n").rows

    assert row.changes == {"freight_each": (Decimal("24"), Decimal("30"))}
    assert Supplier.objects.get().freight_each == 30


@pytest.mark.parametrize(
    ("rows", "told"),
    [
        ("Label,label,m,1,9,,,\n", "Labels are counted by the piece"),
        ("Label,label,piece,1,9,,24,\n", "Freight is told, but no supplier"),
        ("Label,label,piece,0,9,,,\n", "“0” is not between"),
        ("Label,,,1,9,,,\n", "needs a kind and a unit"),
        ("A,label,piece,1,9,P,1,\nB,label,piece,1,9,P,2,\n", "differs from line 2"),
        ("A,label,piece,1,9,,,yes\nB,label,piece,1,9,,,yes\n", "Line 2 is the usual one of this kind"),
    ],
)
def test_a_row_that_no_budget_could_reckon_with_is_refused(rows, told):
    understood = preview(SupplyList(), (HEADER + rows).encode())

    assert understood.rows[-1].status == "refused"
    assert told in " ".join(understood.rows[-1].messages)


def test_a_list_that_names_a_usual_one_takes_that_from_the_one_before():
    make_supply(name="Old", kind="label", unit="piece", is_usual=True)

    taken_in(SupplyList(), HEADER + "Old,label,piece,50,8,,,\nNew,label,piece,100,9,,,yes\n")

    assert list(Supply.objects.filter(is_usual=True).values_list("name", flat=True)) == ["New"]


def test_a_board_list_brings_supplier_price_date_and_breaks():
    header = (
        "Code,Name,Caliper,Sheet along flutes,Sheet across flutes,Price per sheet,Supplier,Price holds from,"
        "Price breaks,No longer sold from\n"
    )
    row = "B32,B-flute,1/8 in,60 in,40 in,17.60,Harbour Paper,2026-09-01,50: 16.40,2027-01-31\n"

    taken_in(BoardList(), header + row)

    size = SheetSize.objects.get()
    assert (size.supplier.name, str(size.priced_on), str(size.board.withdrawn_on)) == (
        "Harbour Paper", "2026-09-01", "2027-01-31",
    )  # fmt: skip
    assert list(size.price_breaks.values_list("least", "price")) == [(50, Decimal("16.40"))]
    assert [one.status for one in preview(BoardList(), (header + row).encode()).rows] == ["unchanged"]
