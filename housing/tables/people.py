"""The list of people."""

import django_tables2 as tables
from django.urls import reverse
from django.utils.html import format_html

from housing.core.day_words import days_in_words
from housing.models import Person
from housing.queries.standards import rate_of

NUMBER = {"td": {"class": "number"}, "th": {"class": "number"}}


class PersonTable(tables.Table):
    """People with their hours, skills and open tasks; managers get a link to edit each."""

    caption = "People"

    name = tables.Column(attrs={"td": {"class": "row-name"}})
    kind = tables.Column()
    hours_per_week = tables.Column(verbose_name="Hours a week", attrs=NUMBER)
    grade = tables.Column(default="—", linkify=False)
    an_hour = tables.Column(empty_values=(), verbose_name="An hour costs", orderable=False, attrs=NUMBER)
    skills = tables.Column(default="—", orderable=False)
    training = tables.Column()
    handles_hazards = tables.Column(verbose_name="May handle hazards")
    is_active = tables.Column(verbose_name="Works at present")
    away = tables.Column(empty_values=(), verbose_name="Away next", order_by="away_from")
    open_tasks = tables.Column(attrs=NUMBER)

    class Meta:
        empty_text = "Nobody yet. Enter who takes part, or take in a list on the Import page."

    def __init__(self, *given, can_edit: bool, **named):
        super().__init__(*given, **named)
        self.can_edit = can_edit

    def render_name(self, record: Person) -> str:
        if not self.can_edit:
            return record.name
        return format_html(
            '<a href="{}">{}</a>', reverse("housing:person-edit", args=[record.pk]), record.name
        )

    def render_an_hour(self, record: Person) -> str:
        """With on-costs; of a volunteer, what it is worth."""
        rate = rate_of(record)
        if record.kind == Person.Kind.VOLUNTEER:
            return f"0; worth {rate.in_kind_rate:,.2f}" if rate.in_kind_rate else "0; worth not entered"
        return f"{rate.cost:,.2f}" if rate.rate else "Not entered"

    def render_skills(self, record: Person) -> str:
        return ", ".join(record.skill_names)

    def render_training(self, record: Person) -> str:
        return record.get_training_display().partition(":")[0]

    def render_away(self, record: Person) -> str:
        return days_in_words(record.away_from, record.away_to) if record.away_from else "—"

    def render_handles_hazards(self, value: bool) -> str:
        return "Yes" if value else "No"

    def render_is_active(self, record: Person) -> str:
        """Whether, and from when or until when."""
        if not record.is_active:
            return "No"
        first = [f"from {record.starts_on:%d %b %Y}"] if record.starts_on else []
        last = [f"until {record.ends_on:%d %b %Y}"] if record.ends_on else []
        return ", ".join(["Yes", *first, *last])
