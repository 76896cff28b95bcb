"""What the page of misfits is narrowed to; all of it stands in the address."""

from django import forms
from django.utils.translation import gettext_lazy as _

from housing.forms.objects import LongSelect
from housing.models import Campaign, FitCheck

DAY = {"invalid": _("Enter a day such as 2026-05-31.")}


def _day(label: str) -> forms.DateField:
    return forms.DateField(
        label=label,
        required=False,
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        error_messages=DAY,
    )


class MisfitForm(forms.Form):
    """Campaign and period narrow all that is counted; cause, side and kind the list of boxes only."""

    campaign = forms.ModelChoiceField(
        Campaign.objects.order_by("name"),
        required=False,
        empty_label=_("All campaigns"),
        widget=LongSelect,
        error_messages={"invalid_choice": _("There is no such campaign. Choose one of the list.")},
        label=_("Campaign"),
    )
    since = _day(_("From"))
    until = _day(_("To"))
    cause = forms.ChoiceField(
        required=False, choices=[("", _("Any cause")), *FitCheck.Cause.choices], label=_("Cause")
    )
    side = forms.ChoiceField(
        required=False, choices=[("", _("Any side")), *FitCheck.Side.choices], label=_("Side")
    )
    kind = forms.CharField(label=_("Classification"), required=False, max_length=200)

    def clean(self) -> dict:
        clean = super().clean() or self.cleaned_data
        since, until = clean.get("since"), clean.get("until")
        if since and until and until < since:
            self.add_error("until", _("The last day lies before the first. Exchange the two."))
        return clean
