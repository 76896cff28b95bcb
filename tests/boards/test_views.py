"""The pages of the boards: what they show, entering boards and sheets, and stock in and out."""

from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from boards.models import Board, Offcut, SheetSize
from boards.services import keep_offcut, receive_sheets, reverse_movement, use_offcut
from objects.models import Preferences
from tests.factories import balance_of, make_board, make_sheet_size, make_user

pytestmark = pytest.mark.django_db


def queries_of(client, address: str) -> int:
    client.get(address)
    with CaptureQueriesContext(connection) as made:
        assert client.get(address).status_code == 200
    return len(made)


def put_on_the_rack_and_take_off(board: Board, number: int) -> None:
    """So many offcuts that stand on the rack, and as many that are gone, each by somebody else."""
    for _ in range(number):
        keep_offcut(board=board, along_mm=400, across_mm=300, by=make_user("maker"))
        gone = keep_offcut(board=board, along_mm=500, across_mm=300, by=make_user("maker"))
        use_offcut(offcut=gone, by=make_user("maker"), note="Used for Sheet 1")


def board_data(**given) -> dict:
    return {
        "code": "B-30", "name": "Blue board", "construction": "single_wall", "flute": "B",
        "caliper_mm": "1/8 in", "fold_share": "0.5", "grammage_g_m2": "", "standards": "",
        "edge_crush_kn_m": "", **given,
    }  # fmt: skip


def sheet_data(**given) -> dict:
    return {"along_mm": "60 in", "across_mm": "40 in", "price": "9", "pack": "1", **given}


def test_the_list_shows_the_balance_of_each_sheet(maker):
    size = make_sheet_size()
    receive_sheets(sheet_size=size, count=12)

    (board,) = maker.get("/boards/").context["boards"]

    assert [sheet.in_stock for sheet in board.sheet_sizes.all()] == [12]


def test_the_list_asks_the_database_as_often_for_three_boards_as_for_one(maker):
    make_sheet_size()
    once = queries_of(maker, "/boards/")
    make_sheet_size()
    make_sheet_size()

    assert queries_of(maker, "/boards/") == once


def test_the_page_of_a_board_asks_as_often_for_three_entries_as_for_one(maker):
    size = make_sheet_size()
    receive_sheets(sheet_size=size, count=1)
    put_on_the_rack_and_take_off(size.board, 1)
    once = queries_of(maker, f"/boards/{size.board_id}/")
    reverse_movement(movement=receive_sheets(sheet_size=size, count=1))
    put_on_the_rack_and_take_off(size.board, 2)

    assert queries_of(maker, f"/boards/{size.board_id}/") == once


def test_a_board_is_entered_with_its_caliper_in_inches(manager):
    manager.post("/boards/new/", board_data())

    assert Board.objects.get().caliper_mm == Decimal("3.175")  # 1/8 x 25.4


def test_an_odd_caliper_stays_exact_when_the_board_is_saved_again(manager):
    board = make_board(caliper_mm=Decimal("1.6"))  # not a whole number of sixteenths
    address = f"/boards/{board.pk}/edit/"
    shown = manager.get(address).context["form"]["caliper_mm"].value()

    manager.post(address, board_data(caliper_mm=shown))

    board.refresh_from_db()
    assert board.caliper_mm == Decimal("1.6")


def test_a_sheet_is_entered_in_the_unit_of_the_reader(manager):
    board = make_board()
    user = make_user("manager")
    Preferences.objects.create(user=user, length_unit="mm")
    manager.force_login(user)

    manager.post(f"/boards/{board.pk}/sheets/new/", sheet_data(along_mm="1524"))

    size = SheetSize.objects.get()
    assert (size.along_mm, size.across_mm) == (1524, 1016)  # 40 x 25.4


@pytest.mark.parametrize(("pack", "words"), [(1, "single"), (25, "25"), (1000, "1,000")])
def test_the_page_of_a_board_says_how_many_sheets_are_in_a_pack(manager, pack, words):
    board = make_board()

    manager.post(f"/boards/{board.pk}/sheets/new/", sheet_data(pack=pack))

    assert SheetSize.objects.get().pack == pack
    assert f'data-label="Sheets in a pack">{words}</td>' in manager.get(f"/boards/{board.pk}/").text


def test_a_new_pack_makes_plans_of_its_board_out_of_date(manager):
    size = make_sheet_size()

    manager.post(f"/boards/sheets/{size.pk}/edit/", sheet_data(pack=25))

    # plans are compared with when their boards changed
    assert Board.objects.get().changed_at > size.board.changed_at


