"""What is asked of the page of work by person: which weeks to show, and what is to move to whom."""

from collections.abc import Iterable

from django import forms
from django.utils.translation import gettext_lazy as _

from housing.models import Campaign, Person, PlannedSheet
from housing.queries.campaigns import open_tasks

NOBODY = "nobody"
LAST_WEEK = 10_000
NOTHING_TICKED = _("Nothing is ticked. Tick the sheets, places or tasks that are to move, then choose again.")
GONE = _(
    "Some of what was ticked is done, or was planned anew meanwhile. Look at the week again and tick anew."
)


class WeeksForm(forms.Form):
    """The first week shown, and the week looked at closely; what cannot be is as if not asked."""

    first = forms.IntegerField(required=False, min_value=1, max_value=LAST_WEEK, label=_("First"))
    week = forms.IntegerField(required=False, min_value=1, max_value=LAST_WEEK, label=_("Week"))

    def asked(self, name: str) -> int | None:
        self.is_valid()
        return self.cleaned_data.get(name)


class MoveForm(forms.Form):
    """Sheets and tasks ticked, and the person they go to; `release` leaves them to the planner again.

    What lies at one place is ticked under `bundle`, as keys of tasks set apart by commas, single tasks under
    `task`.
    """

    to = forms.ChoiceField(label=_("Give what is ticked to"), required=False)

    def __init__(self, *given, campaign: Campaign, people: Iterable[Person], **named):
        super().__init__(*given, **named)
        self.campaign = campaign
        self.people = {str(person.pk): person for person in people}
        self.fields["to"].choices = [
            ("", _("Choose a person")),
            *((key, person.name) for key, person in self.people.items()),
            (NOBODY, "Nobody"),
        ]
        self.fields["to"].error_messages["invalid_choice"] = _(
            "This person does not take part. Choose another."
        )

    @property
    def releases(self) -> bool:
        return self.data.get("action") == "release"

    @property
    def person(self) -> Person | None:
        return self.people.get(self.cleaned_data["to"])

    def clean(self) -> dict:
        clean = super().clean()
        if not self.releases and "to" not in self.errors and not clean.get("to"):
            self.add_error("to", _("Choose who is to do it."))
        sheets, tasks = self._keys("sheet"), self._keys("bundle") | self._keys("task")
        if not sheets and not tasks:
            raise forms.ValidationError(NOTHING_TICKED)
        clean["sheets"] = list(
            PlannedSheet.objects.filter(pk__in=sheets, plan__campaign=self.campaign, cut_at=None)
        )
        clean["tasks"] = list(open_tasks(self.campaign).filter(pk__in=tasks).select_related("housing"))
        if len(clean["sheets"]) != len(sheets) or len(clean["tasks"]) != len(tasks):
            raise forms.ValidationError(GONE)
        return clean

    def _keys(self, name: str) -> set[int]:
        """The keys ticked under a name; what is no key was not made by the page."""
        given = ",".join(self.data.getlist(name)).split(",")
        keys = {key.strip() for key in given if key.strip()}
        if not all(key.isascii() and key.isdigit() and len(key) < 19 for key in keys):
            raise forms.ValidationError(GONE)
        return {int(key) for key in keys}
