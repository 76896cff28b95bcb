"""Lists of boards: a board once, each of its sheets, and what is in stock at first."""

from decimal import Decimal

import pytest

from boards.intake import BoardList
from boards.models import Board, SheetSize, StockMovement
from objects.intake import preview

pytestmark = pytest.mark.django_db
HEADER = "Code,Name,Construction,Caliper,Sheet along flutes,Sheet across flutes,Price per sheet,Stock\n"
ROWS = (
    "B32,B-flute,single wall corrugated,1/8 in,60 in,40 in,17.60,80\n"
    "B32,B-flute,single wall corrugated,1/8 in,72 in,48 in,25.20,0\n"
)


def read(rows: str):
    return preview(BoardList(), (HEADER + rows).encode())


def save(rows: str) -> None:
    understood = read(rows)
    understood.kind.save(understood.kind.rows_to_write(understood.rows))


def test_rows_of_one_board_make_it_once_with_its_sheets_and_stock():
    save(ROWS)

    # 1/8 in = 3.175 mm; 60, 40, 72, 48 in = 1524, 1016, 1828.8, 1219.2 mm at 25.4 mm to the inch
    assert [board.caliper_mm for board in Board.objects.all()] == [Decimal("3.175")]
    assert list(SheetSize.objects.values_list("along_mm", "across_mm", "price")) == [
        (Decimal("1524"), Decimal("1016"), Decimal("17.60")),
        (Decimal("1828.8"), Decimal("1219.2"), Decimal("25.20")),
    ]
    assert list(StockMovement.objects.values_list("kind", "sequence", "quantity", "balance")) == [
        ("receipt", 1, 80, 80)
    ]


def test_a_list_taken_in_again_changes_nothing_and_adds_no_stock():
    save(ROWS)

    assert [row.status for row in read(ROWS).rows] == ["unchanged", "unchanged"]
    save(ROWS.replace("17.60", "18.00"))
    assert SheetSize.objects.first().price == Decimal("18.00")
    assert StockMovement.objects.count() == 1


def test_a_pack_is_taken_in_and_is_one_sheet_where_the_list_has_none():
    rows = ROWS.replace(",80\n", ",80,10\n")

    understood = preview(BoardList(), (HEADER.replace("Stock", "Stock,Pack") + rows).encode())
    understood.kind.save(understood.kind.rows_to_write(understood.rows))

    assert list(SheetSize.objects.values_list("pack", flat=True)) == [10, 1]


def test_a_pack_alone_is_changed_and_a_list_without_packs_keeps_it():
    save(ROWS)
    packs = HEADER.replace("Stock", "Stock,Pack") + ROWS.replace(",80\n", ",80,25\n")

    understood = preview(BoardList(), packs.encode())
    understood.kind.save(understood.kind.rows_to_write(understood.rows))
    save(ROWS.replace("17.60", "18.00"))

    assert [row.status for row in understood.rows] == ["changed", "unchanged"]
    assert list(SheetSize.objects.values_list("pack", "price")) == [
        (25, Decimal("18.00")), (1, Decimal("25.20")),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("pack", "told"),
    [
        ("0", "“0” is not between 1 and 10000. Check the figure."),
        ("10001", "“10001” is not between 1 and 10000. Check the figure."),
        ("2.5", "“2.5” is not a whole number."),
    ],
)
def test_a_pack_that_cannot_be_is_refused(pack, told):
    rows = ROWS.replace(",80\n", f",80,{pack}\n")

    reading = preview(BoardList(), (HEADER.replace("Stock", "Stock,Pack") + rows).encode()).rows[0]

    assert (reading.status, reading.messages) == ("refused", (f"Pack: {told}",))


@pytest.mark.parametrize(
    "row, told",
    [
        ("B1,Board,solid board,1/8 in,0 in,40 in,1,1", "Sheet along flutes: “0 in” is zero."),
        ("B1,Board,paper,1/8 in,60 in,40 in,1,1", "Construction: “paper” is not known here."),
        ("B1,Board,solid board,1/8 in,60 in,40 in,free,1", "Price per sheet: “free” is not a number."),
        ("B1,Board,solid board,1/8 in,60 in,40 in,1,1.5", "Stock: “1.5” is not a whole number."),
        ("B1,Board,solid board,,60 in,40 in,1,1", "A new board needs a name and a caliper."),
        ("B1,Board,solid board,1/8 in,60,40 in,1,1", "Sheet along flutes: “60” has no unit."),
    ],
)
def test_a_row_that_cannot_be_used_is_refused(row, told):
    (reading,) = read(row + "\n").rows

    assert (reading.status, reading.messages[0][: len(told)]) == ("refused", told)


def test_two_rows_that_tell_different_things_of_one_board_are_refused():
    rows = ROWS.replace("1/8 in,72 in", "1/4 in,72 in")

    assert read(rows).rows[1].messages == ("caliper differs from line 2, which is the same board.",)
