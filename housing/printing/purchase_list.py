"""The purchase list of a campaign on paper and as a table: per supplier what, how much, at which price."""

from collections.abc import Iterator, Sequence
from decimal import Decimal

from django.template.loader import render_to_string
from django.utils import timezone

from housing.core.budget.lines import SECTION_NAMES
from housing.models import Budget
from housing.pdf import render_pdf
from housing.printing.list_files import Cell, delimited
from housing.queries.purchases import SupplierOrder
from objects.core.words import noted, say
from objects.readers import Reader

HEADINGS = (
    noted("Supplier"), noted("Group"), noted("What"), noted("Quantity"), noted("Unit"), noted("Price"),
    noted("Amount"), noted("Currency"), noted("Computed from"), noted("Days until it comes"),
)  # fmt: skip
NO_SUPPLIER = noted("No supplier entered")


def purchase_csv(stored: Budget, orders: Sequence[SupplierOrder], reader: Reader) -> bytes:
    """Orders as CSV, a line a row, freight among them; its amounts add up to the goods of the budget."""
    return b"".join(delimited(_rows(stored, orders, reader)))


def purchase_pdf(stored: Budget, orders: Sequence[SupplierOrder], reader: Reader) -> bytes:
    """Orders as PDF, each supplier's on a page of its own. Raises PdfUnavailable where none can be made."""
    return render_pdf(render_to_string("print/purchase_list.html", purchase_context(stored, orders, reader)))


def purchase_context(stored: Budget, orders: Sequence[SupplierOrder], reader: Reader) -> dict[str, object]:
    """What the printed list shows."""
    return {
        "stored": stored,
        "campaign": stored.campaign,
        "orders": orders,
        "total": sum((order.total for order in orders), Decimal()),
        "paper": reader.paper,
        "reader": reader,
        "printed": timezone.localdate(),
        "no_supplier": say(NO_SUPPLIER),
    }


def _rows(stored: Budget, orders: Sequence[SupplierOrder], reader: Reader) -> Iterator[Sequence[Cell]]:
    yield [say(heading) for heading in HEADINGS]
    for order in orders:
        for line in (*order.goods, *order.freight):
            yield (
                order.name or say(NO_SUPPLIER),
                say(SECTION_NAMES[line.section]),
                # Names of supplies stay as they are sold: "20 mm foam" is not ordered as 13/16 in.
                reader.sentence(line.what) if line.target.kind == "board" else line.what,
                line.quantity,
                line.unit,
                line.price,
                line.amount,
                stored.currency,
                reader.sentence(line.computed_from),
                "" if order.lead_days is None else order.lead_days,
            )
