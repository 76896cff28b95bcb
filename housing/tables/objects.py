"""The object list: what a person looks for first comes first."""

from collections.abc import Iterable
from decimal import Decimal

import django_tables2 as tables
from django.urls import reverse
from django.utils.html import format_html
from django.utils.safestring import mark_safe

from housing.core.priority import HUNDREDTHS
from housing.queries.objects import status_name
from objects.models import CatalogueObject
from objects.readers import Reader

# Without script the heading is words; with it, a box that ticks every row of the page (ticks.js).
TICK = mark_safe(
    '<input type="checkbox" aria-label="Tick all on this page" data-tick-all hidden>'
    '<span class="tick-word">Tick</span>'
)


def of_class(name: str) -> dict[str, dict[str, str]]:
    """A class for a column's heading and its cells."""
    return {"th": {"class": name}, "td": {"class": name}}


def known_sides(reader: Reader, sides_mm: Iterable[Decimal | None]) -> str:
    """The sides in the reader's unit, an em dash for each that is not known: 11 × — × 9 in."""
    sides_mm = list(sides_mm)
    if not any(sides_mm):
        return "Not measured"
    sides = [reader.length(side).removesuffix(f" {reader.unit}") for side in sides_mm]
    return f"{' × '.join(sides)} {reader.unit}"


class ObjectTable(tables.Table):
    """Objects with a tick box each; sizes in the reader's unit. Batches are shown for one campaign only."""

    caption = "Objects"

    tick = tables.Column(accessor="pk", verbose_name=TICK, orderable=False, attrs=of_class("tick"))
    number = tables.Column(
        order_by="number_key", verbose_name="Number", attrs={"td": {"class": "row-name object-number"}}
    )
    name = tables.Column()
    classification = tables.Column()
    location = tables.Column(order_by="location__path", default="—", attrs={"td": {"class": "place"}})
    size = tables.Column(
        empty_values=(), order_by=("height_mm", "width_mm", "depth_mm"), attrs={"td": {"class": "size"}}
    )
    condition = tables.Column(default="—", attrs=of_class("widest-only"))
    priority = tables.Column(order_by=("priority", "-score"), attrs=of_class("wide-only"))
    score = tables.Column(
        order_by=("score", "number_key"), initial_sort_descending=True, attrs=of_class("number")
    )
    status = tables.Column(accessor="housing_status", order_by=("housing_status", "number_key"))
    box = tables.Column(accessor="live_housing", verbose_name="Box", default="—")
    batch = tables.Column(order_by=("batch", "number_key"), attrs=of_class("number"))

    class Meta:
        empty_text = "No object matches. Clear the filters, or take in a list on the Import page."
        order_by = "number"

    def __init__(self, *given, reader: Reader, has_batch: bool = False, **named):
        super().__init__(*given, exclude=() if has_batch else ("batch",), **named)
        self.reader = reader

    def render_tick(self, record: CatalogueObject) -> str:
        return format_html(
            '<input type="checkbox" name="object" value="{}" aria-label="Tick {}">', record.pk, record.number
        )

    def render_number(self, record: CatalogueObject) -> str:
        address = reverse("housing:object-detail", args=[record.pk])
        return format_html('<a href="{}">{}</a>', address, record.number)

    def render_size(self, record: CatalogueObject) -> str:
        size = known_sides(self.reader, record.sides_mm)
        return f"{size}, to be checked" if record.size_state == CatalogueObject.SizeState.CHECK else size

    def render_priority(self, value: str, record: CatalogueObject) -> str:
        return record.priority

    def render_score(self, value: int) -> str:
        return f"{value / HUNDREDTHS:.1f}"

    def render_status(self, value: str) -> str:
        return format_html('<span class="tag tag-{}">{}</span>', value, status_name(value))

    def render_box(self, value: int) -> str:
        return f"{value:04d}"
