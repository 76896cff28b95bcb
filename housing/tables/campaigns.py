"""The list of campaigns."""

import django_tables2 as tables
from django.urls import reverse
from django.utils.html import format_html

from housing.models import Campaign

NUMBER = {"td": {"class": "number"}, "th": {"class": "number"}}


class CampaignTable(tables.Table):
    """Campaigns with how far they are."""

    caption = "Campaigns"

    name = tables.Column(attrs={"td": {"class": "row-name"}})
    objects_count = tables.Column(verbose_name="Objects", attrs=NUMBER)
    housed_count = tables.Column(verbose_name="Housed", attrs=NUMBER)
    starts_on = tables.Column(verbose_name="Starts", default="—")
    planned = tables.DateTimeColumn(
        accessor="plan__made_at", verbose_name="Planned", format="j M Y H:i", default="Not yet"
    )
    is_closed = tables.Column(verbose_name="State")

    class Meta:
        empty_text = "No campaigns yet. A campaign says which objects are housed, how, and by whom."

    def render_name(self, record: Campaign) -> str:
        return format_html(
            '<a href="{}">{}</a>', reverse("housing:campaign-detail", args=[record.pk]), record.name
        )

    def render_is_closed(self, value: bool) -> str:
        return "Closed" if value else "Open"
