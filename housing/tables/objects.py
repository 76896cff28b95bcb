"""The object list: what a person looks for first comes first."""

from collections.abc import Callable, Iterable
from decimal import Decimal
from operator import attrgetter, methodcaller
from typing import Any

import django_tables2 as tables
from django.urls import reverse
from django.utils.functional import lazy
from django.utils.html import format_html
from django.utils.safestring import SafeString
from django.utils.translation import gettext, pgettext_lazy
from django.utils.translation import gettext_lazy as _

from housing.core.priority import HUNDREDTHS
from housing.queries.objects import status_name
from objects.models import CatalogueObject
from objects.models.objects import HAZARD_SEPARATOR
from objects.readers import Reader
from objects.tables.shaped import InFile, ShapedTable, in_unit_of


def _tick() -> SafeString:
    """Without script the heading is words; with it, a box that ticks every row of the page (ticks.js)."""
    return format_html(
        '<input type="checkbox" aria-label="{}" data-tick-all hidden><span class="tick-word">{}</span>',
        gettext("Tick all on this page"),
        gettext("Tick"),
    )


TICK = lazy(_tick, SafeString)()


def of_class(name: str) -> dict[str, dict[str, str]]:
    """A class for a column's heading and its cells."""
    return {"th": {"class": name}, "td": {"class": name}}


def known_sides(reader: Reader, sides_mm: Iterable[Decimal | None]) -> str:
    """The sides in the reader's unit, an em dash for each that is not known: 11 × — × 9 in."""
    sides_mm = list(sides_mm)
    if not any(sides_mm):
        return gettext("Not measured")
    sides = [reader.length(side).removesuffix(f" {reader.unit}") for side in sides_mm]
    return f"{' × '.join(sides)} {reader.unit}"


# What columns say in a file, read straight from the object: the cells of the page take many times as long.
IN_FILE: dict[str, Callable[[Any], Any]] = {
    "number": attrgetter("number"),
    "name": attrgetter("name"),
    "classification": attrgetter("classification"),
    "materials": attrgetter("materials"),
    "quantity": attrgetter("quantity"),
    "location": attrgetter("location"),
    "condition": methodcaller("get_condition_display"),
    "fragility": methodcaller("get_fragility_display"),
    "present_housing": methodcaller("get_present_housing_display"),
    "priority": attrgetter("priority"),
    "status": lambda thing: status_name(thing.housing_status),
    "box": lambda thing: "" if thing.live_housing is None else f"{thing.live_housing:04d}",
}


