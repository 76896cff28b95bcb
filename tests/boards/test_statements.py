"""Statements about boards: the page, recording and taking back, lists, and the text they once stood in."""

import importlib
from datetime import date

import pytest
from django.apps import apps
from django.urls import reverse

from boards.intake import BoardList
from boards.models import Board, BoardStatement
from boards.queries import standards_stated, standards_stated_of
from boards.services import delete_statement, record_statement
from objects.intake import preview
from tests.factories import make_board, make_user

pytestmark = pytest.mark.django_db
LIST = (
    "Code,Name,Caliper,Standards,Sheet along flutes,Sheet across flutes,Price per sheet\n"
    'B32,B-flute,1/8 in,"ISO 16245; ISO 18916 (PAT), supplier statement; pH neutral",60 in,40 in,17.60\n'
    'B32,B-flute,1/8 in,"ISO 16245; ISO 18916 (PAT), supplier statement; pH neutral",72 in,48 in,25.20\n'
)


def make_statement(**given) -> BoardStatement:
    board = given.pop("board", None) or make_board()
    return BoardStatement.objects.create(
        **{"board": board, "standard": "iso_18916", "stated_by": "Supplier", **given}
    )


def typed(**given) -> dict[str, str]:
    return {
        "standard": "iso_16245_a",
        "stated_by": "Supplier",
        "stated_on": "2026-03-02",
        "note": "",
        **given,
    }


def read(text: str):
    return preview(BoardList(), text.encode())


def save(text: str, by=None) -> None:
    understood = read(text)
    understood.kind.save(understood.kind.rows_to_write(understood.rows), by)


# ---- Queries and services --------------------------------------------------------------------------------


def test_standards_stated_of_many_boards_take_one_query(django_assert_num_queries):
    first, second, third = (make_board() for _ in range(3))
    make_statement(board=first)
    make_statement(board=first, stated_by="Laboratory")
    make_statement(board=second, standard="oddy")

    with django_assert_num_queries(1):
        stated = standards_stated_of([first.pk, second.pk, third.pk])

    assert stated == {first.pk: {"iso_18916"}, second.pk: {"oddy"}, third.pk: set()}
    assert standards_stated(first) == {"iso_18916"}


def test_a_statement_is_kept_with_who_recorded_it_and_can_be_taken_back():
    manager, board = make_user("manager"), make_board()

    kept = record_statement(
        statement=BoardStatement(board=board, standard="oddy", stated_by="Laboratory"), by=manager
    )

    assert (kept.recorded_by, standards_stated(board)) == (manager, {"oddy"})
    delete_statement(statement=kept)
    assert list(board.statements.all()) == []


# ---- Pages -----------------------------------------------------------------------------------------------


def test_the_board_page_tells_what_is_stated_by_whom_and_when(client):
    client.force_login(make_user())
    statement = make_statement(standard="iso_18902", stated_on=date(2026, 3, 2), note="Batch 7")

    page = client.get(reverse("boards:board-detail", args=[statement.board_id])).content.decode()

    for said in (
        "ISO 18902, enclosures for photographs", "Supplier", "2 Mar 2026", "Batch 7",
        "A wish for ISO 18916 is answered too: ISO 18902 includes a pass of the photographic activity test.",
        "It proves nothing of the sheets on your bench",
    ):  # fmt: skip
        assert said in page
    assert "New statement" not in page


def test_a_board_without_statements_says_so(client):
    client.force_login(make_user())

    page = client.get(reverse("boards:board-detail", args=[make_board().pk])).content.decode()

    assert "Nobody states that this board meets a standard." in page


@pytest.mark.parametrize("is_buffered", [True, False])
def test_the_board_page_calls_no_board_harmful_for_its_reserve(client, is_buffered):
    client.force_login(make_user())

    page = client.get(reverse("boards:board-detail", args=[make_board(is_buffered=is_buffered).pk]))

    # photograph conservators and the standards' committee: no harm from buffered enclosures is shown
    assert "No harm from buffered board in a box is proven." in page.content.decode()
    assert ("Cautious practice prefers it" in page.content.decode()) is not is_buffered


def test_the_board_page_makes_as_many_queries_with_three_statements_as_with_one(
    client, django_assert_max_num_queries
):
    client.force_login(make_user())
    board = make_board()
    address = reverse("boards:board-detail", args=[board.pk])
    by = make_user()
    make_statement(board=board, recorded_by=by)
    with django_assert_max_num_queries(100) as with_one:
        client.get(address)
    for key in ("oddy", "iso_9706"):
        make_statement(board=board, standard=key, recorded_by=by)

    with django_assert_max_num_queries(len(with_one)):
        client.get(address)


