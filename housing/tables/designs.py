"""The list of designs."""

import django_tables2 as tables
from django.urls import reverse
from django.utils.html import format_html

from housing.models import Design


class DesignTable(tables.Table):
    """Designs with their board and how many boxes have them."""

    caption = "Designs"

    name = tables.Column(attrs={"td": {"class": "row-name"}})
    form = tables.Column()
    board = tables.Column(order_by="board__code")
    padding = tables.Column(default="None")
    boxes = tables.Column(attrs={"td": {"class": "number"}, "th": {"class": "number"}})

    class Meta:
        empty_text = "No designs yet. Enter the boxes you make, or take in a list of them on the Import page."
        order_by = "name"

    def render_name(self, record: Design) -> str:
        return format_html(
            '<a href="{}">{}</a>', reverse("housing:design-detail", args=[record.pk]), record.name
        )
