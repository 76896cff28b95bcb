"""What is unhoused, a row a group; every count leads to the objects it counts."""

from urllib.parse import urlencode

import django_tables2 as tables
from django.urls import reverse
from django.utils.html import format_html
from django.utils.translation import gettext_lazy as _

from housing.core.need import POOR, UNHOUSED
from housing.forms.objects import IN_HAND, STILL
from housing.queries.need import GROUPINGS, UnhousedRow
from objects.readers import Reader
from objects.tables.shaped import InFile, ShapedTable

NUMBER = {"td": {"class": "number"}, "th": {"class": "number"}}
# Each column of counts with what narrows the object list to what it counts.
COUNTS = {
    "still": (_("Still unhoused"), {"status": STILL}),
    "unhoused": (_("No housing"), {"status": STILL, "need": UNHOUSED}),
    "poorly_housed": (_("Poorly housed"), {"status": STILL, "need": POOR}),
    "in_hand": (_("Box in hand"), {"status": IN_HAND}),
    "not_surveyed": (_("Not surveyed"), {"status": STILL, "surveyed": "no"}),
    "not_measured": (_("Not measured"), {"status": STILL, "size_state": "missing"}),
    "objects": (_("Of objects"), {}),
}


class UnhousedTable(ShapedTable):
    """Groups of objects with how many are unhoused, and of these how many nobody has seen or measured yet."""

    key, caption, required = "unhoused", _("What is unhoused"), ("label",)

    label = tables.Column(verbose_name=_("Label"), orderable=True, attrs={"td": {"class": "row-name"}})
    still, unhoused, poorly_housed, in_hand, not_surveyed, not_measured, objects = (
        tables.Column(verbose_name=words, initial_sort_descending=True, attrs=NUMBER)
        for words, narrowed in COUNTS.values()
    )

    class Meta:
        empty_text = _(
            "There are no objects here. Choose another place, or take in a list on the Import page."
        )

    def __init__(self, rows: list[UnhousedRow], *, by: str, narrowed: dict[str, str], **named):
        """narrowed: filters of the object list that hold for every row, such as the place looked into."""
        natural = by in ("priority", "score")
        super().__init__(rows, order_by=() if natural else ("-still",), **named)
        self.columns["label"].column.verbose_name = GROUPINGS[by]
        self.by, self.narrowed = by, narrowed

    def render_label(self, value: str, record: UnhousedRow) -> str:
        if not record.inner:
            return value
        address = f"?{urlencode({'by': self.by, 'location': record.inner})}"
        return format_html('<a href="{}">{}</a>', address, value)

    def render_still(self, value: int, record: UnhousedRow, bound_column) -> str:
        if not value:
            return "0"
        filters = {**self.narrowed, **record.filters, **COUNTS[bound_column.name][1]}
        address = f"{reverse('housing:object-list')}?{urlencode(filters)}"
        return format_html('<a href="{}">{}</a>', address, f"{value:,}")

    render_unhoused = render_poorly_housed = render_in_hand = render_still
    render_not_surveyed = render_not_measured = render_objects = render_still

    def in_file(self, name: str, reader: Reader) -> InFile | None:
        """Counts as plain numbers."""
        if name not in COUNTS:
            return None
        return (str(COUNTS[name][0]),), lambda row: (getattr(row, name),)
