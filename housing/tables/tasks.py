"""The work list: what comes first stands first."""

import django_tables2 as tables
from django.urls import reverse
from django.utils.html import format_html, format_html_join

from housing.models import Task

NUMBER = {"td": {"class": "number"}, "th": {"class": "number"}}


class TaskTable(tables.Table):
    """Tasks with buttons to begin and finish them."""

    caption = "Work"

    box = tables.Column(accessor="housing", order_by="housing_id", attrs={"td": {"class": "row-name"}})
    objects = tables.Column(empty_values=(), orderable=False, verbose_name="For")
    step = tables.Column(order_by=("sequence", "week"))
    week = tables.Column(order_by=("week", "housing_id", "sequence"), attrs=NUMBER)
    person = tables.Column(order_by="person__name", empty_values=())
    planned_minutes = tables.Column(verbose_name="Minutes planned", attrs=NUMBER)
    state = tables.Column()
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

    def render_person(self, record: Task) -> str:
        return str(record.person) if record.person else (record.reason or "Nobody")

    def render_planned_minutes(self, value) -> str:
        return f"{value:.0f}"

    def render_state(self, record: Task) -> str:
        return format_html('<span class="tag tag-{}">{}</span>', record.state, record.get_state_display())