def test_sheets_are_received_written_off_issued_and_counted(maker):
    size = make_sheet_size()
    moves = (("receive", 9), ("write_off", 2), ("use", 3), ("count", 5))
    for action, count in moves:
        told = {"sheet_size": size.pk, "count": count, "action": action}
        maker.post(
            f"/boards/{size.board_id}/stock/",
            {**told, "reason": "miscut", "paid_each": "11.20", "note": action},
        )

    rows = size.movements.values_list("kind", "quantity", "balance", "reason", "paid_each", "note")
    assert list(rows) == [
        ("receipt", 9, 9, "", Decimal("11.20"), "receive"),
        ("write_off", -2, 7, "miscut", None, "write_off"),
        ("use", -3, 4, "", None, "use"),
        ("count", 1, 5, "", None, "count"),  # 5 - 4
    ]


def test_an_entry_is_reversed(maker):
    size = make_sheet_size()
    entry = receive_sheets(sheet_size=size, count=4)

    maker.post(f"/boards/movements/{entry.pk}/reverse/")

    assert balance_of(size) == 0


def test_an_offcut_measured_at_the_rack_is_put_there_with_a_number(maker):
    board = make_board()
    measured = {"along_mm": "20", "across_mm": "12 1/2", "note": "Left end"}

    answer = maker.post(f"/boards/{board.pk}/offcuts/", measured, follow=True)

    (offcut,) = answer.context["offcuts"]
    # 20 and 12.5 x 25.4: a number alone is in the reader's unit, and that is inches
    assert (offcut.along_mm, offcut.across_mm, offcut.note) == (508, Decimal("317.5"), "Left end")
    assert offcut.kept_by == answer.context["user"]
    assert [str(m) for m in answer.context["messages"]] == [
        f"Offcut {offcut.pk} is on the rack. Write its number on it, or print its label."
    ]


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"along_mm": "0"}, {"along_mm": ["Enter more than 0."]}),
        # The largest sheet of the board is 60 x 40 in; 60 in and 40 in themselves will do.
        (
            {"along_mm": "61"},
            {"along_mm": ["61 in is more than any sheet of this board is long (60 in). Check the figure."]},
        ),
        (
            {"across_mm": "127 cm"},
            {"across_mm": ["50 in is more than any sheet of this board is wide (40 in). Check the figure."]},
        ),
        ({}, {}),
    ],
)
def test_an_offcut_larger_than_any_sheet_is_a_slip(maker, typed, said):
    board = make_sheet_size(along_mm=Decimal(1524), across_mm=Decimal(1016)).board
    measured = {"along_mm": "60", "across_mm": "40", **typed}

    answer = maker.post(f"/boards/{board.pk}/offcuts/", measured)

    assert (answer.context["rack_form"].errors if answer.context else {}) == said
    assert Offcut.objects.exists() == (not said)


@pytest.mark.parametrize(("unit", "told"), [("in", "40 × 32 in"), ("mm", "1016 × 812.8 mm")])
def test_sheets_to_write_in_or_out_are_told_in_the_unit_of_the_reader(maker, unit, told):
    size = make_sheet_size(along_mm=Decimal(1016), across_mm=Decimal("812.8"))  # by hand: / 25.4
    Preferences.objects.create(user=maker.get("/").context["user"], length_unit=unit)

    form = maker.get(f"/boards/{size.board_id}/").context["form"]

    assert [label for _, label in form.fields["sheet_size"].choices] == [f"{size.board.code} {told}"]


def test_an_offcut_is_called_by_its_number_on_the_rack_and_when_it_is_gone(maker):
    board = make_board()
    there = keep_offcut(board=board, along_mm=508, across_mm=304.8, note="From Sheet 3")
    gone = keep_offcut(board=board, along_mm=400, across_mm=300)

    maker.post(f"/boards/offcuts/{gone.pk}/gone/")

    page = maker.get(f"/boards/{board.pk}/")
    rack, left = page.text.split("<details>\n    <summary>Offcuts that are gone (1)")
    assert (f"Offcut {there.pk}</a></td>" in rack, f"Offcut {gone.pk}</a></td>" in rack) == (True, False)
    assert (f"Offcut {gone.pk}</a></td>" in left, "Not there any more</td>" in left) == (True, True)
    assert [offcut.gone_by for offcut in page.context["gone"]] == [page.context["user"]]


def test_what_left_the_rack_last_comes_first_and_is_shown_fifty_at_a_time(maker):
    board = make_board()
    offcuts = [keep_offcut(board=board, along_mm=400, across_mm=300) for _ in range(51)]
    for offcut in offcuts:
        use_offcut(offcut=offcut, note="Used for Sheet 1")

    first, second = (maker.get(f"/boards/{board.pk}/?gone={page}").context["gone"] for page in (1, 2))

    assert list(first) == offcuts[:0:-1]
    assert list(second) == offcuts[:1]


# ---- Refused ---------------------------------------------------------------------------------------------


