"""Pages of stock: ledgers of supplies, counting everything at once, and offcuts on and off the rack."""

from decimal import Decimal
from uuid import uuid4

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from boards.intake import SupplyList
from boards.models import Offcut, SheetSize, StockMovement, Supply, SupplyMovement
from boards.services import (
    StockRefused,
    keep_offcut,
    put_back_offcut,
    receive_sheets,
    receive_supply,
    reverse_rack_entry,
    reverse_supply_movement,
    use_offcut,
    use_sheets,
    use_supply,
)
from objects.intake import preview
from tests.factories import balance_of, make_board, make_sheet_size, make_user

pytestmark = pytest.mark.django_db


def make_supply(**given) -> Supply:
    number = Supply.objects.count()
    return Supply.objects.create(**{"name": f"Tissue {number}", "kind": "tissue", "unit": "m2", **given})


def queries_of(client, address: str) -> int:
    client.get(address)
    with CaptureQueriesContext(connection) as made:
        assert client.get(address).status_code == 200
    return len(made)


def words(answer) -> list[str]:
    return [str(message) for message in answer.context["messages"]]


# ---- A supply --------------------------------------------------------------------------------------------


def test_units_are_received_used_written_off_and_counted(maker):
    supply = make_supply()
    for action, units in (("receive", "20"), ("use", "1.5"), ("write_off", "2"), ("count", "16")):
        told = {"action": action, "units": units, "paid": "44.10", "reason": "aged", "note": action}
        maker.post(f"/boards/supplies/{supply.pk}/stock/", told)

    rows = supply.movements.values_list("kind", "quantity", "balance", "paid", "reason", "counted")
    assert list(rows) == [
        ("receipt", 20, 20, Decimal("44.10"), "", None),
        ("use", Decimal("-1.5"), Decimal("18.5"), None, "", None),
        ("write_off", -2, Decimal("16.5"), None, "aged", None),
        ("count", Decimal("-0.5"), 16, None, "", 16),  # 16 - 16.5
    ]
    supply.refresh_from_db()
    assert supply.on_hand == 16


def test_an_entry_of_a_supply_is_reversed(maker):
    supply = make_supply()
    receive_supply(supply=supply, units=Decimal(3))
    mistake = receive_supply(supply=supply, units=Decimal(30))

    maker.post(f"/boards/supplies/movements/{mistake.pk}/reverse/")

    supply.refresh_from_db()
    assert supply.on_hand == 3
    assert [str(one.quantity) for one in supply.movements.all()] == ["3.000", "30.000", "-30.000"]


def test_a_form_sent_twice_makes_one_entry(maker):
    supply, size = make_supply(), make_sheet_size()
    for _ in range(2):
        maker.post(
            f"/boards/supplies/{supply.pk}/stock/",
            {"action": "receive", "units": "4", "entry_id": "7d9a3d0e-6a51-4c8e-93a6-5a7b6f8a1c11"},
        )
        maker.post(
            f"/boards/{size.board_id}/stock/",
            {"action": "receive", "sheet_size": size.pk, "count": "4",
             "entry_id": "7d9a3d0e-6a51-4c8e-93a6-5a7b6f8a1c12"},
        )  # fmt: skip

    assert (SupplyMovement.objects.count(), StockMovement.objects.count()) == (1, 1)


def test_the_page_of_a_supply_asks_as_often_for_three_entries_as_for_one(maker):
    supply = make_supply()
    receive_supply(supply=supply, units=Decimal(3), by=make_user("maker"))
    once = queries_of(maker, f"/boards/supplies/{supply.pk}/")
    mistake = receive_supply(supply=supply, units=Decimal(3), by=make_user("maker"))
    reverse_supply_movement(movement=mistake, by=make_user("maker"))

    assert queries_of(maker, f"/boards/supplies/{supply.pk}/") == once


