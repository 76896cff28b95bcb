"""What the list of questions is narrowed to; all of it stands in the address."""

from django import forms

from housing.forms.objects import LongSelect
from housing.models import Campaign, Hold
from housing.queries.holds import ANSWERED, OPEN


class HoldFilter(forms.Form):
    reason = forms.ChoiceField(
        label="Waits", required=False, choices=[("", "For anything"), *Hold.Reason.choices]
    )
    campaign = forms.ModelChoiceField(
        Campaign.objects.order_by("name"),
        required=False,
        empty_label="All campaigns",
        widget=LongSelect,
        error_messages={"invalid_choice": "There is no such campaign. Choose one of the list."},
    )
    state = forms.ChoiceField(
        label="State",
        required=False,
        choices=[("", "Open and answered"), (OPEN, "Open"), (ANSWERED, "Answered")],
    )
