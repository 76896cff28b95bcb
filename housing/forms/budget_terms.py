"""The figures that a campaign's budget rests on besides its plan: typed as per cent, kept as shares."""

from decimal import Decimal

from django import forms
from django.db import transaction
from django.utils.formats import date_format
from django.utils.translation import gettext_lazy as _

from boards.forms import ExactLengthField, LengthsForm, PercentField
from housing.core.enclosures import ENCLOSURES
from housing.models import BudgetTerms, Campaign, Design, Person
from housing.services.logged import restate_standard_minutes
from objects.core.words import say

RATE = "rate_"  # in front of the form that a learning rate is for
LEAST_RATE = Decimal("0.5")


class BudgetTermsForm(LengthsForm):
    """The terms of one campaign, with a learning rate of its own for each form that designs use."""

    allowance_share = PercentField(label=_("Allowance for rest"), below=True)
    learning_rate = PercentField(
        label=_("Time left when twice as many are made"),
        least=LEAST_RATE,
        help_text=_("90: what took 10 minutes takes 9 once twice as many are made."),
    )
    alike_share = PercentField(
        label=_("Marking out a blank like the one before"),
        help_text=_("Of the time that the first of them takes."),
    )
    supervision_share = PercentField(
        label=_("Supervision"), help_text=_("Hours of supervision for 100 hours of volunteers and interns.")
    )
    indirect_share = PercentField(
        label=_("Indirect costs"),
        help_text=_(
            "Rent, heating, accounts and the like, on top of all other money. 0: none are asked for."
        ),
    )
    board_spoilage_share = PercentField(label=_("Sheets spoiled"), below=True)
    gap_filled_share = PercentField(label=_("Gap around the object filled with tissue"))
    glue_bead_mm = ExactLengthField(label=_("Bead of glue, across"))

    class Meta:
        model = BudgetTerms
        fields = [
            "allowance_share", "allowance_of", "learning", "learning_rate", "learning_reference",
            "alike_share", "uses_logged_times", "supervision_share", "supervisor", "indirect_share",
            "board_spoilage_share", "glue_bead_mm", "beads_per_joint", "labels_each", "gap_filled_share",
            "contingency_percent", "ends_on", "in_kind_source", "funder_note",
        ]  # fmt: skip
        labels = {
            "allowance_of": _("The allowance is"),
            "learning": _("Learning"),
            "learning_reference": _("The standard time is that of box number"),
            "beads_per_joint": _("Beads beside each other in a joint"),
            "labels_each": _("Labels on a box"),
            "contingency_percent": _("Contingency up to what is not exceeded in so many of 100 cases"),
            "supervisor": _("Who supervises"),
        }
        help_texts = {
            "learning_reference": _("Of its form. Boxes before it take longer, those after it less."),
            "funder_note": _("Stands on the page for the funder, as you write it."),
            "in_kind_source": _("Such as what your museum pays for similar work."),
        }
        widgets = {
            "ends_on": forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
            "funder_note": forms.Textarea(attrs={"rows": 3}),
        }

    limits = {
        "learning_reference": (1, 10_000), "beads_per_joint": (1, 20), "labels_each": (0, 20),
        "contingency_percent": (1, 99),
    }  # fmt: skip
    WORK = ("allowance_share", "allowance_of", "alike_share", "uses_logged_times")
    LEARNING = ("learning", "learning_rate", "learning_reference")
    PEOPLE = ("supervision_share", "supervisor", "in_kind_source")
    MATERIALS = (
        "board_spoilage_share", "glue_bead_mm", "beads_per_joint", "labels_each", "gap_filled_share",
    )  # fmt: skip
    MONEY = ("indirect_share", "contingency_percent", "ends_on", "funder_note")

    def __init__(self, *given, **named):
        super().__init__(*given, **named)
        self.fields["supervisor"].queryset = Person.objects.filter(is_active=True)
        self.fields["supervisor"].empty_label = _("Nobody yet")
        rates = self.instance.learning_rates
        for key in sorted({*Design.objects.values_list("form", flat=True), *rates} & set(ENCLOSURES)):
            own = rates.get(key)
            self.fields[RATE + key] = PercentField(
                label=say(ENCLOSURES[key].name),
                least=LEAST_RATE,
                required=False,
                initial=None if own is None else Decimal(str(own)),
            )

    @property
    def groups(self) -> list[tuple[str, list[forms.BoundField]]]:
        """Headings with their fields, in the order of the page."""
        rates = [name for name in self.fields if name.startswith(RATE)]
        return [
            (heading, [self[name] for name in names])
            for heading, names in (
                ("Time", self.WORK),
                ("Learning", self.LEARNING),
                (_("Time left when twice as many are made, where a form differs"), rates),
                ("People", self.PEOPLE),
                ("Materials", self.MATERIALS),
                (_("Money and dates"), self.MONEY),
            )
            if names
        ]

    def clean_glue_bead_mm(self) -> Decimal:
        if (bead := self.cleaned_data["glue_bead_mm"]) > 50:
            raise forms.ValidationError(
                _("A bead of {normalize:f} mm is too wide; at most 50 mm.").format(normalize=bead.normalize())
            )
        return round(bead, 2)

    def clean(self) -> dict:
        clean = super().clean()
        if clean.get("supervision_share") and not clean.get("supervisor"):
            self.add_error(
                "supervisor",
                _("Choose who supervises, so that the hours can be paid; or enter 0 for supervision."),
            )
        starts_on, ends_on = self.instance.campaign.starts_on, clean.get("ends_on")
        if starts_on and ends_on and ends_on < starts_on:
            self.add_error(
                "ends_on",
                _(
                    "The campaign starts on {day}, so it cannot end before. Enter a later date, or correct "
                    "the "
                    "start on the campaign's edit page."
                ).format(day=date_format(starts_on, "d F Y")),
            )
        return clean

    @transaction.atomic
    def save(self, commit: bool = True) -> BudgetTerms:
        """Store the terms; those that somebody else began meanwhile are replaced, their ranges kept."""
        Campaign.objects.select_for_update().get(pk=self.instance.campaign_id)
        if stored := BudgetTerms.objects.filter(campaign=self.instance.campaign_id).first():
            self.instance.pk, self.instance.ranges = stored.pk, stored.ranges
        self.instance.learning_rates = {
            name.removeprefix(RATE): float(rate)
            for name, rate in self.cleaned_data.items()
            if name.startswith(RATE) and rate is not None
        }
        saved = super().save(commit)
        restate_standard_minutes(campaigns=[saved.campaign])
        return saved
