"""The sheet on which everything of a board or a kind is counted at once."""

from collections.abc import Sequence
from decimal import Decimal

from django import forms
from django.utils.translation import gettext_lazy as _

from boards.forms.stock import MOST, EntryField
from boards.models import SheetSize, Supply
from boards.services import Counted
from objects.core.lengths import format_size
from objects.core.words import say


class CountForm(forms.Form):
    """A row for each thing: what the ledger says, carried along, and what was counted; blank: not counted."""

    note = forms.CharField(
        label=_("Note"), max_length=200, required=False, help_text=_("Such as who counted with you.")
    )
    entry_id = EntryField()

    def __init__(self, *given, things: Sequence[SheetSize | Supply], unit: str, **named):
        super().__init__(*given, **named)
        self.things, self.told_in = list(things), unit
        for thing in self.things:
            places = 0 if isinstance(thing, SheetSize) else 3
            self.fields[f"expected-{thing.pk}"] = forms.DecimalField(
                widget=forms.HiddenInput, initial=balance_of(thing), label=say("What the ledger says")
            )
            self.fields[f"counted-{thing.pk}"] = forms.DecimalField(
                label=self.name_of(thing),
                required=False,
                min_value=0,
                max_value=MOST,
                max_digits=10,
                decimal_places=places,
                error_messages={
                    "min_value": say("Enter 0 or more."),
                    "max_value": say("Enter {most:,} or fewer.", most=MOST),
                },
            )

    def name_of(self, thing: SheetSize | Supply) -> str:
        if isinstance(thing, Supply):
            return thing.name
        return f"{thing.board.code} {format_size((thing.along_mm, thing.across_mm), self.told_in)}"

    def rows(self) -> list[tuple]:
        """(Thing, its name, what the ledger says, field of what it said, field of the count), row by row."""
        return [
            (
                thing,
                self.name_of(thing),
                balance_of(thing),
                self[f"expected-{thing.pk}"],
                self[f"counted-{thing.pk}"],
            )
            for thing in self.things
        ]

    def clean(self) -> dict:
        clean = super().clean()
        if not self.errors and not self.counts():
            raise forms.ValidationError(
                say("Nothing is counted yet. Enter what you counted in at least one row.")
            )
        return clean

    def counts(self) -> list[Counted]:
        clean = self.cleaned_data
        return [
            Counted(thing, counted, clean[f"expected-{thing.pk}"])
            for thing in self.things
            if (counted := clean.get(f"counted-{thing.pk}")) is not None
        ]

    def moved_on(self, now: dict[int, Decimal]) -> None:
        """Mark the rows whose ledger went on; sent again, the form goes by what the ledger says now."""
        self.data = self.data.copy()
        counts = self.counts()
        for place, there in now.items():
            one = counts[place]
            key = one.thing.pk
            self.add_error(
                f"counted-{key}",
                say(
                    "The ledger said {before} when you began and says {now} now.",
                    before=_plain(one.expected),
                    now=_plain(there),
                ),
            )
            self.data[self.add_prefix(f"expected-{key}")] = str(there)


def balance_of(thing: SheetSize | Supply) -> Decimal:
    """What the ledger says; sheet sizes come with `in_stock`."""
    return Decimal(thing.in_stock if isinstance(thing, SheetSize) else thing.on_hand)


def _plain(amount: Decimal) -> str:
    return f"{amount.normalize():f}"
