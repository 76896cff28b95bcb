"""The list of people."""

import django_tables2 as tables
from django.urls import reverse
from django.utils.formats import date_format
from django.utils.html import format_html
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from housing.core.day_words import days_in_words
from housing.models import Person
from housing.queries.standards import rate_of
from objects.readers import Reader
from objects.tables.shaped import InFile, ShapedTable

NUMBER = {"td": {"class": "number"}, "th": {"class": "number"}}


class PersonTable(ShapedTable):
    """People with their hours, skills and open tasks; managers get a link to edit each."""

    key, caption = "people", _("People")

    name = tables.Column(verbose_name=_("Name"), attrs={"td": {"class": "row-name"}})
    kind = tables.Column(verbose_name=_("Kind"))
    hours_per_week = tables.Column(verbose_name=_("Hours a week"), attrs=NUMBER)
    grade = tables.Column(verbose_name=_("Grade"), default="—", linkify=False)
    an_hour = tables.Column(empty_values=(), verbose_name=_("An hour costs"), orderable=False, attrs=NUMBER)
    skills = tables.Column(verbose_name=_("Skills"), default="—", orderable=False)
    training = tables.Column(verbose_name=_("Training"))
    handles_hazards = tables.Column(verbose_name=_("May handle hazards"))
    is_active = tables.Column(verbose_name=_("Works at present"))
    away = tables.Column(empty_values=(), verbose_name=_("Away next"), order_by="away_from")
    open_tasks = tables.Column(verbose_name=_("Open tasks"), attrs=NUMBER)

    class Meta:
        empty_text = _("Nobody yet. Enter who takes part, or take in a list on the Import page.")

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
            if not rate.in_kind_rate:
                return gettext("0; worth not entered")
            return gettext("0; worth %(amount)s") % {"amount": f"{rate.in_kind_rate:,.2f}"}
        return f"{rate.cost:,.2f}" if rate.rate else gettext("Not entered")

    def render_skills(self, record: Person) -> str:
        return ", ".join(record.skill_names)

    def render_training(self, record: Person) -> str:
        return record.get_training_display().partition(":")[0]

    def render_away(self, record: Person) -> str:
        return days_in_words(record.away_from, record.away_to) if record.away_from else "—"

    def render_handles_hazards(self, value: bool) -> str:
        return gettext("Yes") if value else gettext("No")

    def render_is_active(self, record: Person) -> str:
        """Whether, and from when or until when."""
        if not record.is_active:
            return gettext("No")
        days = {
            "first": date_format(record.starts_on, "d M Y") if record.starts_on else "",
            "last": date_format(record.ends_on, "d M Y") if record.ends_on else "",
        }
        if record.starts_on and record.ends_on:
            return gettext("Yes, from %(first)s, until %(last)s") % days
        if record.starts_on:
            return gettext("Yes, from %(first)s") % days
        return gettext("Yes, until %(last)s") % days if record.ends_on else gettext("Yes")

    def in_file(self, name: str, reader: Reader) -> InFile | None:
        """What an hour costs, and of volunteers what it is worth, as plain numbers; the days away in two."""
        if name == "an_hour":
            return (gettext("An hour costs"), gettext("An hour given is worth")), _an_hour
        if name == "away":
            days = (gettext("Away next, first day"), gettext("Away next, last day"))
            return days, lambda person: (person.away_from, person.away_to)
        return None


def _an_hour(person: Person) -> tuple[object, object]:
    rate = rate_of(person)
    if person.kind == Person.Kind.VOLUNTEER:
        return 0, rate.in_kind_rate or None
    return (rate.cost if rate.rate else None), None
