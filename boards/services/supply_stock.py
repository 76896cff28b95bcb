"""Supplies in and out, in their units; what is on hand is what the last entry of the ledger says."""

from decimal import Decimal
from uuid import UUID

from django.db import transaction

from boards.models import Reason, Supply, SupplyMovement
from boards.services.ledgers import Ledger, StockRefused
from objects.core.words import say

Kind = SupplyMovement.Kind
UNITS = Ledger(SupplyMovement, Supply, "supply", "unit")


def receive_supply(
    *,
    supply: Supply,
    units: Decimal,
    by=None,
    note: str = "",
    paid: Decimal | None = None,
    entry_id: UUID | None = None,
) -> SupplyMovement:
    """Write in units that were delivered. paid: for all of them; None where nobody said."""
    return _write(supply, Kind.RECEIPT, _moved(units), by=by, note=note, paid=paid, entry_id=entry_id)


def use_supply(
    *,
    supply: Supply,
    units: Decimal,
    by=None,
    note: str = "",
    reference: str = "",
    entry_id: UUID | None = None,
) -> SupplyMovement:
    """Write out units that were taken to the bench."""
    return _write(supply, Kind.USE, -_moved(units), by=by, note=note, reference=reference, entry_id=entry_id)


def write_off_supply(
    *,
    supply: Supply,
    units: Decimal,
    by=None,
    note: str = "",
    reason: str = Reason.OTHER,
    entry_id: UUID | None = None,
) -> SupplyMovement:
    """Write out units that are spoiled, too old or missing, with the reason."""
    return _write(supply, Kind.WRITE_OFF, -_moved(units), by=by, note=note, reason=reason, entry_id=entry_id)


@transaction.atomic
def count_supply(
    *, supply: Supply, counted: Decimal, by=None, note: str = "", entry_id: UUID | None = None
) -> SupplyMovement:
    """Note how many units were counted; the ledger follows the count, and the difference can be read."""
    if counted < 0:
        raise StockRefused(say("{counted} units cannot have been counted. Enter 0 or more.", counted=counted))
    movement = UNITS.count(supply, _rounded(counted), by=by, note=note, entry_id=entry_id)
    return _follow(movement)


@transaction.atomic
def reverse_supply_movement(
    *, movement: SupplyMovement, by=None, note: str = "", entry_id: UUID | None = None
) -> SupplyMovement:
    """Undo a mistaken entry with a second one; an entry can be reversed once."""
    return _follow(UNITS.reverse(movement, by=by, note=note, reference=movement.reference, entry_id=entry_id))


@transaction.atomic
def _write(supply: Supply, kind: str, units: Decimal, **values) -> SupplyMovement:
    return _follow(UNITS.write(supply, kind, units, **values))


def _follow(movement: SupplyMovement) -> SupplyMovement:
    """The supply itself says what is on hand too, since budgets and lists read it there."""
    last = SupplyMovement.objects.filter(supply=movement.supply_id).order_by("sequence").last()
    Supply.objects.filter(pk=movement.supply_id).update(on_hand=last.balance)
    movement.supply.on_hand = last.balance
    return movement


def _moved(units: Decimal) -> Decimal:
    units = _rounded(units)
    if units <= 0:
        raise StockRefused(say("{units} units cannot be moved. Enter more than 0.", units=units))
    return units


def _rounded(units: Decimal) -> Decimal:
    return round(Decimal(units), 3)
