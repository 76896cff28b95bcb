"""What is unhoused as a table that an office opens in its spreadsheet."""

import csv
from collections.abc import Iterable
from io import StringIO

from housing.queries.need import UnhousedRow
from housing.tables.need import COUNTS
from objects.core.cells import neutral_cell


def unhoused_csv(heading: str, rows: Iterable[UnhousedRow]) -> bytes:
    """CSV in UTF-8 with the mark spreadsheets know it by; names that would run as formulas made harmless."""
    out = StringIO()
    writer = csv.writer(out)
    writer.writerow([heading, *(words for words, _ in COUNTS.values())])
    for row in rows:
        writer.writerow([neutral_cell(row.label), *(getattr(row, name) for name in COUNTS)])
    return out.getvalue().encode("utf-8-sig")
