"""Boxes that did not fit, each with why, by how much, what was done and what it cost."""

import django_tables2 as tables
from django.urls import reverse
from django.utils.html import format_html, format_html_join
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from housing.models import FitCheck
from objects.readers import Reader
from objects.tables.shaped import InFile, ShapedTable, lengths

NUMBER = {"td": {"class": "number"}, "th": {"class": "number"}}


class MisfitTable(ShapedTable):
    """Fit checks of misfits_to_show()."""

    key, caption, required = "misfits", _("Boxes that did not fit"), ("box",)

    box = tables.Column(
        accessor="housing", verbose_name=_("Box"), order_by="housing_id", attrs={"td": {"class": "row-name"}}
    )
    objects = tables.Column(empty_values=(), orderable=False, verbose_name=_("For"))
    at = tables.DateTimeColumn(verbose_name=_("When"), short=True)
    by = tables.Column(verbose_name=_("Who"), order_by="by__username", default="—")
    cause = tables.Column(verbose_name=_("Cause"))
    side = tables.Column(default="—", verbose_name=_("Side"))
    short_mm = tables.Column(verbose_name=_("Short by"), default="—", attrs=NUMBER)
    remedy = tables.Column(verbose_name=_("What was done"))
    cost = tables.Column(empty_values=(), orderable=False, attrs=NUMBER, verbose_name=_("Cost"))
    note = tables.Column(default="—", orderable=False, verbose_name=_("Note"))

    class Meta:
        empty_text = _("No box was wrong here. Clear the filters to see all that were tried.")

    def __init__(self, checks, *, reader: Reader, **named) -> None:
        super().__init__(checks, **named)
        self.reader = reader

    def render_box(self, record: FitCheck) -> str:
        address = reverse("housing:bench-box", args=[record.housing_id])
        return format_html('<a href="{}">{}</a>', address, record.housing)

    def render_objects(self, record: FitCheck) -> str:
        ties = record.housing.contents.all()
        links = ((reverse("housing:object-detail", args=[tie.object_id]), tie.object) for tie in ties)
        return format_html_join(", ", '<a href="{}">{}</a>', links)

    def render_by(self, value) -> str:
        return value.get_full_name() or value.get_username()

    def render_short_mm(self, value) -> str:
        length = self.reader.length(abs(value))
        return _("{length} too large").format(length=length) if value < 0 else length

    def render_cost(self, record: FitCheck) -> str:
        campaign = record.housing.campaign
        return f"{record.board_cost + record.work_cost:,.2f} {campaign.currency if campaign else ''}".strip()

    def in_file(self, name: str, reader: Reader) -> InFile | None:
        """Lengths and money as plain numbers; below 0 the box was too large."""
        if name == "short_mm":
            return lengths(gettext("Short by"), reader, lambda check: check.short_mm)
        if name == "at":
            return (gettext("When"),), lambda check: (check.at,)
        if name == "cost":
            return (gettext("Cost"), gettext("Currency")), self._cost
        return None

    def _cost(self, check: FitCheck) -> tuple[object, str]:
        campaign = check.housing.campaign
        return check.board_cost + check.work_cost, campaign.currency if campaign else ""
