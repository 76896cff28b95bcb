"""Handing in a list, and saying which of its columns means what."""

from django import forms
from django.conf import settings

from housing.models import Campaign
from objects.intake import Preview
from objects.models import ListImport

UNIT_CHOICES = [
    ("", "No unit: ask about every such figure"),
    ("in", "Inches"),
    ("cm", "Centimetres"),
    ("mm", "Millimetres"),
]


class ImportForm(forms.Form):
    """A list to hand in: the file, what it lists, and the unit of figures that have none."""

    file = forms.FileField(
        label="List",
        allow_empty_file=True,
        help_text="A text list with a header line: CSV from a spreadsheet or a collections database.",
    )
    kind = forms.ChoiceField(label="What does it list?")
    unit = forms.ChoiceField(label="Unit of sizes written without one", choices=UNIT_CHOICES, required=False)

    def __init__(self, *args, kinds: list[tuple[str, str]], **kwargs) -> None:
        super().__init__(*args, **kwargs)
        self.fields["kind"].choices = kinds

    def clean_file(self):
        file = self.cleaned_data["file"]
        limit = settings.UPLOAD_LIMIT_BYTES
        if file.size > limit:
            raise forms.ValidationError(
                f"The file has {file.size / 1024**2:.0f} MB; at most {limit // 1024**2} MB can be taken. "
                "Split the list and hand in the parts."
            )
        return file


class ColumnsForm(forms.Form):
    """Which column of the list means which of our fields."""

    unit = forms.ChoiceField(label="Unit of sizes written without one", choices=UNIT_CHOICES, required=False)

    def __init__(self, *args, understood: Preview, unit: str = "", **kwargs) -> None:
        super().__init__(*args, **kwargs)
        self.understood = understood
        headings = [("", "not in the list"), *((name, name) for name in understood.headings if name)]
        for field in understood.kind.fields:
            self.fields[field.key] = forms.ChoiceField(
                label=field.label,
                choices=headings,
                required=field.required,
                initial=understood.columns.get(field.key, ""),
                error_messages={"required": f"Choose the column that holds: {field.label}."},
            )
        self.fields["unit"].initial = unit

    def clean(self) -> dict:
        cleaned = super().clean()
        taken: dict[str, str] = {}
        for key, column in self.columns().items():
            if column in taken:
                self.add_error(
                    key,
                    f"“{column}” already means {self.fields[taken[column]].label}. Choose another.",
                )
            taken.setdefault(column, key)
        return cleaned

    def columns(self) -> dict[str, str]:
        """Our field to the chosen column, fields without one left out."""
        keys = (field.key for field in self.understood.kind.fields)
        return {key: self.cleaned_data[key] for key in keys if self.cleaned_data.get(key)}


class SaveForm(forms.Form):
    """Agreeing to a list; a list of rules also needs the campaign whose rules it replaces."""

    campaign = forms.ModelChoiceField(
        Campaign.objects.filter(is_closed=False),
        label="Campaign whose rules these are",
        error_messages={"required": "Choose the campaign whose rules these are."},
    )

    def __init__(self, *args, listed: ListImport, **kwargs) -> None:
        super().__init__(*args, **kwargs)
        if listed.kind != ListImport.Kind.RULES:
            del self.fields["campaign"]
