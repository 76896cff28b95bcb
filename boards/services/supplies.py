"""Supplies, price breaks and suppliers: what they are kept as, and when they may go."""

from collections.abc import Sequence
from decimal import Decimal

from django.db import transaction

from boards.models import PriceBreak, SheetSize, Supplier, Supply
from boards.services.supply_stock import count_supply
from objects.core.phrases import joined
from objects.core.refusals import Refusal
from objects.core.words import noted, say, say_count


class SupplierInUse(Refusal):
    """A supplier cannot be deleted; the message says who still names it."""


class SupplyInUse(Refusal):
    """A supply cannot be deleted; the message says what is kept of it."""


@transaction.atomic
def save_supply(
    *, supply: Supply, breaks: Sequence[tuple[int, Decimal]], there: Decimal | None = None, by=None
) -> Supply:
    """Keep a supply with its price breaks; the usual one of its kind takes that from the one before.

    What is on hand is left as it is: only the ledger moves it. there: what was counted of a new one.
    """
    if supply.is_usual:
        Supply.objects.filter(kind=supply.kind, is_usual=True).exclude(pk=supply.pk).update(is_usual=False)
    if supply.pk is None:
        supply.on_hand = Decimal()
        supply.save()
        if there:
            count_supply(supply=supply, counted=there, by=by, note=noted("There when the supply was entered"))
    else:
        columns = [
            field.name for field in Supply._meta.concrete_fields if field.name not in ("id", "on_hand")
        ]
        supply.save(update_fields=columns)
    store_breaks(of=supply, breaks=breaks)
    return supply


@transaction.atomic
def store_breaks(*, of: SheetSize | Supply, breaks: Sequence[tuple[int, Decimal]]) -> None:
    """Give a sheet or a supply these price breaks and no others; the same ones are left as they are."""
    kept = dict(of.price_breaks.values_list("least", "price"))
    wanted = dict(breaks)
    if kept == wanted:
        return
    of.price_breaks.all().delete()
    name = "sheet_size" if isinstance(of, SheetSize) else "supply"
    PriceBreak.objects.bulk_create(
        PriceBreak(**{name: of}, least=least, price=price) for least, price in sorted(wanted.items())
    )


@transaction.atomic
def delete_supply(*, supply: Supply) -> None:
    """Take a supply off the list with its price breaks; budgets made before keep what they say.

    Raises SupplyInUse for one that has a ledger, since entries are never deleted.
    """
    if entries := supply.movements.count():
        raise SupplyInUse(
            say_count(
                "{supply} has {count:,} entry in its ledger, and these are kept. Enter the day from which it "
                "is no longer sold instead.",
                "{supply} has {count:,} entries in its ledger, and these are kept. Enter the day from which "
                "it is no longer sold instead.",
                entries,
                supply=supply,
            )
        )
    supply.delete()


@transaction.atomic
def delete_supplier(*, supplier: Supplier) -> None:
    """Take a supplier off the list. Raises SupplierInUse while anything is bought there."""
    used = [
        f"{number:,} {_named(relation.related_model, number)}"
        for relation in Supplier._meta.related_objects
        if (number := getattr(supplier, relation.get_accessor_name()).count())
    ]
    if used:
        raise SupplierInUse(
            say(
                "{supplier} still sells {used}. Enter another one there, then delete this one.",
                supplier=supplier,
                used=joined(used),
            )
        )
    supplier.delete()


def _named(model, number: int) -> str:
    return str(model._meta.verbose_name if number == 1 else model._meta.verbose_name_plural)
