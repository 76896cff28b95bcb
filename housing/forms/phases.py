"""The form of a phase of a campaign."""

from django import forms
from django.utils.formats import date_format
from django.utils.translation import gettext_lazy as _

from boards.forms import LengthsForm
from housing.models import Phase


class PhaseForm(LengthsForm):
    """Its name, dates, money and batches."""

    class Meta:
        model = Phase
        fields = ["name", "starts_on", "ends_on", "money", "first_batch", "last_batch", "note"]
        labels = {"starts_on": _("First day"), "ends_on": _("Last day")}
        help_texts = {
            "money": _("In the campaign's currency. Blank: no limit of its own."),
            "first_batch": _("Objects are given to batches in the object list of the campaign."),
        }
        widgets = {
            "starts_on": forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
            "ends_on": forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        }

    limits = {"money": (0, None), "first_batch": (1, 10_000), "last_batch": (1, 10_000)}

    def clean_name(self) -> str:
        name = " ".join(self.cleaned_data["name"].split())
        others = Phase.objects.filter(campaign=self.instance.campaign_id, name__iexact=name)
        if others.exclude(pk=self.instance.pk).exists():
            raise forms.ValidationError(
                _("There is a phase “{name}” already. Give this one another name.").format(name=name)
            )
        return name

    def clean(self) -> dict:
        clean = super().clean()
        starts_on, ends_on = clean.get("starts_on"), clean.get("ends_on")
        if starts_on and ends_on and ends_on < starts_on:
            self.add_error(
                "ends_on",
                _("It starts on {day}, so it cannot end before.").format(day=date_format(starts_on, "d F Y")),
            )
        first, last = clean.get("first_batch"), clean.get("last_batch")
        if first and last and last < first:
            self.add_error(
                "last_batch",
                _("The first of its batches is {first}; enter {first} or more.").format(first=first),
            )
        return clean
