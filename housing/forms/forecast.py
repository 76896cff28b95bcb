"""What is tried with the forecast of a campaign: days lost, somebody more, other hours of people."""

from decimal import Decimal

from django import forms

from housing.models import Campaign, Person
from housing.queries.forecast import Changes

MOST_DAYS, MOST_HOURS = 260, 80
HOURS = "hours_"


class ForecastForm(forms.Form):
    """All in the address, so that what was tried can be sent; nothing is stored."""

    days_lost = forms.IntegerField(
        label="Working days on which nobody works, from today on",
        required=False,
        min_value=0,
        max_value=MOST_DAYS,
        error_messages={
            "invalid": "Enter whole days, such as 1.",
            "min_value": "Days cannot be fewer than 0.",
            "max_value": f"Enter {MOST_DAYS} days or fewer: that is a year.",
        },
    )
    more_hours = forms.DecimalField(
        label="Hours a week of somebody more",
        required=False,
        min_value=0,
        max_value=MOST_HOURS,
        decimal_places=1,
        error_messages={"max_value": f"Nobody works more than {MOST_HOURS} hours a week."},
    )
    more_skills = forms.MultipleChoiceField(
        label="What they can do", choices=Person.Skill, required=False, widget=forms.CheckboxSelectMultiple
    )
    more_from = forms.DateField(label="From", required=False, widget=forms.DateInput(attrs={"type": "date"}))

    def __init__(self, *given, campaign: Campaign, **named) -> None:
        super().__init__(*given, **named)
        self.people = list(campaign.people.filter(is_active=True))
        for person in self.people:
            self.fields[f"{HOURS}{person.pk}"] = forms.DecimalField(
                label=person.name,
                required=False,
                min_value=0,
                max_value=MOST_HOURS,
                decimal_places=1,
                help_text=f"Now {person.hours_per_week.normalize():f} hours a week.",
                error_messages={"max_value": f"Nobody works more than {MOST_HOURS} hours a week."},
            )

    @property
    def hours_fields(self) -> list[forms.BoundField]:
        return [self[f"{HOURS}{person.pk}"] for person in self.people]

    def clean(self) -> dict:
        clean = super().clean() or self.cleaned_data
        if clean.get("more_hours") and not clean.get("more_skills"):
            self.add_error("more_skills", "Tick at least one skill of whoever comes.")
        return clean

    def changes(self) -> Changes:
        clean = self.cleaned_data
        return Changes(
            days_lost=clean.get("days_lost") or 0,
            hours={
                person.pk: hours
                for person in self.people
                if (hours := clean.get(f"{HOURS}{person.pk}")) is not None
            },
            more_hours=clean.get("more_hours") or Decimal(),
            more_skills=frozenset(clean.get("more_skills") or ()),
            more_from=clean.get("more_from"),
        )
