"""Which sheets of a cutting plan are printed or made into files, kept in the address."""

from django import forms
from django.utils.translation import gettext_lazy as _

from boards.models import Board
from housing.forms.prints import ObjectsField
from housing.models import Campaign, CuttingPlan, Person, PlannedSheet
from housing.printing.papers import PAPERS
from housing.queries.sheet_prints import SheetChoice, chosen_sheets, people_of, weeks_of
from objects.models import Preferences


class SheetPrintForm(forms.Form):
    """Single sheets, or those of a campaign's plan that meet what is chosen."""

    campaign = forms.ModelChoiceField(
        Campaign.objects.filter(plan__isnull=False), required=False, label=_("Campaign")
    )
    sheet = ObjectsField(
        PlannedSheet.objects.all(),
        required=False,
        widget=forms.MultipleHiddenInput,
        label=_("Sheet"),
        error_messages={
            "invalid_choice": _("A sheet of these is in no plan any more: the campaign was planned again."),
            "invalid_pk_value": _("“%(pk)s” names no sheet."),
        },
    )
    person = forms.ModelChoiceField(
        Person.objects.none(), required=False, empty_label=_("Anybody"), label=_("Given to")
    )
    week = forms.TypedChoiceField(
        choices=[], required=False, coerce=int, empty_value=None, label=_("Week of the work")
    )
    board = forms.ModelChoiceField(
        Board.objects.none(), required=False, empty_label=_("All"), label=_("Board")
    )
    uncut = forms.BooleanField(required=False, label=_("Only sheets still to cut"))
    paper = forms.ChoiceField(choices=Preferences.Paper, required=False, label=_("Paper"))
    hand = forms.ChoiceField(choices=Preferences.Hand, required=False, label=_("Laid out for"))

    CHOICES = ("person", "week", "board", "uncut")

    def __init__(self, data, *, paper: str, hand: str):
        super().__init__(data)
        self.usual_paper, self.usual_hand = paper, hand
        self.fields["paper"].initial, self.fields["hand"].initial = paper, hand
        self.single = len(data.getlist("sheet"))
        self.plan = None if self.single else self._plan(data.get("campaign", ""))
        if self.plan:
            self.fields["person"].queryset = people_of(self.plan)
            self.fields["board"].queryset = Board.objects.filter(pk__in=self.plan.sheets.values("board"))
            weeks = [(week, _("Week %(week)s") % {"week": week}) for week in weeks_of(self.plan)]
            self.fields["week"].choices = [("", _("Any")), *weeks]

    @staticmethod
    def _plan(campaign: str) -> CuttingPlan | None:
        if not (campaign.isascii() and campaign.isdecimal() and len(campaign) < 10):
            return None
        return CuttingPlan.objects.filter(campaign=int(campaign)).first()

    def clean(self) -> dict:
        clean = super().clean()
        clean["paper"] = PAPERS[clean.get("paper") or self.usual_paper]
        clean["hand"] = clean.get("hand") or self.usual_hand
        return clean

    @property
    def has_selection(self) -> bool:
        return bool(self.cleaned_data.get("sheet") or self.plan)

    def sheets(self) -> list[int]:
        """Keys of the sheets chosen, in their order."""
        clean = self.cleaned_data
        if clean["sheet"]:
            return list(clean["sheet"].order_by("plan", "position").values_list("pk", flat=True))
        if self.plan is None:
            return []
        choice = SheetChoice(clean["person"], clean["week"], clean["board"], clean["uncut"])
        return list(chosen_sheets(self.plan, choice).values_list("pk", flat=True))
