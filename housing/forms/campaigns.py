"""Forms of the campaigns."""

from decimal import Decimal

from django import forms
from django.db import transaction
from django.utils.translation import gettext_lazy as _

from boards.forms import ExactAreaField, ExactLengthField, LengthsForm
from housing.models import Campaign
from housing.services.outdating import outdate


class CampaignForm(LengthsForm):
    """A campaign and the figures its plan rests on."""

    kerf_mm = ExactLengthField(
        label=_("Gap kept between blanks"),
        may_be_zero=True,
        initial=Campaign._meta.get_field("kerf_mm").default,
        hint=_("Room for the blade. 0 where neighbours share a cut."),
    )
    trim_mm = ExactLengthField(
        label=_("Trimmed off each sheet edge"),
        may_be_zero=True,
        initial=Campaign._meta.get_field("trim_mm").default,
        hint=_("The edges of new sheets are often crushed on the way."),
    )
    offcut_side_mm = ExactLengthField(
        label=_("Least side of an offcut worth keeping"), hint=_("What is smaller counts as waste.")
    )
    offcut_area_mm2 = ExactAreaField(
        label=_("Least area of an offcut worth keeping"), hint=_("0: its sides alone decide.")
    )

    class Meta:
        model = Campaign
        fields = [
            "name", "note", "starts_on", "currency", "rate_per_hour", "glue_price_kg",
            "kerf_mm", "trim_mm", "offcut_side_mm", "offcut_area_mm2",
            "may_turn", "edge_to_edge", "use_corners", "mix_batches", "search_seconds",
            "people", "is_closed",
        ]  # fmt: skip
        help_texts = {
            "starts_on": _("The work is given out by weeks from this day. Blank: no days are told."),
            "currency": _(
                "Three letters, such as EUR. All prices of boards and supplies are taken to be in it."
            ),
            "rate_per_hour": _("For work of nobody in particular. People have rates of their own."),
            "glue_price_kg": _("Used where no glue is among the supplies."),
            "people": _("Who takes part. Without people no work is given out, and no day can be told."),
        }
        labels = {"is_closed": _("Closed: nothing more is planned")}
        widgets = {
            "note": forms.Textarea(attrs={"rows": 3}),
            "people": forms.CheckboxSelectMultiple,
            "starts_on": forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        }

    WORDS = ("name", "note", "is_closed")  # no plan rests on them

    limits = {"rate_per_hour": (0, None), "glue_price_kg": (0, None), "search_seconds": (5, 3600)}

    def clean_kerf_mm(self) -> Decimal:
        return self._at_most("kerf_mm", 20)

    def clean_trim_mm(self) -> Decimal:
        return self._at_most("trim_mm", 100)

    def _at_most(self, name: str, most_mm: int) -> Decimal:
        if (length := self.cleaned_data[name]) > most_mm:
            raise forms.ValidationError(
                _("{normalize:f} mm is too much; at most {most_mm} mm.").format(
                    normalize=length.normalize(), most_mm=most_mm
                )
            )
        return round(length, 3)

    @transaction.atomic
    def save(self, commit: bool = True) -> Campaign:
        """Store the campaign and note that its plan may be out of date, if a figure of it changed."""
        figures = [name for name in self.Meta.fields if name not in (*self.WORDS, "people")]
        before = Campaign.objects.filter(pk=self.instance.pk).values(*figures).first()
        campaign = super().save(commit)
        has_changed = before != {name: getattr(campaign, name) for name in figures}
        if has_changed or "people" in self.changed_data:
            outdate(Campaign.objects.filter(pk=campaign.pk))
        return campaign
