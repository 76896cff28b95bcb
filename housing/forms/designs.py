"""Forms of the designs: the recipe, and trying it on a size."""

from decimal import Decimal
from typing import Any

from django import forms
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from boards.core.standards import standard_choices
from boards.forms import ExactLengthField, LengthsForm
from boards.models import Board
from housing.core.enclosures import ENCLOSURES
from housing.core.enclosures.options import Kind, Option, Value, check_choice
from housing.core.errors import OptionRefused
from housing.models import Design
from objects.core.lengths import in_unit
from objects.core.words import say

PREFIX = "option_"


class OptionsMixin:
    """Fields for the options of an enclosure form, one each, named with a prefix."""

    fields: dict[str, forms.Field]

    def add_options(self, form_key: str, values: dict[str, Value], unit: str) -> None:
        """A field for each option of a form, holding what was chosen."""
        self.options = ENCLOSURES[form_key].options if form_key in ENCLOSURES else ()
        for option in self.options:
            field = _field(option, unit)
            field.initial = _initial(option, values.get(option.key, option.default))
            self.fields[PREFIX + option.key] = field

    def option_fields(self) -> list[forms.BoundField]:
        """The fields of the options, in their order."""
        return [self[PREFIX + option.key] for option in self.options]  # type: ignore[index]

    def chosen(self, clean: dict[str, Any]) -> dict[str, Value]:
        """What was chosen and differs from the form's own defaults; refusals go to the fields."""
        found: dict[str, Value] = {}
        for option in self.options:
            value = clean.get(PREFIX + option.key)
            if value is None or value == "":
                continue
            value = float(value) if isinstance(value, Decimal) else value
            try:
                value = check_choice(option, value)
            except OptionRefused as refused:
                self.add_error(PREFIX + option.key, str(refused))  # type: ignore[attr-defined]
                continue
            if value != option.default:
                found[option.key] = value
        return found


def _field(option: Option, unit: str) -> forms.Field:
    shown: dict[str, Any] = {"label": say(option.label), "required": False}
    if option.kind is Kind.LENGTH:
        field = ExactLengthField(may_be_zero=not option.is_above, **shown)
        field.read_in(unit)
        field.help_text = " ".join(filter(None, (str(field.help_text), in_unit(say(option.help), unit))))
        return field
    if option.kind is Kind.YES_NO:
        return forms.BooleanField(help_text=say(option.help), **shown)
    if option.kind is Kind.COUNT:
        return forms.IntegerField(
            min_value=int(option.least), max_value=int(option.most), help_text=say(option.help), **shown
        )
    return forms.ChoiceField(
        choices=[(key, say(words)) for key, words in option.words], help_text=say(option.help), **shown
    )


def _initial(option: Option, value: Value) -> Any:
    if option.kind is Kind.LENGTH and value is not None:
        return Decimal(repr(float(value)))
    return value


class DesignForm(OptionsMixin, LengthsForm):
    """The recipe: form and its options, board, allowances, padding and minutes of work."""

    height_allowance_mm = ExactLengthField(
        label=_("Allowance on the height"), may_be_zero=True, hint=_("Once, for padding below and above.")
    )
    side_allowance_mm = ExactLengthField(
        label=_("Allowance on each side"),
        may_be_zero=True,
        hint=_("Counted twice: left and right, front and back. For padding and fingers."),
    )
    lining_mm = ExactLengthField(
        label=_("Thickness of the lining"),
        may_be_zero=True,
        hint=_("Of what covers floor and walls; the box is made larger by it."),
    )

    asks_for = forms.MultipleChoiceField(
        label=_("Standards its board must meet"),
        required=False,
        widget=forms.CheckboxSelectMultiple,
        help_text=_("Where nobody states one of the board, pages and cut sheets say so; nothing is stopped."),
    )

    class Meta:
        model = Design
        fields = [
            "name", "form", "board", "drawn", "rounding", "height_allowance_mm",
            "side_allowance_mm", "lining_mm", "padding", "padding_price_m2", "asks_for", "notes",
        ]  # fmt: skip
        widgets = {"notes": forms.Textarea(attrs={"rows": 3})}
        help_texts = {
            "name": _("Such as Box with lid, small. It stands in lists and on cut sheets."),
            "form": _("The kind of box. What it suits stands on the page of the design."),
            "drawn": _("Compensated: the inside comes out as wanted. Nominal: a little smaller, as by hand."),
            "rounding": _("To the marks of your ruler. The box comes out a little larger, never smaller."),
            "padding": _("What lines floor and walls, by the name of its supply; blank for none."),
            "padding_price_m2": _("Used where no supply of this name has a price."),
        }

    limits = {"padding_price_m2": (0, None)}

    def __init__(self, *given, unit: str, **named):
        super().__init__(*given, unit=unit, **named)
        chosen = self.data.get("form") or self.initial.get("form") or Design._meta.get_field("form").default
        values = self.instance.options if self.instance.form == chosen else {}
        self.add_options(chosen, values, unit)
        self.fields["form"].widget.attrs |= {
            "hx-get": reverse("housing:design-options"),
            "hx-target": "#form-options",
            "hx-swap": "outerHTML",
        }
        self.fields["rounding"].choices = [("", _("Not rounded")), *self.fields["rounding"].choices[1:]]
        known = dict(standard_choices())
        kept = [(key, key) for key in self.instance.asks_for if key not in known]
        self.fields["asks_for"].choices = [*known.items(), *kept]

    def plain_fields(self) -> list[forms.BoundField]:
        """The fields that every form has."""
        return [field for field in self if not field.name.startswith(PREFIX)]

    def clean(self) -> dict:
        clean = super().clean()
        self.instance.options = self.chosen(clean)
        return clean


class TrialForm(OptionsMixin, forms.Form):
    """A size to try a design on, and what may be changed about it meanwhile."""

    height = ExactLengthField(label=_("Height"))
    width = ExactLengthField(label=_("Width"))
    depth = ExactLengthField(label=_("Depth"))
    board = forms.ModelChoiceField(Board.objects.all(), empty_label=None, required=False, label=_("Board"))
    drawn = forms.ChoiceField(choices=Design.Drawn, required=False, label=_("How the blank is drawn"))
    rounding = forms.ChoiceField(required=False, label=_("Positions rounded to"))

    def __init__(self, *given, unit: str, design: Design, **named):
        super().__init__(*given, auto_id="try_%s", **named)
        for field in self.fields.values():
            if isinstance(field, ExactLengthField):
                field.read_in(unit)
        rounding = Design._meta.get_field("rounding").choices or ()
        self.fields["rounding"].choices = [("", _("Not rounded")), *rounding]
        self.fields["board"].initial = design.board_id
        self.fields["drawn"].initial = design.drawn
        self.fields["rounding"].initial = design.rounding
        self.design = design
        self.add_options(design.form, design.options, unit)

    def clean(self) -> dict:
        clean = super().clean()
        clean["options"] = self.chosen(clean)
        return clean

    def tried(self) -> Design:
        """The design with what was changed, not to be saved."""
        clean = self.cleaned_data
        tried = Design.objects.get(pk=self.design.pk)
        tried.board = clean["board"] or self.design.board
        tried.drawn = clean["drawn"] or self.design.drawn
        tried.rounding, tried.options = clean["rounding"], clean["options"]
        return tried