def test_a_list_of_supplies_counts_what_is_on_hand():
    supply = make_supply(name="Foam", kind="foam")
    receive_supply(supply=supply, units=Decimal(5))
    header = "Name,Kind,Unit,Units on hand,Order again at\n"
    understood = preview(SupplyList(), (header + "Foam,foam,m2,4,2\nTape,tape,m,50,\n").encode())

    understood.kind.save(understood.kind.rows_to_write(understood.rows))

    told = Supply.objects.order_by("name").values_list("name", "on_hand", "reorder_level")
    assert list(told) == [("Foam", 4, 2), ("Tape", 50, None)]
    rows = SupplyMovement.objects.order_by("pk").values_list("supply__name", "kind", "quantity", "balance")
    assert list(rows) == [("Foam", "receipt", 5, 5), ("Foam", "count", -1, 4), ("Tape", "count", 50, 50)]


def test_saving_a_supply_leaves_what_moved_meanwhile(manager):
    supply = make_supply(fills_litres=2)
    receive_supply(supply=supply, units=Decimal(9))
    stale = Supply.objects.get(pk=supply.pk)
    form = manager.get(f"/boards/supplies/{supply.pk}/edit/").context["form"]
    use_supply(supply=stale, units=Decimal(2))
    data = {name: form[name].value() for name in form.fields}
    data = {name: value for name, value in data.items() if value not in (None, False)}

    manager.post(f"/boards/supplies/{supply.pk}/edit/", {**data, "reorder_level": "8"})

    supply.refresh_from_db()
    assert (supply.on_hand, supply.reorder_level) == (7, 8)
    assert "Time to order" in manager.get("/boards/supplies/").text


@pytest.mark.parametrize(
    ("given", "field", "told"),
    [
        ({"action": "use", "units": "3.5"}, "units", "Only 3 units of Tissue 0 are in stock, and 3.5 would"),
        ({"action": "receive", "units": "0"}, "units", "Enter more than 0."),
        ({"action": "count", "units": "-1"}, "units", "Enter 0 or more."),
        ({"action": "receive", "units": "2000000"}, "units", "Enter 1,000,000 or fewer."),
        ({"action": "write_off", "units": "1"}, "reason", "Choose why it is written off."),
        ({"action": "give", "units": "1"}, "action", "Select a valid choice"),
    ],
)
def test_what_a_ledger_cannot_take_is_refused(maker, given, field, told):
    supply = make_supply()
    receive_supply(supply=supply, units=Decimal(3))

    answer = maker.post(f"/boards/supplies/{supply.pk}/stock/", given)

    assert answer.context["form"].errors[field][0].startswith(told)
    assert supply.movements.count() == 1


def test_a_supply_with_a_ledger_is_not_deleted(manager):
    supply = make_supply(name="Foam")
    receive_supply(supply=supply, units=Decimal(3))

    answer = manager.post(f"/boards/supplies/{supply.pk}/delete/", follow=True)

    assert words(answer) == [
        "Foam has 1 entry in its ledger, and these are kept. "
        "Enter the day from which it is no longer sold instead."
    ]
    assert Supply.objects.exists()


def test_a_viewer_moves_no_supply(viewer):
    supply = make_supply()
    entry = receive_supply(supply=supply, units=Decimal(3))

    assert viewer.post(f"/boards/supplies/{supply.pk}/stock/", {}).status_code == 403
    assert viewer.post(f"/boards/supplies/movements/{entry.pk}/reverse/").status_code == 403
    assert viewer.get("/boards/supplies/count/").status_code == 403
    assert "Receive</button>" not in viewer.get(f"/boards/supplies/{supply.pk}/").text


# ---- Counting everything at once -------------------------------------------------------------------------


