"""Price lists of boxes that are sold ready-made."""

from collections.abc import Iterable
from typing import Any

from boards.intake.buying import Suppliers, read_day
from housing.models import ReadyMadeBox
from objects.core.words import noted
from objects.intake import Field, ListKind, Row, RowReading

SIDES = ("inner_x_mm", "inner_y_mm", "inner_z_mm")


class ReadyMadeList(ListKind):
    """Boxes that can be bought, one a row; a supplier not known yet is entered along with them."""

    key = "ready_made"
    model, identity, identity_label = ReadyMadeBox, "name", noted("ready-made box")
    fields = (
        Field("name", noted("Name"), ("box", "ready-made box", "description"), required=True),
        Field("supplier", noted("Supplier"), ("sold by", "vendor")),
        Field("inner_x_mm", noted("Width inside"), ("inside width", "inner width", "width")),
        Field("inner_y_mm", noted("Depth inside"), ("inside depth", "inner depth", "depth")),
        Field("inner_z_mm", noted("Height inside"), ("inside height", "inner height", "height")),
        Field("wall_mm", noted("Wall"), ("thickness of its walls", "wall thickness")),
        Field("pack", noted("Pack"), ("boxes in a pack", "boxes per pack", "pack size")),
        Field("price", noted("Price per pack"), ("price", "price of a pack", "pack price")),
        Field("priced_on", noted("Price holds from"), ("price date", "priced on")),
        Field("withdrawn_on", noted("No longer sold from"), ("withdrawn on", "withdrawn")),
        Field("is_buffered", noted("Buffered"), ("is buffered", "alkaline reserve")),
        Field("note", noted("Note"), ("notes", "remarks")),
    )

    def __init__(self, **context: Any) -> None:
        super().__init__(**context)
        self.suppliers = Suppliers()

    def records(self) -> Iterable[ReadyMadeBox]:
        return ReadyMadeBox.objects.select_related("supplier")

    def read(self, row: Row) -> None:
        row.text("name", 120)
        for side in SIDES:
            row.length(side)
        row.length("wall_mm", may_be_zero=True)
        row.whole("pack", 1, 10_000)
        row.number("price", "0", "99999999")
        if row.values.get("price") == 0:
            row.notes.append(
                noted("A price of 0 is taken as one that is not known; no budget uses this box.")
            )
        read_day(row, "priced_on")
        read_day(row, "withdrawn_on")
        row.yes_no("is_buffered")
        row.text("note", 300)
        self.suppliers.read(row)

    def settle(self, row: Row, record: ReadyMadeBox | None) -> None:
        """A new box needs its three sides."""
        lacking = [side for side in SIDES if side not in row.values]
        if record is None and lacking and not row.problems:
            row.refuse(noted("A new box needs width, depth and height inside."))

    def save(self, rows: list[RowReading], by: Any = None) -> None:
        self.suppliers.save(rows)
        super().save(rows, by)
