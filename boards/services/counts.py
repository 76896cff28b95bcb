"""Counting everything of a board or a kind at once: all of it is noted, or nothing."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from uuid import UUID, uuid5

from django.db import transaction

from boards.models import SheetSize, StockMovement, Supply, SupplyMovement
from boards.services.ledgers import Ledger, StockRefused
from boards.services.stock import SHEETS, count_sheets
from boards.services.supply_stock import UNITS, count_supply
from objects.core.words import say


class CountRefused(StockRefused):
    """The ledger went on while somebody counted. now: by place among the counts what it says by now."""

    def __init__(self, now: Mapping[int, Decimal]) -> None:
        super().__init__(
            say(
                "Stock moved while you counted, so nothing is saved yet. Look at the marked rows, correct "
                "what you counted if need be, and save again."
            )
        )
        self.now = now


@dataclass(frozen=True)
class Counted:
    """What was counted of a sheet size or a supply, and what the ledger said when it was counted."""

    thing: SheetSize | Supply
    counted: Decimal
    expected: Decimal

    @property
    def ledger(self) -> Ledger:
        return SHEETS if isinstance(self.thing, SheetSize) else UNITS


@transaction.atomic
def count_all(
    *, counts: Sequence[Counted], by=None, note: str = "", entry_id: UUID | None = None
) -> list[StockMovement | SupplyMovement]:
    """Note all counts in one step, each as an entry of its ledger, also where nothing differs.

    entry_id: of the form as a whole. Raises CountRefused where a ledger says something else by now than when
    it was counted, and then nothing is noted.
    """
    keys = [_key(entry_id, one.thing) for one in counts]
    in_order = sorted(
        range(len(counts)), key=lambda place: (counts[place].ledger.name, counts[place].thing.pk)
    )
    now = {place: Decimal(counts[place].ledger.balance(counts[place].thing)) for place in in_order}
    known = [one.ledger.known(one.thing, key) for one, key in zip(counts, keys, strict=True)]
    if counts and all(known):
        return known
    if moved := {place: there for place, there in now.items() if there != counts[place].expected}:
        raise CountRefused(moved)
    return [_count(one, by, note, key) for one, key in zip(counts, keys, strict=True)]


def _count(one: Counted, by, note: str, key: UUID | None) -> StockMovement | SupplyMovement:
    if isinstance(one.thing, SheetSize):
        return count_sheets(sheet_size=one.thing, counted=int(one.counted), by=by, note=note, entry_id=key)
    return count_supply(supply=one.thing, counted=one.counted, by=by, note=note, entry_id=key)


def _key(entry_id: UUID | None, thing: SheetSize | Supply) -> UUID | None:
    return uuid5(entry_id, f"{thing._meta.model_name}:{thing.pk}") if entry_id else None
