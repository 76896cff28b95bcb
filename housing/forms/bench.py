"""What is sent from the bench: one entry, the undoing of one, and who stands there."""

from decimal import Decimal
from typing import Any

from django import forms
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from housing.models import BenchEntry, Person
from objects.core.lengths import LengthError, parse_length
from objects.services.photos import PhotoRefused, clean_photo

DETAIL = "detail-"  # begins the names of fields that only some kinds of entry have
SHORT, LARGE = "short", "large"  # by how much a box does not fit, as typed, and in which direction
MOST_MINUTES = 24 * 60
LONGEST_DETAIL = 600
LARGEST_KEY = 2**62
WHATS = [choice for choice in BenchEntry.What.choices if choice[0] != BenchEntry.What.UNDO]
MINUTES_HELP = _("Enter minutes as a number from 0 to 1440, such as 12 or 7.5, or leave them blank.")
LOST_ID = _("The entry has no number of its own. Reload the page and enter it again.")
UNKNOWN_KIND = _("This kind of entry is not known here. Reload the page and enter it again.")
NOT_THERE = _("There is no such entry to undo. Reload the page.")


def _key() -> forms.IntegerField:
    return forms.IntegerField(required=False, min_value=1, max_value=LARGEST_KEY)


class MinutesField(forms.DecimalField):
    """Minutes, with a point or a comma."""

    def to_python(self, value) -> Decimal | None:
        return super().to_python(str(value).replace(",", ".") if value else value)


class _Problems:
    """What is wrong with a form, in one sentence after another."""

    @property
    def problems(self) -> str:
        return " ".join(sentence for sentences in self.errors.values() for sentence in sentences)


class EntryForm(_Problems, forms.Form):
    """One entry. Which task, sheet or box it is about is told by key, and looked up by the view."""

    entry_id = forms.UUIDField(error_messages={"required": LOST_ID, "invalid": LOST_ID}, label=_("Entry id"))
    what = forms.ChoiceField(
        choices=WHATS,
        error_messages={"required": UNKNOWN_KIND, "invalid_choice": UNKNOWN_KIND},
        label=_("What"),
    )
    at = forms.DateTimeField(required=False, label=_("At"))
    task, sheet, housing, person = _key(), _key(), _key(), _key()
    minutes = MinutesField(
        required=False,
        min_value=0,
        max_value=MOST_MINUTES,
        error_messages=dict.fromkeys(("invalid", "min_value", "max_value"), MINUTES_HELP),
    )
    photo = forms.FileField(required=False, label=_("Photo"))

    def clean_at(self):
        return self.cleaned_data["at"] or timezone.now()

    def clean_minutes(self) -> Decimal | None:
        minutes = self.cleaned_data["minutes"]
        return None if minutes is None else round(minutes, 2)

    def clean_photo(self):
        if not (photo := self.cleaned_data["photo"]):
            return None
        try:
            return clean_photo(photo)
        except PhotoRefused as error:
            raise forms.ValidationError(str(error)) from error

    def clean(self) -> dict[str, Any]:
        """What else was entered, of several answers to one question the last; how much a box is too small or
        too large in mm, below 0 where it is too large."""
        clean = super().clean()
        detail = {
            name.removeprefix(DETAIL): value.strip()[:LONGEST_DETAIL]
            for name, value in self.data.items()
            if name.startswith(DETAIL)
        }
        if short := detail.get(SHORT):
            unit = detail.get("unit")
            try:
                short_mm = parse_length(short, unit if unit in ("in", "mm") else "in")
            except LengthError as error:
                self.add_error(
                    None, _("How much the box is too small or too large: {error}").format(error=error)
                )
            else:
                detail["short_mm"] = str(-short_mm if detail.get("direction") == LARGE else short_mm)
        return {**clean, "detail": detail}


class UndoForm(_Problems, forms.Form):
    """Which entry is to be undone."""

    entry_id = forms.UUIDField(error_messages={"required": LOST_ID, "invalid": LOST_ID}, label=_("Entry id"))
    entry = forms.ModelChoiceField(
        BenchEntry.objects.exclude(what=BenchEntry.What.UNDO),
        error_messages={"required": NOT_THERE, "invalid_choice": NOT_THERE},
        label=_("Entry"),
    )


class WhoForm(forms.Form):
    """Who works at a tablet that several people share."""

    person = forms.ModelChoiceField(
        Person.objects.filter(is_active=True),
        label=_("I am"),
        empty_label=_("Choose your name"),
        error_messages={
            "required": _("Choose your name."),
            "invalid_choice": _("Choose a name of the list."),
        },
    )
