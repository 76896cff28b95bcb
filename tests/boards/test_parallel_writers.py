"""Sixteen people write to the same ledgers at once, each with a connection of their own; nothing is lost."""

import json

import pytest

from boards.models import Supply
from boards.services import keep_offcut, receive_sheets, receive_supply
from tests.factories import make_sheet_size
from tests.shared_database import SharedDatabase

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.any_database]
WRITERS, EACH = 16, 8

# Every writer says what it was told, so that its entries can be looked for in the ledgers.
SCRIPT = """
import json, random, sys, django
from concurrent.futures import ThreadPoolExecutor
from threading import Barrier
from uuid import UUID
django.setup()
from django.db import connection
from boards import services
from boards.models import Offcut, SheetSize, Supply
size, supply, offcut, writers, each = map(int, sys.argv[1:])
start = Barrier(writers)
def write(number):
    chance, told = random.Random(number), {"sheets": [], "units": [], "took": 0, "faults": []}
    sheets, units = SheetSize.objects.get(pk=size), Supply.objects.get(pk=supply)
    start.wait()
    def attempt(kind, act, **given):
        try:
            made = act(**given)
        except services.StockRefused:
            return None
        except Exception as fault:
            told["faults"].append(repr(fault))
            return None
        if kind:
            told[kind].append([made.pk, float(made.quantity)])
        return made
    attempt("sheets", services.receive_sheets, sheet_size=sheets, count=1, entry_id=UUID(int=77))
    piece = Offcut.objects.get(pk=offcut)
    told["took"] = attempt(None, services.use_offcut, offcut=piece, note="") is not None
    for _ in range(each):
        some = chance.randint(1, 4)
        act = chance.choice([services.receive_sheets, services.use_sheets, services.write_off_sheets])
        made = attempt("sheets", act, sheet_size=sheets, count=some)
        if made and chance.random() < 0.3:
            attempt("sheets", services.reverse_movement, movement=made)
        if chance.random() < 0.4:
            act = chance.choice([services.receive_supply, services.use_supply])
            attempt("units", act, supply=units, units=some)
    if number % 4 == 0:
        attempt("sheets", services.count_sheets, sheet_size=sheets, counted=number)
    connection.close()
    return told
with ThreadPoolExecutor(writers) as pool:
    print(json.dumps(list(pool.map(write, range(writers)))))
"""


def test_sixteen_writers_at_once_lose_nothing_and_keep_the_balance(tmp_path):
    size = make_sheet_size()
    supply = Supply.objects.create(name="Glue stick", kind="glue", unit="stick")
    receive_sheets(sheet_size=size, count=5)
    receive_supply(supply=supply, units=5)
    offcut = keep_offcut(board=size.board, along_mm=400, across_mm=300)
    shared = SharedDatabase(tmp_path)

    with shared.start(SCRIPT, *map(str, (size.pk, supply.pk, offcut.pk, WRITERS, EACH))) as writing:
        told = json.loads(writing.stdout.read())

    assert [fault for writer in told for fault in writer["faults"]] == []
    assert sum(writer["took"] for writer in told) == 1
    sheets = shared.rows("boards_stockmovement", "id, sequence, quantity, balance")
    units = shared.rows("boards_supplymovement", "id, sequence, quantity, balance")
    for kind, rows in (("sheets", sheets), ("units", units)):
        entries = {pk: quantity for writer in told for pk, quantity in writer[kind]}
        assert {pk: float(quantity) for pk, _, quantity, _ in rows[1:]} == entries
        in_order = sorted(rows, key=lambda row: row[1])
        assert [sequence for _, sequence, _, _ in in_order] == list(range(1, len(rows) + 1))
        running = 0
        for _, _, quantity, balance in in_order:
            running += quantity
            assert balance == running >= 0
    same_form = {writer["sheets"][0][0] for writer in told}
    assert len(same_form) == 1  # one entry, though sixteen sent the form
    (on_hand,) = shared.rows("boards_supply", "on_hand")
    assert on_hand[0] == max(units, key=lambda row: row[1])[3]
    assert len(sheets) > WRITERS
