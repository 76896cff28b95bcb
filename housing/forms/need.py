"""Stating the need of objects, narrowing the page of what is unhoused, and weighing the priority score."""

from django import forms
from django.utils.translation import gettext_lazy as _

from housing.core.factors import FACTORS
from housing.core.priority import LARGEST_WEIGHT
from housing.forms.objects import LongSelect
from housing.queries.need import GROUPINGS
from objects.core.words import say
from objects.models import CatalogueObject, Location


class NeedForm(forms.Form):
    """A need with the note that it asks for; a blank need takes back what was said."""

    need = forms.ChoiceField(
        label=_("Housing need"),
        required=False,
        choices=[("", _("Follows from the present housing")), *CatalogueObject.Need.choices],
        error_messages={"invalid_choice": _("“%(value)s” is no housing need. Choose one of the list.")},
    )
    need_note = forms.CharField(
        label=_("Why"),
        required=False,
        max_length=300,
        error_messages={"max_length": _("The note is too long: %(show_value)d characters, at most 300.")},
    )

    def clean(self) -> dict:
        clean = super().clean()
        if clean.get("need") and not clean.get("need_note") and not self.has_error("need_note"):
            self.add_error(
                "need_note",
                _("Say in a few words why the need is stated over what the present housing says."),
            )
        return clean


class UnhousedForm(forms.Form):
    """What the page of what is unhoused is narrowed to and divided by, kept in the address."""

    by = forms.ChoiceField(label=_("Divided by"), required=False, choices=list(GROUPINGS.items()))
    location = forms.ModelChoiceField(
        Location.objects.all(),
        required=False,
        empty_label=_("All places"),
        widget=LongSelect,
        label=_("Location"),
    )

    @property
    def chosen_by(self) -> str:
        return (self.is_valid() and self.cleaned_data["by"]) or "location"

    @property
    def chosen_location(self) -> Location | None:
        return self.cleaned_data["location"] if self.is_valid() else None


class WeightsForm(forms.Form):
    """A weight for each factor of the priority score; blank is 1."""

    def __init__(self, *given, weights: dict[str, float], **named):
        super().__init__(*given, **named)
        for key, factor in FACTORS.items():
            self.fields[key] = forms.FloatField(
                label=say(factor.words),
                required=False,
                min_value=0,
                max_value=LARGEST_WEIGHT,
                step_size=0.1,
                initial=f"{weights.get(key, 1):g}",
                error_messages={
                    "invalid": _("Enter the weight as a number from 0 to 3."),
                    "min_value": _("A weight is from 0 to 3."),
                    "max_value": _("A weight is from 0 to 3."),
                    "step_size": _("Give the weight in tenths, such as 1.5."),
                },
            )

    @property
    def weights(self) -> dict[str, float]:
        """Factor to weight of a form that is valid."""
        return {name: 1.0 if value is None else value for name, value in self.cleaned_data.items()}
