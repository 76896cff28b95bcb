"""What the list of questions is narrowed to; all of it stands in the address."""

from django import forms
from django.utils.translation import gettext_lazy as _

from housing.forms.objects import LongSelect
from housing.models import Campaign, Hold
from housing.queries.holds import ANSWERED, OPEN


class HoldFilter(forms.Form):
    reason = forms.ChoiceField(
        label=_("Waits"), required=False, choices=[("", _("For anything")), *Hold.Reason.choices]
    )
    campaign = forms.ModelChoiceField(
        Campaign.objects.order_by("name"),
        required=False,
        empty_label=_("All campaigns"),
        widget=LongSelect,
        error_messages={"invalid_choice": _("There is no such campaign. Choose one of the list.")},
        label=_("Campaign"),
    )
    state = forms.ChoiceField(
        label=_("State"),
        required=False,
        choices=[("", _("Open and answered")), (OPEN, _("Open")), (ANSWERED, _("Answered"))],
    )
