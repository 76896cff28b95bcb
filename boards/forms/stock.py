"""Forms of what comes into stock, goes out of it or was counted, of one sheet size or supply."""

from decimal import Decimal
from uuid import uuid4

from django import forms
from django.utils.translation import gettext_lazy as _

from boards.models import Board, Reason, SheetSize
from objects.core.lengths import format_size
from objects.core.words import say

RECEIVE, USE, WRITE_OFF, COUNT = "receive", "use", "write_off", "count"
ACTIONS = (
    (RECEIVE, _("Receive")),
    (USE, _("Issue")),
    (WRITE_OFF, _("Write off")),
    (COUNT, _("Count")),
)
MOST = 1_000_000
LEFT_UNSAID = [("", _("Choose one when you write off"))]


class SheetChoice(forms.ModelChoiceField):
    """Sheets to choose from, told in the reader's unit."""

    told_in = "in"

    def label_from_instance(self, sheet: SheetSize) -> str:
        return f"{sheet.board.code} {format_size((sheet.along_mm, sheet.across_mm), self.told_in)}"


class EntryField(forms.UUIDField):
    """Names the form, so that one sent twice makes one entry."""

    def __init__(self) -> None:
        super().__init__(required=False, widget=forms.HiddenInput, initial=uuid4, label=_("Form"))


class MoveForm(forms.Form):
    """What moves or was counted; price and reason belong to a receipt and to a write-off."""

    amount: str  # the field that says how much
    price: str  # the field that says what was paid
    reason = forms.ChoiceField(
        label=_("Why it is written off"), required=False, choices=[*LEFT_UNSAID, *Reason.choices]
    )
    note = forms.CharField(
        label=_("Note"),
        max_length=200,
        required=False,
        help_text=_("Such as the delivery note, or what it was taken for."),
    )
    action = forms.ChoiceField(choices=ACTIONS)
    entry_id = EntryField()

    def clean(self) -> dict:
        clean = super().clean()
        action, amount = clean.get("action"), clean.get(self.amount)
        if amount is not None:
            if action == COUNT and amount < 0:
                self.add_error(self.amount, say("Enter 0 or more."))
            elif action != COUNT and amount < self.least:
                self.add_error(
                    self.amount, say("Enter 1 or more.") if self.least == 1 else say("Enter more than 0.")
                )
            elif amount > MOST:
                self.add_error(self.amount, say("Enter {most:,} or fewer.", most=MOST))
        if action == WRITE_OFF and not clean.get("reason") and "reason" not in self.errors:
            self.add_error("reason", say("Choose why it is written off."))
        return clean

    least = Decimal("0.001")

    def asked(self) -> dict:
        """What the service of the chosen action is given besides the goods."""
        clean = self.cleaned_data
        action, given = clean["action"], {"note": clean["note"], "entry_id": clean["entry_id"]}
        given["counted" if action == COUNT else self.amount] = clean[self.amount]
        if action == RECEIVE:
            given[self.price] = clean[self.price]
        if action == WRITE_OFF:
            given["reason"] = clean["reason"]
        return given


class StockForm(MoveForm):
    """Sheets of one board that came in, went to the bench, were spoiled, or were counted."""

    amount, price, least = "count", "paid_each", 1
    sheet_size = SheetChoice(SheetSize.objects.none(), label=_("Sheet"), empty_label=None)
    count = forms.IntegerField(label=_("Sheets"))
    paid_each = forms.DecimalField(
        label=_("Paid for a sheet"), required=False, min_value=0, max_digits=10, decimal_places=2,
        help_text=_("Of a delivery. Blank where the bill is still to come."),
    )  # fmt: skip
    field_order = ["sheet_size", "count", "paid_each", "reason", "note"]

    def __init__(self, *given, board: Board, unit: str, **named):
        super().__init__(*given, **named)
        self.fields["sheet_size"].told_in = unit
        self.fields["sheet_size"].queryset = board.sheet_sizes.select_related("board")

    def asked(self) -> dict:
        return {"sheet_size": self.cleaned_data["sheet_size"], **super().asked()}


class SupplyStockForm(MoveForm):
    """Units of one supply that came in, went to the bench, were spoiled, or were counted."""

    amount, price = "units", "paid"
    units = forms.DecimalField(label=_("Units"), max_digits=10, decimal_places=3)
    paid = forms.DecimalField(
        label=_("Paid for all of them"), required=False, min_value=0, max_digits=10, decimal_places=2,
        help_text=_("Of a delivery. Blank where the bill is still to come."),
    )  # fmt: skip
    field_order = ["units", "paid", "reason", "note"]

    def __init__(self, *given, unit: str, **named):
        super().__init__(*given, **named)
        self.fields["units"].unit = unit
