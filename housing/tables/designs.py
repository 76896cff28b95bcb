"""The list of designs."""

import django_tables2 as tables
from django.urls import reverse
from django.utils.html import format_html, format_html_join
from django.utils.translation import gettext_lazy as _

from boards.core.standards import standard_of
from housing.models import Design
from housing.queries.designs import standards_lacking
from objects.tables.shaped import ShapedTable


class DesignTable(ShapedTable):
    """Designs with their board and how many boxes have them."""

    key, caption = "designs", _("Designs")

    name = tables.Column(verbose_name=_("Name"), attrs={"td": {"class": "row-name"}})
    form = tables.Column(verbose_name=_("Form"))
    board = tables.Column(verbose_name=_("Board"), order_by="board__code")
    asks_for = tables.Column(
        verbose_name=_("Its board must meet"), default="—", empty_values=(None, []), orderable=False
    )
    padding = tables.Column(verbose_name=_("Padding"), default=_("None"))
    boxes = tables.Column(
        verbose_name=_("Boxes"), attrs={"td": {"class": "number"}, "th": {"class": "number"}}
    )

    class Meta:
        empty_text = _(
            "No designs yet. Enter the boxes you make, or take in a list of them on the Import page."
        )
        order_by = "name"

    def render_name(self, record: Design) -> str:
        return format_html(
            '<a href="{}">{}</a>', reverse("housing:design-detail", args=[record.pk]), record.name
        )

    def render_asks_for(self, value: list[str], record: Design) -> str:
        """The standards in short, and a word where one of them is not stated of the board."""
        names = ", ".join(standard_of(key).short_name for key in value)
        if told := standards_lacking(record):
            lines = format_html_join(" ", "{}", ((line,) for line in told))
            return format_html('{} <span class="soft">{}</span>', names, lines)
        return names
