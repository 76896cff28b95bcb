"""The form of days on which somebody does not work for the campaigns."""

from django import forms
from django.utils.formats import date_format
from django.utils.translation import gettext_lazy as _

from boards.forms import day_input
from housing.models import Absence

LONGEST_DAYS = 3 * 366  # assumed; who stays away longer has a last day of work instead


class AbsenceForm(forms.ModelForm):
    """The first and the last day away, and what for."""

    class Meta:
        model = Absence
        fields = ["first_day", "last_day", "note"]
        labels = {"first_day": _("First day away"), "last_day": _("Last day away")}
        help_texts = {
            "last_day": _("For a single day enter the same day twice. Days may overlap others."),
            "note": _("Such as holiday or course. Everybody who is signed in can read it."),
        }
        widgets = {"first_day": day_input(), "last_day": day_input()}

    def clean(self) -> dict:
        clean = super().clean()
        first, last = clean.get("first_day"), clean.get("last_day")
        if first and last and last < first:
            self.add_error(
                "last_day",
                _("The first day away is {day}; enter that day or a later one.").format(
                    day=date_format(first, "d F Y")
                ),
            )
        elif first and last and (last - first).days >= LONGEST_DAYS:
            self.add_error(
                "last_day",
                _(
                    "That is more than three years. Check the year, or enter a last day of work with the "
                    "person."
                ),
            )
        return clean
