"""What a report is asked of: a campaign or all, and the days from and to; all of it in the address."""

from datetime import date

from django import forms
from django.core.validators import MaxValueValidator, MinValueValidator
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from housing.forms.misfits import DAY
from housing.forms.objects import LongSelect
from housing.models import Campaign
from housing.queries.periods import month_of

EARLIEST, LATEST = date(1900, 1, 1), date(2199, 12, 31)
BETWEEN = f"Enter a day between {EARLIEST} and {LATEST}."


def _day(label: str) -> forms.DateField:
    return forms.DateField(
        label=label,
        required=False,
        validators=[MinValueValidator(EARLIEST, BETWEEN), MaxValueValidator(LATEST, BETWEEN)],
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        error_messages=DAY,
    )


class ReportForm(forms.Form):
    """Fields are named campaign, from and to; days left blank are those of this month."""

    campaign = forms.ModelChoiceField(
        Campaign.objects.order_by("is_closed", "name"),
        required=False,
        empty_label=_("All campaigns"),
        widget=LongSelect,
        error_messages={"invalid_choice": _("There is no such campaign. Choose one of the list.")},
        label=_("Campaign"),
    )

    def __init__(self, data, **given) -> None:
        month = month_of(timezone.localdate())
        told = {"campaign": data.get("campaign", "")}
        told["from"] = data.get("from") or f"{month.first:%Y-%m-%d}"
        told["to"] = data.get("to") or f"{month.last:%Y-%m-%d}"
        super().__init__(told, **given)
        self.fields["from"], self.fields["to"] = _day(_("From")), _day(_("To"))

    def clean(self) -> dict:
        clean = super().clean() or self.cleaned_data
        first, last = clean.get("from"), clean.get("to")
        if first and last and last < first:
            self.add_error("to", _("The last day lies before the first. Exchange the two."))
        return clean
