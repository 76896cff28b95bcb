"""What lists of all that is bought have in common: suppliers by name, days, price breaks."""

from collections.abc import Iterable
from datetime import date

from boards.core.price_breaks import BreaksRefused, breaks_text, parse_breaks
from boards.models import Supplier
from objects.core.words import say
from objects.intake import Row, RowReading


class Suppliers:
    """The suppliers there are by name, and those that a list enters along with what they sell."""

    def __init__(self) -> None:
        self.by_name = {supplier.name.casefold(): supplier for supplier in Supplier.objects.all()}

    def read(self, row: Row) -> None:
        """The supplier that a row names, known or not."""
        row.text("supplier", 120)
        if name := row.values.get("supplier"):
            known = self.by_name.setdefault(name.casefold(), Supplier(name=name))
            if known.pk is None:
                row.notes.append(
                    say("“{name}” is not known as a supplier yet and is entered as one.", name=name)
                )
            row.values["supplier"] = known

    def save(self, rows: Iterable[RowReading]) -> None:
        """Store those that are new; called inside a transaction, before what they sell."""
        for row in rows:
            supplier = row.values.get("supplier")
            if supplier is not None and supplier.pk is None:
                supplier.save()


def read_day(row: Row, key: str) -> None:
    """A day as a calendar date, such as 2026-11-28."""
    if cell := row.cell(key):
        try:
            row.values[key] = date.fromisoformat(cell)
        except ValueError:
            row.refuse_cell(
                key, say("“{cell}” is no date. Write year, month and day, such as 2026-11-28.", cell=cell)
            )


def read_breaks(row: Row) -> None:
    """Price breaks, kept as the text that they are written in."""
    if cell := row.cell("breaks"):
        try:
            row.values["breaks"] = breaks_text(parse_breaks(cell))
        except BreaksRefused as refused:
            row.refuse_cell("breaks", str(refused))
