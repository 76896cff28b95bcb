"""The list of campaigns."""

import django_tables2 as tables
from django.urls import reverse
from django.utils.html import format_html
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from housing.models import Campaign
from objects.readers import Reader
from objects.tables.shaped import InFile, ShapedTable

NUMBER = {"td": {"class": "number"}, "th": {"class": "number"}}


class CampaignTable(ShapedTable):
    """Campaigns with how far they are."""

    key, caption = "campaigns", _("Campaigns")

    name = tables.Column(verbose_name=_("Name"), attrs={"td": {"class": "row-name"}})
    objects_count = tables.Column(verbose_name=_("Objects"), attrs=NUMBER)
    housed_count = tables.Column(verbose_name=_("Housed"), attrs=NUMBER)
    starts_on = tables.Column(verbose_name=_("Starts"), default="—")
    planned = tables.DateTimeColumn(
        accessor="plan__made_at", verbose_name=_("Planned"), format="j M Y H:i", default=_("Not yet")
    )
    is_closed = tables.Column(verbose_name=_("State"))

    class Meta:
        empty_text = _("No campaigns yet. A campaign says which objects are housed, how, and by whom.")

    def render_name(self, record: Campaign) -> str:
        return format_html(
            '<a href="{}">{}</a>', reverse("housing:campaign-detail", args=[record.pk]), record.name
        )

    def render_is_closed(self, value: bool) -> str:
        return gettext("Closed") if value else gettext("Open")

    def in_file(self, name: str, reader: Reader) -> InFile | None:
        """The moment of planning as spreadsheets read it."""
        if name != "planned":
            return None
        return (gettext("Planned"),), lambda record: (
            record.plan.made_at if hasattr(record, "plan") else None,
        )
