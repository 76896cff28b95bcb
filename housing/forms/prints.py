"""What to print, on which paper, and how a label sheet is divided."""

from decimal import Decimal

from django import forms

from housing.models import Campaign
from housing.printing.labels import DEFAULT_LAYOUTS, LabelLayout, LayoutRefused
from housing.printing.papers import PAPERS
from objects.core.lengths import LengthError, parse_length
from objects.forms.catalogue import LengthField
from objects.models import CatalogueObject, Location, Preferences
from objects.queries.catalogue import LONGEST_KEY


class GapField(LengthField):
    """A length that may be zero: no margin, or no gap."""

    def clean(self, value) -> Decimal | None:
        text = forms.CharField.clean(self, value)
        try:
            return parse_length(text, self.unit, may_be_zero=True) if text else None
        except LengthError as error:
            raise forms.ValidationError(str(error)) from error


class ObjectsField(forms.ModelMultipleChoiceField):
    """The objects ticked; a key longer than any object has is passed over."""

    def clean(self, value):
        return super().clean([key for key in value or [] if len(key) <= LONGEST_KEY])


class CountField(forms.IntegerField):
    """A whole number of labels; whatever is wrong with it, the message says what may be entered."""

    def __init__(self, *, min_value: int, max_value: int | None = None, **given):
        super().__init__(min_value=min_value, max_value=max_value, **given)
        range_ = f"{min_value} or more" if max_value is None else f"from {min_value} to {max_value}"
        said = f"Enter a whole number, {range_}."
        self.error_messages |= {"invalid": said}
        for validator in self.validators:
            validator.message = said


class PrintForm(forms.Form):
    """A selection and a layout, kept in the address; whatever is left out is the usual for the paper."""

    object = ObjectsField(CatalogueObject.objects.all(), required=False, widget=forms.MultipleHiddenInput)
    campaign = forms.ModelChoiceField(Campaign.objects.all(), required=False, empty_label="Any campaign")
    location = forms.ModelChoiceField(Location.objects.all(), required=False, empty_label="Any location")
    paper = forms.ChoiceField(choices=Preferences.Paper, required=False)
    columns = CountField(label="Labels across", min_value=1, max_value=6, required=False)
    rows = CountField(label="Labels down", min_value=1, max_value=20, required=False)
    margin_x = GapField(label="Margin left and right", required=False)
    margin_y = GapField(label="Margin above and below", required=False)
    gap_x = GapField(label="Gap between columns", required=False)
    gap_y = GapField(label="Gap between rows", required=False)
    start = CountField(
        label="Start at label",
        min_value=1,
        required=False,
        help_text="Counted from the top left, row by row, when the first labels of a sheet are used up.",
    )

    LAYOUT = ("columns", "rows", "margin_x", "margin_y", "gap_x", "gap_y")

    def __init__(self, data, *, unit: str, paper: str):
        super().__init__(data)
        self.usual_paper = data.get("paper") if data.get("paper") in PAPERS else paper
        usual = DEFAULT_LAYOUTS[self.usual_paper]
        for name in self.LAYOUT[2:]:
            self.fields[name].unit = unit
            self.fields[name].help_text = f"Usually {LengthField(unit=unit).prepare_value(_mm(usual, name))}."
        self.fields["columns"].help_text = f"Usually {usual.columns}."
        self.fields["rows"].help_text = f"Usually {usual.rows}."
        self.fields["paper"].initial = self.usual_paper

    @property
    def has_selection(self) -> bool:
        return any(self.cleaned_data.get(name) for name in ("object", "campaign", "location"))

    def clean(self) -> dict:
        clean = super().clean()
        if self.errors:
            return clean
        clean["paper"] = PAPERS[clean["paper"] or self.usual_paper]
        clean["start"] = clean["start"] or 1
        clean["layout"] = layout = self._layout(clean)
        try:
            layout.label_mm(clean["paper"])
        except LayoutRefused as refused:
            raise forms.ValidationError(str(refused)) from refused
        if clean["start"] > layout.on_a_sheet:
            self.add_error(
                "start",
                f"A sheet has {layout.on_a_sheet} labels; {clean['start']} is past its end. Take a lower.",
            )
        return clean

    def _layout(self, clean: dict) -> LabelLayout:
        usual = DEFAULT_LAYOUTS[clean["paper"].key]
        columns, rows, *lengths = (clean[name] for name in self.LAYOUT)
        return LabelLayout(
            columns or usual.columns,
            rows or usual.rows,
            *(
                float(_mm(usual, name) if length is None else length)
                for name, length in zip(self.LAYOUT[2:], lengths, strict=True)
            ),
        )


def _mm(layout: LabelLayout, name: str) -> Decimal:
    return Decimal(str(getattr(layout, f"{name}_mm")))
