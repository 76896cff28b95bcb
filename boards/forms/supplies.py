"""Forms of suppliers and of what is bought besides board."""

from decimal import Decimal

from django import forms
from django.utils.translation import gettext_lazy as _

from boards.core.price_breaks import break_fault
from boards.core.supplies import measure_fault, unit_fault
from boards.forms.fields import BreaksField, LengthsForm, PercentField, day_input
from boards.models import Supplier, Supply
from boards.services import save_supply
from objects.core.words import say


class SupplierForm(LengthsForm):
    """Who sells, and what having goods sent costs."""

    freight_share = PercentField(
        label=_("Freight as a share of the goods"), help_text=_("On top of the freight of an order.")
    )

    class Meta:
        model = Supplier
        fields = ["name", "freight_each", "freight_share", "freight_free_from", "lead_days", "note"]
        labels = {"name": _("Name")}
        help_texts = {
            "freight_each": _("0 where nothing is asked for sending."),
            "freight_free_from": _("Blank where freight is always to be paid."),
            "note": _("Such as the address, or your customer number."),
        }

    limits = {"freight_each": (0, None), "freight_free_from": (0, None), "lead_days": (0, 3650)}


class SupplyForm(LengthsForm):
    """A supply as it is bought and used up, with its price breaks."""

    spoilage_share = PercentField(label=_("Spoiled or cut away"), below=True)
    breaks = BreaksField(help_text=_("By the pack, such as 5: 21.00; 20: 19.50. From so many, each costs."))
    there = forms.DecimalField(
        label=_("Units on hand now"),
        required=False,
        max_digits=10,
        decimal_places=3,
        help_text=_("As counted. From then on its ledger tells what is on hand."),
    )
    by = None  # who saves it, for the ledger

    class Meta:
        model = Supply
        fields = [
            "name", "kind", "unit", "pack", "price", "priced_on", "breaks", "supplier", "there",
            "reorder_level", "spoilage_share", "grams_each", "fills_litres", "is_usual", "withdrawn_on",
            "source",
        ]  # fmt: skip
        widgets = {"priced_on": day_input(), "withdrawn_on": day_input()}
        labels = {"name": _("Name"), "kind": _("Kind"), "supplier": _("Supplier")}
        help_texts = {
            "name": _("What lines a box is found by the name that its design or a rule gives it."),
            "kind": _("Decides what budgets take it for."),
            "unit": _("What one piece, metre or gram of it is counted in, in plans and stock alike."),
            "pack": _("Packs are bought whole; 1 where single units are sold."),
            "price": _("Without freight. Without a price every budget that needs it is incomplete."),
            "reorder_level": _("In units. The stock page then says when to order; blank: nobody is warned."),
            "grams_each": _("Of glue, unless it is counted in kg."),
            "is_usual": _("Taken for glue, labels, tape and filling where nothing else is named."),
        }

    limits = {
        "pack": (0, None), "price": (0, None), "there": (0, None), "reorder_level": (0, None),
        "grams_each": (0, None), "fills_litres": (0, None),
    }  # fmt: skip

    def __init__(self, *given, **named):
        super().__init__(*given, **named)
        self.fields["supplier"].empty_label = say("Not entered")
        if self.instance.pk:
            del self.fields["there"]
            self.initial["breaks"] = tuple(self.instance.price_breaks.values_list("least", "price"))

    def clean(self) -> dict:
        clean = super().clean()
        for name in ("pack", "grams_each", "fills_litres"):
            if clean.get(name) == 0:
                self.add_error(name, say("Enter more than 0."))
        if "price" not in self.errors and (
            fault := break_fault(clean.get("breaks") or (), clean.get("price"))
        ):
            self.add_error("breaks", fault)
        kind, unit = clean.get("kind"), clean.get("unit")
        if kind and unit and (fault := unit_fault(kind, unit)):
            self.add_error("unit", fault)
        elif kind and unit:
            measures = bool(clean.get("grams_each")), bool(clean.get("fills_litres"))
            if fault := measure_fault(kind, unit, *measures, bool(clean.get("is_usual"))):
                self.add_error("grams_each" if kind == Supply.Kind.GLUE else "fills_litres", fault)
        return clean

    def validate_constraints(self) -> None:
        """Another usual one of the kind is no fault: saving takes that from it."""
        try:
            self.instance.validate_constraints(exclude={*self._get_validation_exclusions(), "is_usual"})
        except forms.ValidationError as error:
            self._update_errors(error)

    def save(self, commit: bool = True) -> Supply:
        there: Decimal | None = self.cleaned_data.get("there")
        supply = super().save(commit=False)
        return save_supply(supply=supply, breaks=self.cleaned_data["breaks"], there=there, by=self.by)
