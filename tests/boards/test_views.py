"""The pages of the boards: what they show, entering boards and sheets, and stock in and out."""

from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from boards.models import Board, SheetSize
from boards.services import keep_offcut, receive_sheets, reverse_movement
from objects.models import Preferences
from tests.factories import balance_of, make_board, make_sheet_size, make_user

pytestmark = pytest.mark.django_db


@pytest.fixture
def manager(client):
    client.force_login(make_user("manager"))
    return client


@pytest.fixture
def maker(client):
    client.force_login(make_user("maker"))
    return client


def queries_of(client, address: str) -> int:
    client.get(address)
    with CaptureQueriesContext(connection) as made:
        assert client.get(address).status_code == 200
    return len(made)


def board_data(**given) -> dict:
    return {
        "code": "B-30", "name": "Blue board", "construction": "single_wall", "flute": "B",
        "caliper_mm": "1/8 in", "fold_share": "0.5", "grammage_g_m2": "", "standards": "",
        "edge_crush_kn_m": "", **given,
    }  # fmt: skip


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
    keep_offcut(board=size.board, along_mm=400, across_mm=300)
    once = queries_of(maker, f"/boards/{size.board_id}/")
    reverse_movement(movement=receive_sheets(sheet_size=size, count=1))
    keep_offcut(board=size.board, along_mm=500, across_mm=300)

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

    manager.post(f"/boards/{board.pk}/sheets/new/", {"along_mm": "1524", "across_mm": "40 in", "price": "9"})

    size = SheetSize.objects.get()
    assert (size.along_mm, size.across_mm) == (1524, 1016)  # 40 x 25.4


def test_sheets_are_received_and_written_off(maker):
    size = make_sheet_size()
    for action, count in (("receive", 9), ("write_off", 2)):
        maker.post(
            f"/boards/{size.board_id}/stock/", {"sheet_size": size.pk, "count": count, "action": action}
        )

    assert balance_of(size) == 7  # 9 - 2


def test_an_entry_is_reversed_and_an_offcut_taken_off_the_rack(maker):
    size = make_sheet_size()
    entry = receive_sheets(sheet_size=size, count=4)
    offcut = keep_offcut(board=size.board, along_mm=400, across_mm=300)

    maker.post(f"/boards/movements/{entry.pk}/reverse/")
    maker.post(f"/boards/offcuts/{offcut.pk}/gone/")

    assert balance_of(size) == 0
    assert list(maker.get(f"/boards/{size.board_id}/").context["offcuts"]) == []


# ---- Refused ---------------------------------------------------------------------------------------------


def test_more_than_the_stock_is_refused_beside_the_field(maker):
    size = make_sheet_size()

    answer = maker.post(
        f"/boards/{size.board_id}/stock/", {"sheet_size": size.pk, "count": 1, "action": "write_off"}
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

    answer = manager.post(
        f"/boards/{size.board_id}/sheets/new/", {"along_mm": "60 in", "across_mm": "40 in", "price": "9"}
    )

    assert list(answer.context["form"].errors) == ["along_mm"]


def test_a_price_below_zero_is_refused(manager):
    answer = manager.post(
        f"/boards/{make_board().pk}/sheets/new/", {"along_mm": "60", "across_mm": "40", "price": "-1"}
    )

    assert answer.context["form"].errors["price"] == ["Enter 0 or more."]


def test_a_viewer_changes_nothing_and_a_maker_no_board(client):
    size = make_sheet_size()
    client.force_login(make_user("viewer"))
    assert client.post(f"/boards/{size.board_id}/stock/", {}).status_code == 403
    client.force_login(make_user("maker"))
    assert client.post(f"/boards/{size.board_id}/edit/", board_data()).status_code == 403


def test_who_is_not_signed_in_is_asked_to(client):
    assert client.get("/boards/").status_code == 302


def test_a_board_that_is_not_there_is_missing(maker):
    assert maker.get("/boards/999/").status_code == 404
