"""The work list: what comes first stands first."""

import django_tables2 as tables
from django.urls import reverse
from django.utils.html import format_html, format_html_join
from django.utils.safestring import mark_safe
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from housing.core.day_words import week_days
from housing.models import Task
from housing.queries.tasks import waiting_for
from objects.core.retelling import retold
from objects.readers import Reader
from objects.tables.shaped import InFile, ShapedTable

NUMBER = {"td": {"class": "number"}, "th": {"class": "number"}}


class TaskTable(ShapedTable):
    """Tasks of tasks_to_show() with buttons to begin and finish them."""

    key, caption = "work", _("Work")
    required, page_only = ("box", "step"), ("do",)

    box = tables.Column(
        accessor="housing", order_by="housing_id", attrs={"td": {"class": "row-name"}}, verbose_name=_("Box")
    )
    objects = tables.Column(empty_values=(), orderable=False, verbose_name=_("For"))
    step = tables.Column(order_by=("sequence", "week"), verbose_name=_("Step"))
    week = tables.Column(order_by=("week", "housing_id", "sequence"), verbose_name=_("Week"))
    person = tables.Column(order_by="person__name", empty_values=(), verbose_name=_("Person"))
    planned_minutes = tables.Column(verbose_name=_("Minutes planned"), attrs=NUMBER)
    state = tables.Column(verbose_name=_("State"))
    waits_for = tables.Column(
        empty_values=(), orderable=False, attrs={"td": {"class": "waits"}}, verbose_name=_("Waits for")
    )
    do = tables.TemplateColumn(
        template_name="housing/task_actions.html", orderable=False, verbose_name=_("Next")
    )

    class Meta:
        empty_text = _("There is nothing to do here. Clear the filters, or ask a manager to plan a campaign.")
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
        days = week_days(campaign.work_from if campaign else None, record.week)
        return format_html('{} <span class="soft">{}</span>', record.week, days) if days else str(record.week)

    def render_waits_for(self, record: Task) -> str:
        """What it waits for; that it can be begun, where it waits for nothing and nobody has begun it."""
        if record.state == Task.State.DONE:
            return "—"
        waits = waiting_for(record)
        if waits:
            return format_html_join(mark_safe("<br>"), "{}", ((words,) for words in waits))
        return _("Nothing: can be begun now") if record.state == Task.State.TO_DO else "—"

    def render_person(self, record: Task) -> str:
        return str(record.person) if record.person else (retold(record.reason) or _("Nobody"))

    def render_planned_minutes(self, value) -> str:
        return f"{value:.0f}"

    def render_state(self, record: Task) -> str:
        return format_html('<span class="tag tag-{}">{}</span>', record.state, record.get_state_display())

    def in_file(self, name: str, reader: Reader) -> InFile | None:
        """Weeks and minutes as plain numbers."""
        if name == "week":
            return (gettext("Week"),), lambda task: (task.week,)
        if name == "planned_minutes":
            return (gettext("Minutes planned"),), lambda task: (task.planned_minutes,)
        if name == "waits_for":
            return (gettext("Waits for"),), lambda task: ("; ".join(waiting_for(task)),)
        return None
