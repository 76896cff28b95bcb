"""The filters of the work list and the minutes a task took."""

from datetime import date

import django_filters
from django import forms
from django.db.models import QuerySet
from django.utils.translation import gettext_lazy as _

from housing.forms.objects import LongSelect
from housing.models import Campaign, Person, Task
from housing.queries.periods import start_of
from housing.queries.tasks import at_location, waits
from objects.models import Location

OPEN = "open"
NOW, WAITS = "now", "waits"


class TaskFilter(django_filters.FilterSet):
    """Filters kept in the address; whoever sees only her own work chooses no person."""

    person = django_filters.ModelChoiceFilter(
        queryset=Person.objects.all(), empty_label=_("Everybody"), null_label=_("Nobody"), label=_("Person")
    )
    campaign = django_filters.ModelChoiceFilter(
        label=_("Campaign"),
        queryset=Campaign.objects.all(),
        field_name="housing__campaign",
        empty_label=_("All"),
    )
    step = django_filters.ChoiceFilter(choices=Task.Step, empty_label=_("All"), label=_("Step"))
    state = django_filters.ChoiceFilter(
        choices=[(OPEN, _("Not done yet")), *Task.State.choices],
        method="in_state",
        empty_label=_("All"),
        label=_("State"),
    )
    begin = django_filters.ChoiceFilter(
        label=_("Can be begun"),
        choices=[(NOW, _("Now")), (WAITS, _("Not yet: waits for something"))],
        method="that_can_begin",
        empty_label=_("All"),
    )
    done_since = django_filters.DateFilter(
        label=_("Done since"), method="that_were_done", widget=forms.DateInput(attrs={"type": "date"})
    )
    week = django_filters.NumberFilter(min_value=1, max_value=10_000, label=_("Week"))
    sheet = django_filters.NumberFilter(
        label=_("Boxes of sheet"), field_name="sheet__position", min_value=1, max_value=1_000_000
    )
    location = django_filters.ModelChoiceFilter(
        label=_("Location"),
        queryset=Location.objects.all(),
        method="at_place",
        empty_label=_("All"),
        widget=LongSelect,
    )

    class Meta:
        model = Task
        fields: list[str] = []

    def __init__(self, *given, sees_all: bool, **named):
        super().__init__(*given, **named)
        if not sees_all:
            del self.filters["person"]

    def in_state(self, tasks: QuerySet, name: str, value: str) -> QuerySet:
        return tasks.exclude(state=Task.State.DONE) if value == OPEN else tasks.filter(state=value)

    def that_can_begin(self, tasks: QuerySet, name: str, value: str) -> QuerySet:
        return tasks.exclude(state=Task.State.DONE).filter(waits(value == WAITS))

    def that_were_done(self, tasks: QuerySet, name: str, value: date) -> QuerySet:
        return tasks.filter(state=Task.State.DONE, done_at__gte=start_of(value))

    def at_place(self, tasks: QuerySet, name: str, value: Location) -> QuerySet:
        return at_location(tasks, value)


class MinutesForm(forms.Form):
    """How long a task took; blank if nobody looked at the clock."""

    minutes = forms.DecimalField(
        required=False,
        min_value=0,
        max_value=24 * 60,
        decimal_places=2,
        error_messages={
            "invalid": _("The minutes must be a number such as 25."),
            "min_value": _("The minutes cannot be below 0."),
            "max_value": _("That is more than a day. Enter at most 1440 minutes, or leave it blank."),
            "max_decimal_places": _("Give the minutes with two decimal places at most."),
        },
        label=_("Minutes"),
    )
