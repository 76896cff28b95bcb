"""Random moves of sheets, supplies and offcuts: the ledgers agree with a plain book kept beside them."""

from decimal import Decimal
from uuid import UUID

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boards.models import Offcut, Supply
from boards.services import (
    StockRefused,
    count_sheets,
    count_supply,
    drop_offcut,
    keep_offcut,
    put_back_offcut,
    receive_sheets,
    receive_supply,
    reverse_movement,
    reverse_rack_entry,
    reverse_supply_movement,
    use_offcut,
    use_sheets,
    use_supply,
    write_off_sheets,
    write_off_supply,
)
from boards.services.stock import SHEETS
from tests.examples import few
from tests.factories import make_board, make_sheet_size

pytestmark = pytest.mark.django_db
RECEIVE, USE, WRITE_OFF, COUNT, REVERSE = "receive", "use", "write off", "count", "reverse"
MOVES = st.lists(
    st.tuples(
        st.sampled_from((RECEIVE, USE, WRITE_OFF, COUNT, REVERSE)),
        st.integers(0, 9),
        st.booleans(),  # whether the form is sent a second time
    ),
    max_size=14,
)


class Book:
    """A plain ledger: what came and went, and what was taken back. The check from outside."""

    def __init__(self) -> None:
        self.quantities: list = []
        self.is_closed: list[bool] = []  # reversed, or a reversal

    def enter(self, what: str, number, place: int) -> bool:
        """Whether it may be; then it is noted."""
        there = sum(self.quantities)
        if what == REVERSE:
            if place >= len(self.quantities) or self.is_closed[place] or not self.quantities[place]:
                return False
            quantity = -self.quantities[place]
        else:
            quantity = {RECEIVE: number, USE: -number, WRITE_OFF: -number, COUNT: number - there}[what]
            if not number and what != COUNT:
                return False
        if there + quantity < 0:
            return False
        if what == REVERSE:
            self.is_closed[place] = True
        self.quantities.append(quantity)
        self.is_closed.append(what == REVERSE)
        return True


def of_sheets():
    size = make_sheet_size()

    def move(what: str, number: int, key: UUID):
        services = {RECEIVE: receive_sheets, USE: use_sheets, WRITE_OFF: write_off_sheets}
        if what == COUNT:
            return count_sheets(sheet_size=size, counted=number, entry_id=key)
        return services[what](sheet_size=size, count=number, entry_id=key)

    def on_hand():
        return SHEETS.balance(size)

    return size, move, reverse_movement, int, on_hand


def of_supply():
    supply = Supply.objects.create(name=f"Tissue {Supply.objects.count()}", kind="tissue", unit="m")

    def move(what: str, number: Decimal, key: UUID):
        services = {RECEIVE: receive_supply, USE: use_supply, WRITE_OFF: write_off_supply}
        if what == COUNT:
            return count_supply(supply=supply, counted=number, entry_id=key)
        return services[what](supply=supply, units=number, entry_id=key)

    def on_hand():
        return Supply.objects.get(pk=supply.pk).on_hand

    return supply, move, reverse_supply_movement, lambda number: Decimal(number) / 8, on_hand


@pytest.mark.parametrize("kind", [of_sheets, of_supply])
@few(25)
@given(moves=MOVES)
def test_a_ledger_balances_whatever_is_entered_in_whichever_order(kind, moves):
    thing, move, reverse, amount, on_hand = kind()
    book, entries = Book(), []
    for turn, (what, number, is_sent_twice) in enumerate(moves):
        key = UUID(int=thing.pk * 10_000 + turn + (1 << 100 if kind is of_supply else 0))
        may_be = book.enter(what, amount(number), number)
        for _ in range(1 + is_sent_twice):
            try:
                if what == REVERSE:
                    if number >= len(entries):
                        break
                    made = reverse(movement=entries[number], entry_id=key)
                else:
                    made = move(what, amount(number), key)
            except StockRefused:
                assert not may_be
            else:
                assert may_be
                if made not in entries:
                    entries.append(made)

    rows = list(thing.movements.order_by("sequence").values_list("sequence", "quantity", "balance"))

    assert [quantity for _, quantity, _ in rows] == book.quantities
    assert [sequence for sequence, _, _ in rows] == list(range(1, len(rows) + 1))  # without a gap
    assert [balance for _, _, balance in rows] == [
        sum(book.quantities[: place + 1]) for place in range(len(rows))
    ]
    assert all(balance >= 0 for _, _, balance in rows)
    assert on_hand() == sum(book.quantities)


@few(25)
@given(
    moves=st.lists(
        st.tuples(st.sampled_from(("take", "throw", "miss", "back", "reverse")), st.integers(0, 6)),
        max_size=12,
    )
)
def test_the_rack_agrees_with_the_last_entry_that_stands(moves):
    offcut = keep_offcut(board=make_board(), along_mm=400, across_mm=300)
    book = ["kept"]  # what stands, the last on top
    numbers = [0]  # their places among all entries
    length = 1
    for what, place in moves:
        entries = list(offcut.entries.order_by("pk"))
        is_there = book[-1:] == ["kept"]
        if what in ("take", "throw", "miss"):
            changes = is_there
            kind = {"take": "taken", "throw": "thrown", "miss": "gone"}[what]
        elif what == "back":
            changes, kind = not is_there and bool(book), None
        else:
            changes, kind = bool(numbers) and place == numbers[-1], None
        try:
            if what == "take":
                use_offcut(offcut=offcut, note="")
            elif what in ("throw", "miss"):
                drop_offcut(offcut=offcut, thrown=what == "throw")
            elif what == "back":
                put_back_offcut(offcut=offcut)
            elif place < len(entries):
                reverse_rack_entry(entry=entries[place])
        except StockRefused:
            assert not changes
        if changes:
            if kind:
                book.append(kind)
                numbers.append(length)
            else:
                book.pop()
                numbers.pop()
            length += 1

    kinds = list(offcut.entries.order_by("pk").values_list("kind", flat=True))

    assert len(kinds) == length
    assert (Offcut.objects.get(pk=offcut.pk).gone_at is None) == (book[-1:] == ["kept"])


# ---- Forms sent twice ------------------------------------------------------------------------------------


def test_a_form_for_other_goods_does_not_pass_for_the_first_one():
    first, other = make_sheet_size(), make_sheet_size()
    key = UUID(int=7)
    receive_sheets(sheet_size=first, count=2, entry_id=key)

    with pytest.raises(StockRefused, match="for other goods already"):
        receive_sheets(sheet_size=other, count=2, entry_id=key)


def test_an_offcut_is_put_on_the_rack_once_though_its_form_is_sent_twice():
    board = make_board()

    kept = [
        keep_offcut(board=board, along_mm=400, across_mm=300, entry_id=UUID(int=number))
        for number in (3, 3, 4)
    ]

    assert kept[0] == kept[1] != kept[2]
    assert Offcut.objects.count() == 2


def test_more_than_can_be_kept_is_refused():
    size = make_sheet_size()

    with pytest.raises(StockRefused, match="more than the 9,999,999 that can be kept"):
        receive_sheets(sheet_size=size, count=10_000_000)
