"""The work list: what comes first stands first."""

import django_tables2 as tables
from django.urls import reverse
from django.utils.html import format_html, format_html_join
from django.utils.safestring import mark_safe

from housing.core.day_words import week_in_words
from housing.models import Task
from housing.queries.tasks import waiting_for

NUMBER = {"td": {"class": "number"}, "th": {"class": "number"}}


class TaskTable(tables.Table):
    """Tasks of tasks_to_show() with buttons to begin and finish them."""

    caption = "Work"

    box = tables.Column(accessor="housing", order_by="housing_id", attrs={"td": {"class": "row-name"}})
    objects = tables.Column(empty_values=(), orderable=False, verbose_name="For")
    step = tables.Column(order_by=("sequence", "week"))
    week = tables.Column(order_by=("week", "housing_id", "sequence"))
    person = tables.Column(order_by="person__name", empty_values=())
    planned_minutes = tables.Column(verbose_name="Minutes planned", attrs=NUMBER)
    state = tables.Column()
    waits_for = tables.Column(empty_values=(), orderable=False, attrs={"td": {"class": "waits"}})
    do = tables.TemplateColumn(
        template_name="housing/task_actions.html", orderable=False, verbose_name="Next"
    )

    class Meta:
        empty_text = "There is nothing to do here. Clear the filters, or ask a manager to plan a campaign."
        order_by = "week"

    def render_objects(self, record: Task) -> str:
        return format_html_join(
            ", ",
            '<a href="{}">{}</a>',
            (
                (reverse("housing:object-detail", args=[tie.object_id]), tie.object)
                for tie in record.housing.contents.all()
            ),
        )

    def render_week(self, record: Task) -> str:
        """Its number, and its days where the campaign has dates."""
        campaign = record.housing.campaign
        words = week_in_words(campaign.work_from if campaign else None, record.week)
        number, _, days = words.removeprefix("Week ").partition(", ")
        return format_html('{} <span class="soft">{}</span>', number, days) if days else number

    def render_waits_for(self, record: Task) -> str:
        """What it waits for; that it can be begun, where it waits for nothing and nobody has begun it."""
        if record.state == Task.State.DONE:
            return "—"
        waits = waiting_for(record)
        if waits:
            return format_html_join(mark_safe("<br>"), "{}", ((words,) for words in waits))
        return "Nothing: can be begun now" if record.state == Task.State.TO_DO else "—"

    def render_person(self, record: Task) -> str:
        return str(record.person) if record.person else (record.reason or "Nobody")

    def render_planned_minutes(self, value) -> str:
        return f"{value:.0f}"

    def render_state(self, record: Task) -> str:
        return format_html('<span class="tag tag-{}">{}</span>', record.state, record.get_state_display())