class ObjectTable(ShapedTable):
    """Objects with a tick box each; sizes in the reader's unit. Batches are shown for one campaign only."""

    key, caption = "objects", _("Objects")
    required, page_only = ("number", "name"), ("tick",)
    unusual = (
        "materials", "weight", "quantity", "hazards", "fragility", "present_housing", "need", "campaigns",
        "surveyed_at",
    )  # fmt: skip
    tools_apart = True  # the table stands in a form, its tools before it

    tick = tables.Column(accessor="pk", verbose_name=TICK, orderable=False, attrs=of_class("tick"))
    number = tables.Column(
        order_by="number_key", verbose_name=_("Number"), attrs={"td": {"class": "row-name object-number"}}
    )
    name = tables.Column(verbose_name=_("Name"))
    classification = tables.Column(verbose_name=_("Classification"))
    materials = tables.Column(verbose_name=_("Materials"), default="—")
    location = tables.Column(
        verbose_name=_("Location"), order_by="location__path", default="—", attrs={"td": {"class": "place"}}
    )
    size = tables.Column(
        verbose_name=_("Size"),
        empty_values=(),
        order_by=("height_mm", "width_mm", "depth_mm"),
        attrs={"td": {"class": "size"}},
    )
    weight = tables.Column(
        verbose_name=_("Weight"), accessor="weight_g", default="—", attrs=of_class("number")
    )
    quantity = tables.Column(verbose_name=_("Quantity"), attrs=of_class("number"))
    condition = tables.Column(verbose_name=_("Condition"), default="—", attrs=of_class("widest-only"))
    fragility = tables.Column(verbose_name=_("Fragility"), default="—")
    hazards = tables.Column(verbose_name=_("Hazards"), default="—")
    present_housing = tables.Column(verbose_name=_("Present housing"))
    need = tables.Column(verbose_name=_("Need"), accessor="housing_need", default="—")
    priority = tables.Column(
        verbose_name=_("Priority"), order_by=("priority", "-score"), attrs=of_class("wide-only")
    )
    score = tables.Column(
        verbose_name=pgettext_lazy("priority", "Score"),
        order_by=("score", "number_key"),
        initial_sort_descending=True,
        attrs=of_class("number"),
    )
    status = tables.Column(
        verbose_name=_("Status"), accessor="housing_status", order_by=("housing_status", "number_key")
    )
    box = tables.Column(accessor="live_housing", verbose_name=_("Box"), default="—")
    campaigns = tables.Column(verbose_name=_("Campaigns"), empty_values=(), orderable=False)
    surveyed_at = tables.DateTimeColumn(
        verbose_name=_("Looked at"), format="Y-m-d", default=_("Not yet"), attrs=of_class("number")
    )
    batch = tables.Column(verbose_name=_("Batch"), order_by=("batch", "number_key"), attrs=of_class("number"))

    class Meta:
        empty_text = _("No object matches. Clear the filters, or take in a list on the Import page.")
        order_by = "number"

    def __init__(self, *given, reader: Reader, has_batch: bool = False, **named):
        super().__init__(*given, exclude=() if has_batch else ("batch",), **named)
        self.reader = reader

    def shape(self, kept: list[str]) -> None:
        super().shape(kept)
        if "campaigns" in self.columns.names():
            self.data.data = self.data.data.prefetch_related("campaigns")

    def render_tick(self, record: CatalogueObject) -> str:
        return format_html(
            '<input type="checkbox" name="object" value="{}" aria-label="{}">',
            record.pk,
            gettext("Tick %(number)s") % {"number": record.number},
        )

    def render_number(self, record: CatalogueObject) -> str:
        address = reverse("housing:object-detail", args=[record.pk])
        return format_html('<a href="{}">{}</a>', address, record.number)

    def render_size(self, record: CatalogueObject) -> str:
        size = known_sides(self.reader, record.sides_mm)
        if record.size_state != CatalogueObject.SizeState.CHECK:
            return size
        return gettext("%(size)s, to be checked") % {"size": size}

    def render_priority(self, value: str, record: CatalogueObject) -> str:
        return record.priority

    def render_score(self, value: int) -> str:
        return f"{value / HUNDREDTHS:.1f}"

    def render_status(self, value: str) -> str:
        return format_html('<span class="tag tag-{}">{}</span>', value, status_name(value))

    def render_box(self, value: int) -> str:
        return f"{value:04d}"

    def render_weight(self, value: Decimal) -> str:
        return self.reader.weight(value)

    def render_hazards(self, record: CatalogueObject) -> str:
        return ", ".join(map(str, record.hazard_list))

    def render_need(self, value: str) -> str:
        return str(CatalogueObject.Need(value).label)

    def render_campaigns(self, record: CatalogueObject) -> str:
        return ", ".join(str(campaign) for campaign in record.campaigns.all()) or "—"

    def in_file(self, name: str, reader: Reader) -> InFile | None:
        """Sides, weights and scores as plain numbers, each side in a column of its own."""
        if read := IN_FILE.get(name):
            return (str(self.base_columns[name].verbose_name),), lambda thing: (read(thing),)
        match name:
            case "size":
                sides = (gettext("Height"), gettext("Width"), gettext("Depth"))
                headings = (*(f"{side} ({reader.unit})" for side in sides), gettext("Size is"))
                return headings, lambda thing: (
                    *(in_unit_of(reader, mm) for mm in thing.sides_mm),
                    thing.get_size_state_display(),
                )
            case "weight":
                return (f"{gettext('Weight')} (g)",), lambda thing: (thing.weight_g,)
            case "score":
                return (gettext("Score"),), lambda thing: (Decimal(thing.score) / HUNDREDTHS,)
            case "surveyed_at":
                return (gettext("Looked at"),), lambda thing: (thing.surveyed_at,)
            case "hazards":
                words = gettext("Hazards")
                return (words,), lambda thing: (HAZARD_SEPARATOR.join(map(str, thing.hazard_list)),)
        return None
