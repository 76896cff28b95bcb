"""Handing in a list, and saying which of its columns means what."""

from collections.abc import Iterator

from django import forms
from django.conf import settings
from django.utils.translation import gettext_lazy as _

from housing.intake import KINDS
from housing.models import Campaign
from objects.core.retelling import retold
from objects.core.words import say
from objects.models import ListImport

UNIT_CHOICES = [
    ("", _("No unit: ask about every such figure")),
    ("in", _("Inches")),
    ("cm", _("Centimetres")),
    ("mm", _("Millimetres")),
]


class ImportForm(forms.Form):
    """A list to hand in: the file, what it lists, and the unit of figures that have none."""

    file = forms.FileField(
        label=_("List"),
        allow_empty_file=True,
        help_text=_(
            "CSV or other text with a line of headings, a spreadsheet (XLSX), or LIDO records (XML). "
            "What it is is found out from the file itself."
        ),
    )
    kind = forms.ChoiceField(label=_("What does it list?"))
    unit = forms.ChoiceField(
        label=_("Unit of sizes written without one"), choices=UNIT_CHOICES, required=False
    )

    def __init__(self, *args, kinds: list[tuple[str, str]], **kwargs) -> None:
        super().__init__(*args, **kwargs)
        self.fields["kind"].choices = kinds

    def clean_file(self):
        file = self.cleaned_data["file"]
        limit = settings.UPLOAD_LIMIT_BYTES
        if file.size > limit:
            raise forms.ValidationError(
                say(
                    "The file has {size:.0f} MB; at most {limit} MB can be taken. Split the list and "
                    "hand in the parts.",
                    size=file.size / 1024**2,
                    limit=limit // 1024**2,
                )
            )
        return file


class ColumnsForm(forms.Form):
    """Which of our fields each column of the list means, and the unit of bare figures."""

    unit = forms.ChoiceField(
        label=_("Unit of sizes written without one"), choices=UNIT_CHOICES, required=False
    )
    sheet = forms.ChoiceField(
        label=_("Sheet"), required=False, help_text=_("On another sheet the columns are suggested anew.")
    )

    def __init__(self, *args, listed: ListImport, **kwargs) -> None:
        super().__init__(*args, **kwargs)
        self.listed, self.ours = listed, KINDS[listed.kind].fields
        self.headings = {f"column_{n}": name for n, name in enumerate(listed.reading["headings"]) if name}
        meant = {heading: field for field, heading in listed.columns.items()}
        choices = [("", say("not used")), *((field.key, say(field.label)) for field in self.ours)]
        for key, heading in self.headings.items():
            self.fields[key] = forms.ChoiceField(
                label=heading, choices=choices, required=False, initial=meant.get(heading, "")
            )
        self.fields["unit"].initial = listed.unit
        sheets = listed.reading.get("sheets", [])
        if len(sheets) > 1:
            self.fields["sheet"].choices = [(sheet, sheet) for sheet in sheets]
            self.fields["sheet"].initial = listed.reading["sheet"]
        else:
            del self.fields["sheet"]

    def column_fields(self) -> Iterator[tuple[forms.BoundField, str, list[str]]]:
        """Each column with why it is taken for its field, and some of its values."""
        reading = self.listed.reading
        for key, heading in self.headings.items():
            why = retold(reading["why"].get(heading, "")) if self[key].initial else ""
            yield self[key], why, reading["samples"].get(heading, [])

    def clean(self) -> dict:
        cleaned = super().clean()
        if self.is_other_sheet:
            return cleaned
        taken: dict[str, str] = {}
        for key, heading in self.headings.items():
            if not (field := cleaned.get(key)):
                continue
            if field in taken:
                label = next(say(ours.label) for ours in self.ours if ours.key == field)
                self.add_error(
                    key,
                    say(
                        "“{taken}” is the {label} already. Choose another field.",
                        taken=taken[field],
                        label=label,
                    ),
                )
            taken.setdefault(field, heading)
        for ours in self.ours:
            if ours.required and ours.key not in taken:
                self.add_error(None, say("Choose the column that holds: {label}.", label=say(ours.label)))
        return cleaned

    @property
    def is_other_sheet(self) -> bool:
        """Whether another sheet than the one read before was chosen."""
        sheet = self.cleaned_data.get("sheet", "")
        return bool(sheet) and sheet != self.listed.reading["sheet"]

    def columns(self) -> dict[str, str]:
        """Our field to the column that means it, fields without one left out."""
        chosen = {self.cleaned_data.get(key): heading for key, heading in self.headings.items()}
        return {field.key: chosen[field.key] for field in self.ours if field.key in chosen}


class SaveForm(forms.Form):
    """Agreeing to a list; a list of rules also needs the campaign whose rules it replaces."""

    campaign = forms.ModelChoiceField(
        Campaign.objects.filter(is_closed=False),
        label=_("Campaign whose rules these are"),
        error_messages={"required": say("Choose the campaign whose rules these are.")},
    )

    def __init__(self, *args, listed: ListImport, **kwargs) -> None:
        super().__init__(*args, **kwargs)
        if listed.kind != ListImport.Kind.RULES:
            del self.fields["campaign"]