def test_more_than_the_stock_is_refused_beside_the_field(maker):
    size = make_sheet_size()

    answer = maker.post(
        f"/boards/{size.board_id}/stock/", {"sheet_size": size.pk, "count": 1, "action": "use"}
    )

    assert answer.context["form"].errors["count"][0].startswith("Only 0 sheets")


def test_no_sheets_cannot_be_received(maker):
    size = make_sheet_size()

    answer = maker.post(
        f"/boards/{size.board_id}/stock/", {"sheet_size": size.pk, "count": 0, "action": "receive"}
    )

    assert answer.context["form"].errors == {"count": ["Enter 1 or more."]}


def test_a_second_reversal_is_refused_with_a_sentence(maker):
    size = make_sheet_size()
    entry = receive_sheets(sheet_size=size, count=4)
    reverse_movement(movement=entry)

    answer = maker.post(f"/boards/movements/{entry.pk}/reverse/", follow=True)

    assert [str(m) for m in answer.context["messages"]] == ["This entry has been reversed already."]


@pytest.mark.parametrize("caliper", ["0", "-1 mm", "thick", "40 m", ""])
def test_a_caliper_that_cannot_be_is_refused(manager, caliper):
    answer = manager.post("/boards/new/", board_data(caliper_mm=caliper))

    assert list(answer.context["form"].errors) == ["caliper_mm"]


def test_the_same_sheet_size_twice_is_refused(manager):
    size = make_sheet_size()

    answer = manager.post(f"/boards/{size.board_id}/sheets/new/", sheet_data())

    assert list(answer.context["form"].errors) == ["along_mm"]


def test_a_price_below_zero_is_refused(manager):
    answer = manager.post(f"/boards/{make_board().pk}/sheets/new/", sheet_data(price="-1"))

    assert answer.context["form"].errors["price"] == ["Enter 0 or more."]


@pytest.mark.parametrize(
    ("pack", "sentence"),
    [
        ("0", "Enter 1 to 10,000."), ("-1", "Enter 1 to 10,000."), ("10001", "Enter 1 to 10,000."),
        ("1.5", "Enter a whole number."), ("", "This field is required."),
    ],
)  # fmt: skip
def test_a_pack_that_cannot_be_is_refused(manager, pack, sentence):
    answer = manager.post(f"/boards/{make_board().pk}/sheets/new/", sheet_data(pack=pack))

    assert answer.context["form"].errors == {"pack": [sentence]}


@pytest.mark.parametrize("length", ["0", "-1 mm", "long", "40 m", ""])
def test_an_offcut_that_cannot_be_is_not_put_on_the_rack(maker, length):
    board = make_board()

    answer = maker.post(f"/boards/{board.pk}/offcuts/", {"along_mm": length, "across_mm": "12"})

    assert list(answer.context["rack_form"].errors) == ["along_mm"]
    assert not answer.context["form"].errors
    assert not Offcut.objects.exists()


def test_sheets_that_are_refused_leave_the_form_of_the_rack_alone(maker):
    size = make_sheet_size()

    answer = maker.post(f"/boards/{size.board_id}/stock/", {"sheet_size": size.pk, "action": "receive"})

    assert list(answer.context["form"].errors) == ["count"]
    assert not answer.context["rack_form"].errors


@pytest.mark.parametrize("address", ["/boards/999/offcuts/", "/boards/offcuts/999/gone/"])
def test_an_offcut_of_no_board_is_missing(maker, address):
    assert maker.post(address, {"along_mm": "20", "across_mm": "12"}).status_code == 404


def test_a_viewer_is_shown_the_rack_without_its_form(client):
    client.force_login(make_user("viewer"))
    offcut = keep_offcut(board=make_board(), along_mm=400, across_mm=300)

    page = client.get(f"/boards/{offcut.board_id}/").text

    assert (f"Offcut {offcut.pk}</a></td>" in page, "Put an offcut on the rack" in page) == (True, False)


def test_a_viewer_changes_nothing_and_a_maker_no_board(client):
    size = make_sheet_size()
    offcut = keep_offcut(board=size.board, along_mm=400, across_mm=300)
    client.force_login(make_user("viewer"))
    assert client.post(f"/boards/{size.board_id}/offcuts/", {}).status_code == 403
    assert client.post(f"/boards/offcuts/{offcut.pk}/gone/").status_code == 403
    assert client.post(f"/boards/{size.board_id}/stock/", {}).status_code == 403
    client.force_login(make_user("maker"))
    assert client.post(f"/boards/{size.board_id}/edit/", board_data()).status_code == 403


def test_who_is_not_signed_in_is_asked_to(client):
    assert client.get("/boards/").status_code == 302


def test_a_board_that_is_not_there_is_missing(maker):
    assert maker.get("/boards/999/").status_code == 404