def test_all_sheets_of_a_board_are_counted_at_once_and_the_differences_noted(maker):
    first = make_sheet_size()
    second = make_sheet_size(board=first.board, along_mm=1000)
    third = make_sheet_size(board=first.board, along_mm=900)
    for size in (first, second, third):
        receive_sheets(sheet_size=size, count=10)
    counted = {
        f"expected-{first.pk}": 10, f"counted-{first.pk}": 8,
        f"expected-{second.pk}": 10, f"counted-{second.pk}": 10,
        f"expected-{third.pk}": 10, f"counted-{third.pk}": "",
    }  # fmt: skip

    answer = maker.post(f"/boards/{first.board_id}/count/", {**counted, "note": "At the door"}, follow=True)

    rows = StockMovement.objects.filter(kind="count").order_by("pk").values_list("sheet_size", "quantity")
    assert sorted(rows) == [(first.pk, -2), (second.pk, 0)]  # 8 - 10, 10 - 10; the third was not counted
    assert words(answer) == ["2 counted, 1 not as expected. The ledgers tell the differences."]


def test_supplies_of_a_kind_are_counted_by_themselves(maker):
    tissue = make_supply()
    make_supply(name="Foam", kind="foam")

    form = maker.get("/boards/supplies/count/tissue/").context["form"]

    assert form.things == [tissue]


def test_a_count_sent_twice_counts_once(maker):
    supply = make_supply()
    receive_supply(supply=supply, units=Decimal(5))
    told = {f"expected-{supply.pk}": "5", f"counted-{supply.pk}": "4.5", "entry_id": str(uuid4())}

    for _ in range(2):
        assert maker.post("/boards/supplies/count/", told).status_code == 302

    assert [row.quantity for row in supply.movements.filter(kind="count")] == [Decimal("-0.5")]


def test_counting_asks_as_often_for_three_supplies_as_for_one(maker):
    make_supply()
    once = queries_of(maker, "/boards/supplies/count/")
    make_supply()
    make_supply()

    assert queries_of(maker, "/boards/supplies/count/") == once


def test_where_stock_moved_while_it_was_counted_nothing_is_saved_until_somebody_looked(maker):
    still, moved = make_supply(name="Still"), make_supply(name="Moved")
    for supply in (still, moved):
        receive_supply(supply=supply, units=Decimal(5))
    use_supply(supply=moved, units=Decimal(2))
    told = {
        f"expected-{still.pk}": "5", f"counted-{still.pk}": "4",
        f"expected-{moved.pk}": "5", f"counted-{moved.pk}": "3",
    }  # fmt: skip

    form = maker.post("/boards/supplies/count/", told).context["form"]

    assert form.errors[f"counted-{moved.pk}"] == ["The ledger said 5 when you began and says 3 now."]
    assert not SupplyMovement.objects.filter(kind="count").exists()
    again = {name: form[name].value() for name in told}
    assert again == {**told, f"expected-{moved.pk}": "3.000"}
    maker.post("/boards/supplies/count/", again)
    assert sorted(Supply.objects.values_list("name", "on_hand")) == [("Moved", 3), ("Still", 4)]


@pytest.mark.parametrize("counted", ["-1", "many", "1.2345"])
def test_a_count_that_cannot_be_saves_nothing_of_all_rows(maker, counted):
    good, bad = make_supply(), make_supply()
    told = {
        f"expected-{good.pk}": "0", f"counted-{good.pk}": "4",
        f"expected-{bad.pk}": "0", f"counted-{bad.pk}": counted,
    }  # fmt: skip

    answer = maker.post("/boards/supplies/count/", told)

    assert list(answer.context["form"].errors) == [f"counted-{bad.pk}"]
    assert not SupplyMovement.objects.exists()


def test_counting_nothing_is_no_count(maker):
    supply = make_supply()

    form = maker.post("/boards/supplies/count/", {f"expected-{supply.pk}": "0"}).context["form"]

    assert form.non_field_errors() == ["Nothing is counted yet. Enter what you counted in at least one row."]


def test_a_kind_that_is_none_is_missing(maker):
    assert maker.get("/boards/supplies/count/rope/").status_code == 404


# ---- Sheets ----------------------------------------------------------------------------------------------


