"""What is tried with the forecast of a campaign: days lost, somebody more, other hours of people."""

from decimal import Decimal

from django import forms
from django.utils.text import format_lazy
from django.utils.translation import gettext_lazy as _

from housing.models import Campaign, Person
from housing.queries.what_if import Changes

MOST_DAYS, MOST_HOURS = 260, 80
HOURS = "hours_"


def _day(label: str, help_text: str) -> forms.DateField:
    return forms.DateField(
        label=label,
        required=False,
        help_text=help_text,
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        error_messages={"invalid": _("Enter a day such as 2026-05-31.")},
    )


class ForecastForm(forms.Form):
    """All in the address, so that what was tried can be sent; nothing is stored."""

    days_lost = forms.IntegerField(
        label=_("Working days on which nobody works"),
        required=False,
        min_value=0,
        max_value=MOST_DAYS,
        error_messages={
            "invalid": _("Enter whole days, such as 1."),
            "min_value": _("Days cannot be fewer than 0."),
            "max_value": format_lazy(_("Enter {days} days or fewer: that is a year."), days=MOST_DAYS),
        },
    )
    lost_from = _day(_("The first of them"), _("Today if left blank."))
    more_hours = forms.DecimalField(
        label=_("Hours a week of somebody more"),
        required=False,
        min_value=0,
        max_value=MOST_HOURS,
        decimal_places=1,
        error_messages={
            "max_value": format_lazy(_("Nobody works more than {hours} hours a week."), hours=MOST_HOURS)
        },
    )
    more_skills = forms.MultipleChoiceField(
        label=_("What they can do"), choices=Person.Skill, required=False, widget=forms.CheckboxSelectMultiple
    )
    more_from = _day(_("From"), _("Today if left blank."))
    more_until = _day(_("Last day"), _("To the end if left blank."))
    hours_until = _day(_("Last day with these hours"), _("To the end if left blank."))

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
                help_text=_("Now {normalize:f} hours a week.").format(
                    normalize=person.hours_per_week.normalize()
                ),
                error_messages={
                    "max_value": _("Nobody works more than {most_hours} hours a week.").format(
                        most_hours=MOST_HOURS
                    )
                },
            )

    @property
    def hours_fields(self) -> list[forms.BoundField]:
        return [self[f"{HOURS}{person.pk}"] for person in self.people]

    def clean(self) -> dict:
        clean = super().clean() or self.cleaned_data
        if clean.get("more_hours") and not clean.get("more_skills"):
            self.add_error("more_skills", _("Tick at least one skill of whoever comes."))
        first, last = clean.get("more_from"), clean.get("more_until")
        if first and last and last < first:
            self.add_error("more_until", _("The last day lies before the first. Exchange the two."))
        for day, of in (
            ("lost_from", "days_lost"), ("more_from", "more_hours"), ("more_until", "more_hours"),
        ):  # fmt: skip
            if clean.get(day) and of in clean and not clean[of]:
                self.add_error(of, _("A day is entered for it: enter how many too, or take the day out."))
                break
        if clean.get("hours_until") and not any(
            clean.get(field.name) is not None for field in self.hours_fields
        ):
            self.add_error("hours_until", _("Enter whose hours are others until then, or take the day out."))
        return clean

    def changes(self) -> Changes:
        clean = self.cleaned_data
        return Changes(
            days_lost=clean.get("days_lost") or 0,
            lost_from=clean.get("lost_from"),
            hours_until=clean.get("hours_until"),
            more_until=clean.get("more_until"),
            hours={
                person.pk: hours
                for person in self.people
                if (hours := clean.get(f"{HOURS}{person.pk}")) is not None
            },
            more_hours=clean.get("more_hours") or Decimal(),
            more_skills=frozenset(clean.get("more_skills") or ()),
            more_from=clean.get("more_from"),
        )
