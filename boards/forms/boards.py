"""Forms of boards, sheets and stock: lengths typed in either unit become millimetres here."""

from datetime import date
from decimal import Decimal

from django import forms
from django.db import transaction
from django.db.models import Max
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from boards.core.price_breaks import break_fault
from boards.forms.fields import BreaksField, ExactLengthField, LengthsForm, day_input
from boards.forms.stock import EntryField
from boards.models import Board, BoardStatement, Offcut, SheetSize
from boards.services import store_breaks
from objects.core.lengths import format_length
from objects.core.words import say


class BoardForm(LengthsForm):
    """What a board is made of and how it folds."""

    caliper_mm = ExactLengthField(
        label=_("Caliper (thickness)"),
        hint=_("Measure it on a sheet of your own: every fold takes up some of it."),
    )

    class Meta:
        model = Board
        fields = [
            "code", "name", "construction", "flute", "caliper_mm", "fold_share", "grammage_g_m2",
            "is_buffered", "standards", "edge_crush_kn_m", "withdrawn_on",
        ]  # fmt: skip
        widgets = {"withdrawn_on": day_input()}
        labels = {
            "code": _("Code"),
            "name": _("Name"),
            "construction": _("Construction"),
            "flute": _("Flute"),
            "grammage_g_m2": _("Grammage in g/m²"),
            "edge_crush_kn_m": _("Edge crush in kN/m"),
        }
        help_texts = {
            "code": _("A short name of your own, such as B32; lists and sheets call the board by it."),
            "fold_share": _(
                "How the fold is made decides how much larger a blank is drawn. Most board is creased."
            ),
            "grammage_g_m2": _("From the data sheet. With it, the weight of boxes is known."),
            "is_buffered": _(
                "Has an alkaline reserve. Not ticked: rules may choose it for wool, silk, leather."
            ),
            "edge_crush_kn_m": _("If the maker states it. Without it, nothing is said of stacking."),
            "withdrawn_on": _("Budgets then say that what they lack of it cannot be bought."),
        }

    limits = {"grammage_g_m2": (1, None), "edge_crush_kn_m": (0, None)}

    def clean_caliper_mm(self) -> Decimal:
        if (caliper := self.cleaned_data["caliper_mm"]) > 100:
            raise forms.ValidationError(
                say("A board is less than 100 mm thick. Check the figure and the unit.")
            )
        return caliper


class SheetForm(LengthsForm):
    """A sheet size a board is sold in; a size is entered once a board."""

    along_mm = ExactLengthField(
        label=_("Length along the flutes or grain"),
        hint=_("Look at the edges: the waves run along this side."),
    )
    across_mm = ExactLengthField(label=_("Width across the flutes or grain"))

    class Meta:
        model = SheetSize
        fields = [
            "along_mm",
            "across_mm",
            "price",
            "priced_on",
            "pack",
            "supplier",
            "reorder_level",
            "is_offered",
        ]
        widgets = {"priced_on": day_input()}
        labels = {"supplier": _("Supplier")}
        help_texts = {
            "price": _("Without freight. With 0 every budget that needs it is incomplete."),
            "reorder_level": _("In sheets. The stock page then says when to order; blank: nobody is warned."),
        }

    breaks = BreaksField(
        help_text=_("By the sheet, such as 50: 16.20; 200: 15.40. From so many, each costs.")
    )

    limits = {"price": (0, None), "pack": (1, 10_000), "reorder_level": (0, 1_000_000)}

    def __init__(self, *given, **named):
        super().__init__(*given, **named)
        self.fields["supplier"].empty_label = say("Not entered")
        if self.instance.pk:
            self.initial["breaks"] = tuple(self.instance.price_breaks.values_list("least", "price"))

    def clean(self) -> dict:
        clean = super().clean()
        if "price" not in self.errors and (
            fault := break_fault(clean.get("breaks") or (), clean.get("price"))
        ):
            self.add_error("breaks", fault)
        same = SheetSize.objects.filter(
            board=self.instance.board, along_mm=clean.get("along_mm"), across_mm=clean.get("across_mm")
        )
        if same.exclude(pk=self.instance.pk).exists():
            self.add_error("along_mm", say("This board has a sheet of this size already. Change that one."))
        return clean

    @transaction.atomic
    def save(self, commit: bool = True) -> SheetSize:
        """Store the sheet and note a change at its board, which plans are compared with.

        When to order again says nothing to a plan.
        """
        columns = [f.attname for f in SheetSize._meta.concrete_fields if f.name != "reorder_level"]
        before = SheetSize.objects.filter(pk=self.instance.pk).values(*columns).first()
        sheet, breaks = super().save(commit), self.cleaned_data["breaks"]
        store_breaks(of=sheet, breaks=breaks)
        is_same = before == {name: getattr(sheet, name) for name in columns}
        if not is_same or self.initial.get("breaks", ()) != tuple(breaks):
            sheet.board.save(update_fields=["changed_at"])
        return sheet


class StatementForm(forms.ModelForm):
    """That somebody states of a board that it meets a standard, and when."""

    class Meta:
        model = BoardStatement
        fields = ["standard", "stated_by", "stated_on", "note"]
        labels = {"standard": _("Standard"), "note": _("Note")}
        widgets = {"stated_on": day_input()}
        error_messages = {"stated_by": {"required": _("Say who states it, such as the supplier.")}}

    def __init__(self, *given, **named):
        super().__init__(*given, **named)
        self.fields["standard"].choices = [
            (key, say(name)) if key else (key, name) for key, name in self.fields["standard"].choices
        ]

    def clean_stated_on(self) -> date | None:
        if (stated_on := self.cleaned_data["stated_on"]) and stated_on > timezone.localdate():
            raise forms.ValidationError(
                say("This day is still to come. Enter the day on which it was stated.")
            )
        return stated_on


class OffcutForm(LengthsForm):
    """An offcut as it is measured at the rack."""

    along_mm = ExactLengthField(label=_("Length along the flutes or grain"))
    across_mm = ExactLengthField(label=_("Width across the flutes or grain"))
    entry_id = EntryField()

    class Meta:
        model = Offcut
        fields = ["along_mm", "across_mm", "note"]
        labels = {"note": _("Note")}
        help_texts = {"note": _("Such as where it stands.")}

    def clean(self) -> dict:
        """Refuse what is longer than every sheet of the board: a slip, and plans would rely on it."""
        clean = super().clean()
        for name, side in (("along_mm", "long"), ("across_mm", "wide")):
            largest = self.instance.board.sheet_sizes.aggregate(most=Max(name))["most"]
            if largest and (length := clean.get(name)) and length > largest:
                told, most = (format_length(each, self.fields[name].bare_unit) for each in (length, largest))
                self.add_error(
                    name,
                    say(
                        "{told} is more than any sheet of this board is {side} ({most}). Check the figure.",
                        told=told,
                        side=side,
                        most=most,
                    ),
                )
        return clean
