"""Adding to a ledger, of sheets or of a supply: one entry behind the other, never below zero."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any, NamedTuple
from uuid import UUID

from django.db import IntegrityError, models, transaction

from objects.core.refusals import Refusal
from objects.core.words import noted, say

LONGEST_NOTE = 200
MOST = 9_999_999  # sheets or units of one kind, as many as the columns hold
type Amount = int | Decimal
# By what a ledger counts: of the first pair, one of it is there or several.
TOO_FEW = {
    "sheet": (
        noted(
            "Only {there} sheet of {thing} is in stock, and {out} would go out. Count the stock or receive "
            "a delivery."
        ),
        noted(
            "Only {there} sheets of {thing} are in stock, and {out} would go out. Count the stock or receive "
            "a delivery."
        ),
    ),
    "unit": (
        noted(
            "Only {there} unit of {thing} is in stock, and {out} would go out. Count the stock or receive "
            "a delivery."
        ),
        noted(
            "Only {there} units of {thing} are in stock, and {out} would go out. Count the stock or receive "
            "a delivery."
        ),
    ),
}
TOO_MANY = {
    "sheet": noted(
        "{there} sheets of {thing} are more than the {most:,} that can be kept. Check the figure."
    ),
    "unit": noted("{there} units of {thing} are more than the {most:,} that can be kept. Check the figure."),
}


class StockRefused(Refusal):
    """Stock cannot move as asked; the message is a sentence for the reader."""


class Ledger(NamedTuple):
    """A kind of ledger. movements: its model; goods: what it counts, named so in each movement."""

    movements: type[models.Model]
    goods: type[models.Model]
    name: str
    of: str  # in messages, one of it: "sheet", "unit"

    def write(
        self,
        thing: Any,
        kind: str,
        quantity: Amount,
        *,
        entry_id: UUID | None = None,
        **values: Any,
    ) -> Any:
        """Add one entry; one with an `entry_id` that is there already is returned as it was written.

        Raises StockRefused where less would be left than nothing.
        """
        return self._once(thing, entry_id, lambda: self._append(thing, kind, quantity, entry_id, values))

    def count(self, thing: Any, counted: Amount, *, entry_id: UUID | None = None, **values: Any) -> Any:
        """Note what was counted; the difference from what the ledger says becomes the entry's quantity."""

        def append() -> Any:
            with transaction.atomic():
                self._lock(thing)
                before, _ = self._last(thing)
                more = {"counted": counted, **values}
                return self._append(thing, "count", counted - before, entry_id, more)

        return self._once(thing, entry_id, append)

    def balance(self, thing: Any) -> Amount:
        """What the ledger says is there, held still until the transaction that asks ends."""
        self._lock(thing)
        return self._last(thing)[0]

    def reverse(self, movement: Any, *, entry_id: UUID | None = None, **values: Any) -> Any:
        """Undo a mistaken entry with a second one; an entry can be reversed once."""

        def append() -> Any:
            with transaction.atomic():
                thing = getattr(movement, self.name)
                self._lock(thing)
                if movement.kind == "reversal":
                    raise StockRefused(
                        say("A reversal cannot be reversed. Enter what is right as a new movement.")
                    )
                if self.movements._default_manager.filter(reverses=movement).exists():
                    raise StockRefused(say("This entry has been reversed already."))
                if not movement.quantity:
                    raise StockRefused(say("This count found no difference, so there is nothing to reverse."))
                more = {"reverses": movement, **values}
                return self._append(thing, "reversal", -movement.quantity, entry_id, more)

        return self._once(getattr(movement, self.name), entry_id, append)

    def known(self, thing: Any, entry_id: UUID | None) -> Any:
        """The entry that a form made when it was sent before; None for one that is new."""
        there = self.movements._default_manager.filter(entry_id=entry_id).first() if entry_id else None
        if there and getattr(there, f"{self.name}_id") != thing.pk:
            raise StockRefused(
                say("This form has made an entry for other goods already. Open the page again.")
            )
        return there

    def _once(self, thing: Any, entry_id: UUID | None, append: Any) -> Any:
        if there := self.known(thing, entry_id):
            return there
        try:
            with transaction.atomic():
                return append()
        except IntegrityError:  # the same form sent twice at once
            if there := self.known(thing, entry_id):
                return there
            raise

    @transaction.atomic
    def _append(
        self, thing: Any, kind: str, quantity: Amount, entry_id: UUID | None, values: Mapping[str, Any]
    ) -> Any:
        self._lock(thing)
        before, sequence = self._last(thing)
        if before + quantity < 0:
            raise StockRefused(
                say(
                    TOO_FEW[self.of][before != 1],
                    there=_plain(before),
                    thing=thing,
                    out=_plain(-quantity),
                )
            )
        if before + quantity > MOST:
            raise StockRefused(
                say(TOO_MANY[self.of], there=_plain(before + quantity), thing=thing, most=MOST)
            )
        values = {**values, "note": values.get("note", "")[:LONGEST_NOTE]}
        return self.movements._default_manager.create(
            **{self.name: thing},
            sequence=sequence + 1,
            kind=kind,
            quantity=quantity,
            balance=before + quantity,
            entry_id=entry_id,
            **values,
        )

    def _lock(self, thing: Any) -> None:
        """Keeps two writers from taking the same goods."""
        self.goods._default_manager.select_for_update(of=("self",)).get(pk=thing.pk)

    def _last(self, thing: Any) -> tuple[Amount, int]:
        last = self.movements._default_manager.filter(**{self.name: thing}).order_by("sequence").last()
        return (last.balance, last.sequence) if last else (0, 0)


def _plain(amount: Amount) -> str:
    return f"{Decimal(amount).normalize():f}"