def test_a_level_to_order_again_leaves_plans_as_they_are(manager):
    size = make_sheet_size()
    data = {"along_mm": "60 in", "across_mm": "40 in", "price": "12.50", "pack": "1", "is_offered": "on"}

    manager.post(f"/boards/sheets/{size.pk}/edit/", {**data, "reorder_level": "12"})

    before = size.board.changed_at
    size = SheetSize.objects.select_related("board").get()
    assert (size.reorder_level, size.board.changed_at) == (12, before)
    assert "Time to order" in manager.get("/boards/").text


def test_an_entry_of_a_plan_is_not_undone_at_the_board(maker):
    size = make_sheet_size()
    receive_sheets(sheet_size=size, count=2)
    issued = use_sheets(sheet_size=size, count=1, reference="planned_sheet:7")

    answer = maker.post(f"/boards/movements/{issued.pk}/reverse/", follow=True)

    assert words(answer)[0].startswith("This entry was made for a sheet of a cutting plan.")
    assert balance_of(size) == 1
    assert "/stock/sheets/7/" in answer.text


# ---- Offcuts ---------------------------------------------------------------------------------------------


def test_an_offcut_is_taken_and_put_back_and_its_page_tells_both(maker):
    offcut = keep_offcut(board=make_board(), along_mm=508, across_mm=304.8)
    maker.post(f"/boards/offcuts/{offcut.pk}/take/", {"note": "A lid"})
    offcut.refresh_from_db()
    assert (offcut.gone_at is None, offcut.gone_note) == (False, "A lid")

    answer = maker.post(f"/boards/offcuts/{offcut.pk}/back/", follow=True)

    offcut.refresh_from_db()
    assert (offcut.gone_at, offcut.gone_note, offcut.gone_by) == (None, "", None)
    kinds = [(one.kind, one.reverses and one.reverses.kind) for one in answer.context["entries"]]
    assert kinds == [("kept", None), ("taken", None), ("reversal", "taken")]


def test_an_offcut_is_thrown_away(maker):
    offcut = keep_offcut(board=make_board(), along_mm=508, across_mm=304.8)

    maker.post(f"/boards/offcuts/{offcut.pk}/gone/", {"thrown": "1"})

    offcut.refresh_from_db()
    assert offcut.gone_note == "Thrown away"
    assert offcut.entries.last().kind == "thrown"


def test_an_offcut_is_taken_once(maker):
    offcut = keep_offcut(board=make_board(), along_mm=508, across_mm=304.8)
    for _ in range(2):
        answer = maker.post(f"/boards/offcuts/{offcut.pk}/take/", {"note": "A lid"}, follow=True)

    assert "is no longer on the rack" in words(answer)[0]
    assert offcut.entries.count() == 2


def test_an_offcut_taken_for_a_plan_goes_back_where_the_sheet_was_cut(maker):
    offcut = keep_offcut(board=make_board(), along_mm=508, across_mm=304.8)
    use_offcut(offcut=offcut, note="", reference="planned_sheet:7")

    answer = maker.post(f"/boards/offcuts/{offcut.pk}/back/", follow=True)

    assert "Undo that where it was cut" in words(answer)[0]
    assert Offcut.objects.get().gone_at is not None


def test_an_offcut_put_there_by_mistake_comes_back_as_a_new_one_only():
    offcut = keep_offcut(board=make_board(), along_mm=508, across_mm=304.8)
    reverse_rack_entry(entry=offcut.entries.get())

    with pytest.raises(StockRefused, match="Put it there as a new offcut"):
        put_back_offcut(offcut=offcut)


@pytest.mark.parametrize("action", ["take", "back", "gone"])
def test_a_viewer_moves_no_offcut(viewer, action):
    offcut = keep_offcut(board=make_board(), along_mm=508, across_mm=304.8)

    assert viewer.post(f"/boards/offcuts/{offcut.pk}/{action}/").status_code == 403
    assert viewer.get(f"/boards/offcuts/{offcut.pk}/").status_code == 200