def test_a_manager_records_changes_and_deletes_a_statement(client):
    manager, board = make_user("manager"), make_board()
    client.force_login(manager)

    client.post(reverse("boards:statement-new", args=[board.pk]), typed())
    statement = board.statements.get()
    client.post(reverse("boards:statement-edit", args=[statement.pk]), typed(stated_by="Laboratory"))

    statement.refresh_from_db()
    assert (statement.standard, statement.stated_by, statement.stated_on, statement.recorded_by) == (
        "iso_16245_a", "Laboratory", date(2026, 3, 2), manager,
    )  # fmt: skip
    client.post(reverse("boards:statement-delete", args=[statement.pk]), {"confirmed": "yes"})
    assert not board.statements.exists()


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        ({"stated_by": ""}, "Say who states it, such as the supplier."),
        ({"standard": "iso_1"}, "Select a valid choice. iso_1 is not one of the available choices."),
        ({"stated_on": "3000-01-01"}, "This day is still to come. Enter the day on which it was stated."),
    ],
)
def test_a_statement_that_cannot_be_is_refused(client, wrong, told):
    client.force_login(make_user("manager"))
    board = make_board()

    page = client.post(reverse("boards:statement-new", args=[board.pk]), typed(**wrong))

    assert told in page.content.decode()
    assert not board.statements.exists()


@pytest.mark.parametrize("role", ["viewer", "maker", "surveyor"])
@pytest.mark.parametrize("name", ["statement-new", "statement-edit", "statement-delete"])
def test_only_managers_change_statements(client, role, name):
    client.force_login(make_user(role))
    statement = make_statement()
    pk = statement.board_id if name == "statement-new" else statement.pk

    assert client.post(reverse(f"boards:{name}", args=[pk]), typed()).status_code == 403
    assert standards_stated(statement.board) == {"iso_18916"}


# ---- Lists -----------------------------------------------------------------------------------------------


def test_a_board_list_gives_statements_and_leaves_what_else_it_says():
    manager = make_user("manager")

    save(LIST, by=manager)

    board = Board.objects.get()
    assert board.standards == "pH neutral"
    assert list(board.statements.values_list("standard", "stated_by", "note", "recorded_by")) == [
        ("iso_16245", "Supplier", "From a board list", manager.pk),
        ("iso_18916", "Supplier", "From a board list", manager.pk),
    ]


def test_a_board_list_taken_in_again_changes_no_statement():
    save(LIST)

    assert [row.status for row in read(LIST).rows] == ["unchanged", "unchanged"]
    save(LIST.replace("17.60", "18.00"))
    assert BoardStatement.objects.count() == 2


def test_a_statement_new_in_a_list_is_added_to_those_there_are():
    save(LIST)
    added = LIST.replace("pH neutral", "Oddy test, laboratory; pH neutral")

    (nothing, new) = read(added).rows[0].changes["statements"]
    assert (nothing, [str(each) for each in new]) == ([], ["Oddy test, stated by Laboratory"])
    save(added)
    assert sorted(Board.objects.get().statements.values_list("standard", "stated_by")) == [
        ("iso_16245", "Supplier"), ("iso_18916", "Supplier"), ("oddy", "Laboratory"),
    ]  # fmt: skip


# ---- The text they were once kept in ---------------------------------------------------------------------


def test_statements_are_taken_out_of_the_earlier_text_and_can_be_put_back():
    move = importlib.import_module("boards.migrations.0005_statements_out_of_text")
    board = make_board(standards="ISO 18916 (PAT), supplier statement; pH neutral")
    plain = make_board(standards="lignin-free")

    move.text_to_statements(apps, None)

    board.refresh_from_db()
    plain.refresh_from_db()
    assert (board.standards, plain.standards) == ("pH neutral", "lignin-free")
    assert list(BoardStatement.objects.values_list("board", "standard", "stated_by", "note")) == [
        (board.pk, "iso_18916", "Supplier", "From the board's earlier text")
    ]
    move.statements_to_text(apps, None)
    board.refresh_from_db()
    assert (board.standards, BoardStatement.objects.count()) == (
        "ISO 18916, stated by Supplier; pH neutral", 0,
    )  # fmt: skip
