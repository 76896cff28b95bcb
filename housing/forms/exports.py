"""How the catalogue is to be taken out: as which file and under which headings."""

from django import forms
from django.utils.translation import gettext_lazy as _

from housing.printing.exports import FORMATS, LATEST, OWN, Wanted
from housing.queries.exports import lists_with_headings

PREFIX = "as_"


class ExportForm(forms.Form):
    """Its fields are named apart from those of the object list's filter, which stand in the same address."""

    as_format = forms.ChoiceField(
        label=_("File"), choices=[(form.key, form.name) for form in FORMATS.values()], initial="xlsx"
    )
    as_headings = forms.ChoiceField(
        label=_("Headings"),
        initial=LATEST,
        help_text=_(
            "With the headings of your own list the file can go back into your collections database."
        ),
    )
    as_mark = forms.BooleanField(
        label=_("Begin a text file with the mark that tells spreadsheet programs its letters are UTF-8"),
        required=False,
        initial=True,
    )

    def __init__(self, *given, **named):
        super().__init__(*given, **named)
        lists = [(str(listed.pk), _told(listed)) for listed in lists_with_headings()]
        latest = [(LATEST, _("Of the list saved last, {lists}").format(lists=lists[0][1]))] if lists else []
        self.fields["as_headings"].choices = [*latest, (OWN, _("Our own")), *lists[1:]]
        if not lists:
            self.fields["as_headings"].initial = OWN

    def wanted(self, filter_address: str, unit: str) -> Wanted:
        """What was chosen; only of a form that is valid."""
        clean = self.cleaned_data
        return Wanted(clean["as_format"], filter_address, clean["as_headings"], clean["as_mark"], unit)


def _told(listed) -> str:
    return f"“{listed.file_name}”, saved {listed.saved_at:%Y-%m-%d}" if listed.saved_at else listed.file_name
