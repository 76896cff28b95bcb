"""The form filled in at the shelf, the manager's rules for measuring, and decisions between measurements."""

from decimal import Decimal
from uuid import uuid4

from django import forms
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from objects.core.lengths import LengthError, parse_length
from objects.core.numbers import clean_number
from objects.core.words import say
from objects.forms.catalogue import LengthField, WeightField
from objects.models import CatalogueObject, MeasuringRules, SurveyEntry
from objects.models.objects import HAZARD_SEPARATOR
from objects.queries.catalogue import LONGEST_KEY
from objects.queries.survey import object_numbered
from objects.services.photos import PhotoRefused, clean_photo
from objects.services.sizes import SIZE_FIELDS

UNITS = (("in", _("inches")), ("mm", "mm"), ("cm", "cm"))
WEIGHT_UNITS = (("kg", "kg"), ("g", "g"), ("lb", "lb"), ("oz", "oz"))
How, Housing = SurveyEntry.How, CatalogueObject.PresentHousing
SHELF_HOW = [(how.value, how.label) for how in (How.TAPE, How.CALIPERS, How.BOX, How.EYE)]
SHELF_HOUSING = [(h.value, h.label) for h in (Housing.NONE, Housing.POOR, Housing.ADEQUATE, Housing.GOOD)]
NOT_SAID = [("", _("Not said"))]
LARGEST_TOLERANCE_MM = 1000  # two measurements a metre apart are not of one object; assumed


def _said(label, choices) -> forms.ChoiceField:
    return forms.ChoiceField(required=False, label=label, choices=[*NOT_SAID, *choices])


class SurveyForm(forms.Form):
    """One look at one object. Blank is not said; figures without a unit are in the unit sent along."""

    entry_id = forms.UUIDField(widget=forms.HiddenInput, initial=uuid4)
    object = forms.CharField(required=False, widget=forms.HiddenInput)
    number = forms.CharField(required=False, max_length=60, widget=forms.HiddenInput)
    found = forms.ChoiceField(required=False, choices=SurveyEntry.Found.choices, widget=forms.HiddenInput)
    measured_at = forms.DateTimeField(required=False, widget=forms.HiddenInput)

    unit = forms.ChoiceField(choices=UNITS, widget=forms.RadioSelect, label=_("Sizes in"))
    height_mm = LengthField(label=_("Height"), required=False)
    width_mm = LengthField(label=_("Width"), required=False)
    depth_mm = LengthField(label=_("Depth"), required=False)
    how = forms.ChoiceField(choices=SHELF_HOW, label=_("Measured with"))
    measured_with = _said(_("Included in the size"), CatalogueObject.MeasuredWith.choices)
    weight_g = WeightField(label=_("Weight"), required=False, max_length=40)
    weight_unit = forms.ChoiceField(choices=WEIGHT_UNITS, required=False, label=_("Unit"))
    quantity = forms.IntegerField(
        required=False,
        min_value=1,
        max_value=1_000_000,
        label=_("Quantity"),
        help_text=_("How many pieces keep together."),
    )
    may_lie = _said(_("How it may lie"), CatalogueObject.MayLie.choices)
    fragility = _said(_("Fragility"), CatalogueObject.Fragility.choices)
    projecting_parts = forms.CharField(
        required=False,
        max_length=200,
        label=_("Fragile parts that project"),
        help_text=_("Which, and where."),
    )
    condition = _said(_("Condition"), CatalogueObject.Condition.choices)
    present_housing = _said(_("Its present housing"), SHELF_HOUSING)
    hazards = forms.MultipleChoiceField(
        label=_("Hazards"),
        required=False,
        choices=CatalogueObject.Hazard.choices,
        widget=forms.CheckboxSelectMultiple,
    )
    photo = forms.FileField(label=_("Photo"), required=False)
    note = forms.CharField(label=_("Note"), required=False, max_length=300)

    def __init__(self, data=None, files=None, *, unit: str = "in", **given):
        super().__init__(data, files, **given)
        sent = self.data.get("unit")
        self.initial["unit"] = unit = sent if sent in dict(UNITS) else unit
        self.initial["weight_unit"] = "lb" if unit == "in" else "kg"
        for name in SIZE_FIELDS:
            self.fields[name].unit = unit
        weight_unit = self.data.get("weight_unit")
        self.fields["weight_g"].unit = weight_unit if weight_unit in dict(WEIGHT_UNITS) else None
        self.fields["photo"].widget.attrs |= {"accept": "image/*", "capture": "environment"}

    def clean_hazards(self) -> str:
        return HAZARD_SEPARATOR.join(self.cleaned_data["hazards"])

    def clean_found(self) -> str:
        return self.cleaned_data["found"] or SurveyEntry.Found.HERE

    def clean_measured_at(self):
        return self.cleaned_data["measured_at"] or timezone.now()

    def clean_photo(self):
        photo = self.cleaned_data["photo"]
        if not photo:
            return None
        try:
            return clean_photo(photo)
        except PhotoRefused as error:
            raise forms.ValidationError(str(error)) from error

    def clean(self) -> dict:
        """Find the object the entry is about, by its key or by the number that was typed."""
        clean = super().clean()
        key, number = clean.get("object") or "", clean_number(clean.get("number") or "")
        thing = None
        if key.isdecimal() and len(key) <= LONGEST_KEY:
            thing = CatalogueObject.objects.filter(pk=key).first()
        elif number:
            thing = object_numbered(number)
        if thing is None and key:
            self.add_error("object", say("This object is no longer in the catalogue."))
        elif thing is None:
            said = (
                say("There is no object “{number}”. Look at its label again.", number=number)
                if number
                else say("Type its number.")
            )
            self.add_error("number", said)
        return {**clean, "thing": thing}

    @property
    def sides(self) -> list[forms.BoundField]:
        """The fields of the three sides."""
        return [self[name] for name in SIZE_FIELDS]

    @property
    def entry(self) -> dict:
        """The clean values by the names that services.survey.record_entry() gives them."""
        clean = self.cleaned_data
        same = ("entry_id", "measured_at", "how", "photo", "note", "found")
        return {
            **{name: clean[name] for name in same},
            "object": clean["thing"],
            "sides_mm": [clean[name] for name in SIZE_FIELDS],
            "answers": clean,
        }

    def refuse(self, problems: dict[str, list[str]]) -> None:
        """Put sentences beside their fields."""
        for name, sentences in problems.items():
            self.add_error(name if name in self.fields else None, sentences)


