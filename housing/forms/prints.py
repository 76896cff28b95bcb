"""What to print, of what, and on which paper or label sheet."""

from django import forms
from django.utils.text import format_lazy
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from housing.core.label_sheets import LabelLayout, LayoutRefused, past_the_end
from housing.models import Campaign, LabelSheet, Person
from housing.printing.labels import DEFAULT_LAYOUTS
from housing.printing.papers import PAPERS
from housing.queries.label_sheets import usual_sheet
from housing.queries.prints import BY_LOCATION, BY_NUMBER
from objects.core.lengths import in_unit
from objects.models import CatalogueObject, Location, Preferences
from objects.queries.catalogue import LONGEST_KEY

ORDERS = [(BY_LOCATION, gettext_lazy("Along the shelves")), (BY_NUMBER, gettext_lazy("By object number"))]
LAST_WEEK = 1000  # no campaign lasts longer; assumed


class ObjectsField(forms.ModelMultipleChoiceField):
    """The objects ticked; a key longer than any object has is passed over."""

    def clean(self, value):
        return super().clean([key for key in value or [] if len(key) <= LONGEST_KEY])


class CountField(forms.IntegerField):
    """A whole number; whatever is wrong with it, the message says what may be entered."""

    def __init__(self, *, min_value: int, max_value: int | None = None, **given):
        super().__init__(min_value=min_value, max_value=max_value, **given)
        said = (
            format_lazy(gettext_lazy("Enter a whole number, {least} or more."), least=min_value)
            if max_value is None
            else format_lazy(
                gettext_lazy("Enter a whole number, from {least} to {most}."), least=min_value, most=max_value
            )
        )
        self.error_messages |= {"invalid": said}
        for validator in self.validators:
            validator.message = said


class PrintForm(forms.Form):
    """A selection, kept in the address; whatever is left out is the usual for the paper."""

    object = ObjectsField(CatalogueObject.objects.all(), required=False, widget=forms.MultipleHiddenInput)
    campaign = forms.ModelChoiceField(
        Campaign.objects.all(),
        label=gettext_lazy("Campaign"),
        required=False,
        empty_label=gettext_lazy("Any campaign"),
    )
    location = forms.ModelChoiceField(
        Location.objects.all(),
        label=gettext_lazy("Location"),
        required=False,
        empty_label=gettext_lazy("Any location"),
    )
    person = forms.ModelChoiceField(
        Person.objects.order_by("name"),
        label=gettext_lazy("Work of"),
        required=False,
        empty_label=gettext_lazy("Anybody"),
    )
    week = CountField(
        label=gettext_lazy("Week of the campaign"),
        min_value=1,
        max_value=LAST_WEEK,
        required=False,
        help_text=gettext_lazy("Steps that are planned for it; the campaign's work list counts the weeks."),
    )
    paper = forms.ChoiceField(label=gettext_lazy("Paper"), choices=Preferences.Paper, required=False)
    sheet = forms.ModelChoiceField(
        LabelSheet.objects.order_by("name"),
        label=gettext_lazy("Label sheet"),
        required=False,
        empty_label=None,
        error_messages={
            "invalid_choice": gettext_lazy("There is no such label sheet any more. Choose another.")
        },
    )
    start = CountField(
        label=gettext_lazy("Start at label"),
        min_value=1,
        required=False,
        help_text=gettext_lazy(
            "Counted from the top left, row by row, when the first labels of a sheet are used up."
        ),
    )
    order = forms.ChoiceField(label=gettext_lazy("In which order"), choices=ORDERS, required=False)
    outlines = forms.BooleanField(
        label=gettext_lazy("Print the outlines of the labels, to cut plain paper or to check the sheet"),
        required=False,
    )

    SELECTION = ("campaign", "location", "person", "week")
    LABELS = ("sheet", "start", "order", "outlines")

    def __init__(self, data, *, unit: str, paper: str):
        super().__init__(data)
        self.unit = unit
        self.usual_paper = data.get("paper") if data.get("paper") in PAPERS else paper
        self.fields["paper"].initial = self.usual_paper
        if not data.get("sheet") and (usual := self._usual_sheet()):
            # shown as chosen, since a form that is filled in from the address shows no initial values
            self.data = self.data.copy()
            self.data["sheet"] = str(usual.pk)

    @property
    def has_selection(self) -> bool:
        return any(self.cleaned_data.get(name) for name in ("object", *self.SELECTION))

    def in_words(self) -> str:
        """What was chosen, for the head of a list."""
        clean = self.cleaned_data
        named = [str(clean[name]) for name in ("campaign", "location", "person") if clean[name]]
        if clean["week"]:
            named.append(_("week {week}").format(week=clean["week"]))
        return " · ".join(named)

    @property
    def selection_fields(self) -> list:
        return [self[name] for name in self.SELECTION]

    @property
    def label_fields(self) -> list:
        return [self[name] for name in self.LABELS]

    def clean(self) -> dict:
        clean = super().clean()
        if self.errors:
            return clean
        clean["paper"] = PAPERS[clean["paper"] or self.usual_paper]
        clean["start"] = clean["start"] or 1
        try:
            clean["layout"] = layout = self._layout(clean)
        except LayoutRefused as refused:
            raise forms.ValidationError(in_unit(str(refused), self.unit)) from refused
        if clean["start"] > layout.on_a_sheet:
            self.add_error("start", past_the_end(layout, clean["start"]))
        if clean["week"] and not clean["campaign"]:
            self.add_error("week", _("Weeks are counted in a campaign. Choose one as well."))
        return clean

    def _layout(self, clean: dict) -> LabelLayout:
        sheet = clean["sheet"]
        return sheet.to_core() if sheet else DEFAULT_LAYOUTS[clean["paper"].key]

    def _usual_sheet(self) -> LabelSheet | None:
        paper = PAPERS[self.usual_paper]
        return usual_sheet(paper.width_mm, paper.height_mm)
