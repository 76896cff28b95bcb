"""The ledger: the balance is the sum of all entries, never below zero, and mistakes are reversed."""

import pytest
from django.db import IntegrityError, transaction

from boards.models import StockMovement
from boards.services import (
    StockRefused,
    drop_offcut,
    keep_offcut,
    receive_sheets,
    reverse_movement,
    use_offcut,
    use_sheets,
    write_off_sheets,
)
from tests.factories import balance_of, make_board, make_sheet_size, make_user

pytestmark = [pytest.mark.django_db, pytest.mark.any_database]


def test_the_balance_is_the_sum_of_what_came_and_went():
    size = make_sheet_size()

    receive_sheets(sheet_size=size, count=20)
    use_sheets(sheet_size=size, count=3)
    write_off_sheets(sheet_size=size, count=2)

    assert balance_of(size) == 15  # 20 - 3 - 2
    assert list(size.movements.values_list("balance", flat=True)) == [20, 17, 15]


def test_a_reversal_brings_the_balance_back_and_keeps_both_entries():
    size = make_sheet_size()
    receive_sheets(sheet_size=size, count=5)
    mistake = receive_sheets(sheet_size=size, count=50)

    reverse_movement(movement=mistake)

    assert list(size.movements.values_list("quantity", flat=True)) == [5, 50, -50]
    assert balance_of(size) == 5


def test_an_offcut_is_kept_and_used_and_the_ledger_says_by_whom_and_for_what():
    keeper, cutter = make_user("maker"), make_user("maker")
    offcut = keep_offcut(board=make_board(), along_mm=400, across_mm=300, note="From Sheet 1", by=keeper)

    use_offcut(offcut=offcut, by=cutter, note="Used for Sheet 4 of Cutting plan of The move")

    offcut.refresh_from_db()
    assert (offcut.kept_by, offcut.note, offcut.gone_by) == (keeper, "From Sheet 1", cutter)
    assert offcut.gone_at is not None
    assert offcut.gone_note == "Used for Sheet 4 of Cutting plan of The move"


def test_an_offcut_that_is_missed_leaves_the_rack():
    offcut = keep_offcut(board=make_board(), along_mm=400, across_mm=300)

    drop_offcut(offcut=offcut)

    offcut.refresh_from_db()
    assert offcut.gone_at is not None
    assert (offcut.gone_by, offcut.gone_note) == (None, "Not there any more")


def test_a_note_too_long_to_be_kept_is_cut():
    offcut = keep_offcut(board=make_board(), along_mm=400, across_mm=300, note="n" * 201)

    used = use_offcut(offcut=offcut, note="u" * 201)

    assert (offcut.note, used.gone_note) == ("n" * 200, "u" * 200)  # 200 is what the columns hold


# ---- Refused ---------------------------------------------------------------------------------------------


def test_more_than_there_is_cannot_go_out():
    size = make_sheet_size()
    receive_sheets(sheet_size=size, count=2)

    with pytest.raises(StockRefused, match="Only 2 sheets"):
        use_sheets(sheet_size=size, count=3)

    assert balance_of(size) == 2


@pytest.mark.parametrize("count", [0, -4])
def test_no_sheets_cannot_be_moved(count):
    with pytest.raises(StockRefused, match="Enter 1 or more"):
        receive_sheets(sheet_size=make_sheet_size(), count=count)


def test_an_entry_is_reversed_once_and_a_reversal_never():
    entry = receive_sheets(sheet_size=make_sheet_size(), count=2)
    reversal = reverse_movement(movement=entry)

    with pytest.raises(StockRefused, match="already"):
        reverse_movement(movement=entry)
    with pytest.raises(StockRefused, match="cannot be reversed"):
        reverse_movement(movement=reversal)


def test_a_delivery_already_cut_up_cannot_be_reversed():
    size = make_sheet_size()
    delivery = receive_sheets(sheet_size=size, count=2)
    use_sheets(sheet_size=size, count=1)

    with pytest.raises(StockRefused, match="Only 1 sheet of .* is in stock, and 2 would go out"):
        reverse_movement(movement=delivery)


def test_an_offcut_is_used_once_and_the_refusal_says_what_became_of_it():
    offcut = keep_offcut(board=make_board(code="B32"), along_mm=400, across_mm=300)
    use_offcut(offcut=offcut, note="Used for Sheet 4")

    with pytest.raises(StockRefused) as refused:
        use_offcut(offcut=offcut, note="Used for Sheet 5")

    offcut.refresh_from_db()
    assert offcut.gone_note == "Used for Sheet 4"
    assert str(refused.value) == (
        f"Offcut {offcut.pk}: 400 × 300 mm B32 is no longer on the rack. "
        f"It left on {offcut.gone_at:%d %B %Y}: Used for Sheet 4."
    )


def test_an_offcut_that_was_used_is_not_missed_as_well():
    offcut = keep_offcut(board=make_board(), along_mm=400, across_mm=300)
    use_offcut(offcut=offcut, note="Used for Sheet 4")

    drop_offcut(offcut=offcut)

    offcut.refresh_from_db()
    assert offcut.gone_note == "Used for Sheet 4"


def test_the_database_itself_refuses_a_pack_of_no_sheets():
    with pytest.raises(IntegrityError), transaction.atomic():
        make_sheet_size(pack=0)


def test_the_database_itself_refuses_a_balance_below_zero():
    size = make_sheet_size()

    with pytest.raises(IntegrityError), transaction.atomic():
        StockMovement.objects.create(sheet_size=size, sequence=1, kind="use", quantity=-1, balance=-1)