class ToleranceField(LengthField):
    """A length that may be nothing."""

    def clean(self, value) -> Decimal | None:
        text = forms.CharField.clean(self, value)
        try:
            return parse_length(text, self.unit, may_be_zero=True)
        except LengthError as error:
            raise forms.ValidationError(str(error)) from error


class MeasuringRulesForm(forms.ModelForm):
    """How far two measurements of a side may differ."""

    tolerance_mm = ToleranceField(label=_("Two measurements of a side may differ by"))

    class Meta:
        model = MeasuringRules
        fields = ["tolerance_mm", "tolerance_percent"]
        labels = {"tolerance_percent": _("Or by so many per cent of the side")}
        help_texts = {"tolerance_percent": _("Of the two, the larger counts.")}

    def __init__(self, *given, unit: str, **named):
        super().__init__(*given, **named)
        self.fields["tolerance_mm"].unit = unit
        self.fields["tolerance_mm"].help_text = (
            say("Such as 1/8 in or 3 mm; a number alone is inches.")
            if unit == "in"
            else say("Such as 1/8 in or 3 mm; a number alone is {unit}.", unit=unit)
        )

    def clean_tolerance_mm(self) -> Decimal:
        if (mm := self.cleaned_data["tolerance_mm"]) > LARGEST_TOLERANCE_MM:
            raise forms.ValidationError(
                say("More than 1 m would flag nothing. Check the figure and the unit.")
            )
        return mm

    def clean_tolerance_percent(self) -> Decimal:
        if not 0 <= (percent := self.cleaned_data["tolerance_percent"]) <= 100:
            raise forms.ValidationError(say("A share is between 0 and 100 per cent."))
        return percent
