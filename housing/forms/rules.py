"""The form of a rule, and choosing a design for an object over the rules."""

from decimal import Decimal
from hashlib import sha256

from django import forms
from django.utils.translation import gettext_lazy as _

from boards.core.standards import standard_choices
from boards.forms import ExactLengthField, LengthsForm
from housing.core.choosing import mark_choices
from housing.models import Campaign, Design, DesignRule
from objects.forms.catalogue import WeightField
from objects.queries.catalogue import classifications

CONDITIONS = (
    "classification", "material", "weight_over_g", "weight_up_to_g", "largest_over_mm", "largest_up_to_mm",
    "thinnest_up_to_mm", "shape", "flags",
)  # fmt: skip
ADVICE = (
    "design", "form", "board_kind", "least_caliper_mm", "padding", "height_allowance_mm",
    "side_allowance_mm", "marks", "asks_for",
)  # fmt: skip
GROUNDS = ("reason", "source", "is_advice")
FIELDS = (*CONDITIONS, *ADVICE, *GROUNDS)
WEIGHT_HELP = _("Such as 5 kg or 11 lb; a number alone is kilograms.")


class RuleForm(LengthsForm):
    """A rule: conditions, of which blank ones match every object, and advice, of which blank says nothing."""

    weight_over_g = WeightField(label=_("Weight over"), unit="kg", required=False, help_text=WEIGHT_HELP)
    weight_up_to_g = WeightField(label=_("Weight up to"), unit="kg", required=False, help_text=WEIGHT_HELP)
    largest_over_mm = ExactLengthField(label=_("Largest side over"), required=False)
    largest_up_to_mm = ExactLengthField(label=_("Largest side up to"), required=False)
    thinnest_up_to_mm = ExactLengthField(label=_("Thinnest side up to"), required=False)
    flags = forms.MultipleChoiceField(
        label=_("All of this is so"),
        choices=DesignRule.Flag,
        widget=forms.CheckboxSelectMultiple,
        required=False,
    )
    least_caliper_mm = ExactLengthField(label=_("Board at least as thick as"), required=False)
    height_allowance_mm = ExactLengthField(
        label=_("Allowance on the height"), required=False, may_be_zero=True
    )
    side_allowance_mm = ExactLengthField(label=_("Allowance on each side"), required=False, may_be_zero=True)
    marks = forms.MultipleChoiceField(
        label=_("Marks on the label"),
        choices=mark_choices,
        widget=forms.CheckboxSelectMultiple,
        required=False,
    )
    asks_for = forms.MultipleChoiceField(
        label=_("Standards the board must meet"),
        choices=standard_choices,
        widget=forms.CheckboxSelectMultiple,
        required=False,
    )

    class Meta:
        model = DesignRule
        fields = FIELDS
        labels = {
            "board_kind": _("Kind of board"),
            "reason": _("Why"),
        }
        help_texts = {
            "classification": _("One, or several separated by semicolons; blank for any."),
            "shape": _("Follows from the three sides of the object."),
            "design": _("The box itself, with its form and board. Most rules name a form instead."),
            "board_kind": _("Of the designs of a form, one on such board is taken."),
            "reason": _("In a sentence. It stands beside the box wherever the rule decided."),
            "source": _("Such as a handbook with its year, or common practice."),
            "form": _("The best design of this form is taken where no rule names a design."),
            "padding": _("Goes in place of the padding of the design."),
        }
        widgets = {"classification": forms.TextInput(attrs={"list": "classifications"})}

    def __init__(self, *given, **named):
        super().__init__(*given, **named)
        self.version = _version(self.instance)  # before what was typed is put into it
        for name, words in (
            ("shape", _("Any shape")),
            ("form", _("Says nothing")),
            ("board_kind", _("Says nothing")),
        ):
            self.fields[name].choices = [("", words), *self.fields[name].choices[1:]]
        self.fields["design"].empty_label = _("Says nothing")
        self.known_classifications = list(classifications())

    def conditions(self) -> list[forms.BoundField]:
        return [self[name] for name in CONDITIONS]

    def advice(self) -> list[forms.BoundField]:
        return [self[name] for name in ADVICE]

    def grounds(self) -> list[forms.BoundField]:
        return [self[name] for name in GROUNDS]

    def clean_least_caliper_mm(self) -> Decimal | None:
        caliper = self.cleaned_data["least_caliper_mm"]
        if caliper is not None and caliper > 50:
            raise forms.ValidationError(
                _("No board is {caliper:,.0f} mm thick. Enter 50 mm or less, and check the unit.").format(
                    caliper=caliper
                )
            )
        return caliper

    def clean(self) -> dict:
        clean = super().clean()
        for over, up_to, label in (
            ("largest_over_mm", "largest_up_to_mm", _("Largest side over")),
            ("weight_over_g", "weight_up_to_g", _("Weight over")),
        ):
            least, most = clean.get(over), clean.get(up_to)
            if least is not None and most is not None and least >= most:
                self.add_error(up_to, _("Enter more than “{label}”, or nothing matches.").format(label=label))
        if self.instance.pk and self.data.get("version", self.version) != self.version:
            raise forms.ValidationError(
                _(
                    "Somebody else saved this rule while you were editing it. Nothing of yours is stored "
                    "yet: it is kept below. Look at the rule in the list, then save again to put yours in "
                    "its place."
                )
            )
        if not self.errors and not any(clean.get(name) not in (None, "", []) for name in ADVICE):
            raise forms.ValidationError(
                _("This rule advises nothing. Choose a design or a form, or fill in some other advice.")
            )
        return clean


def _version(rule: DesignRule) -> str:
    """Tells a rule apart from the same rule with something changed."""
    values = [str(getattr(rule, DesignRule._meta.get_field(name).attname)) for name in FIELDS]
    return sha256("\n".join(values).encode()).hexdigest()[:16]


class OverruleForm(forms.Form):
    """The design for one object chosen by hand over the rules; blank gives it back to them."""

    campaign = forms.ModelChoiceField(Campaign.objects.filter(is_closed=False), widget=forms.HiddenInput)
    design = forms.ModelChoiceField(
        Design.objects.all(), required=False, empty_label=_("Follow the rules"), label=_("Design")
    )
