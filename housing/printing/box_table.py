"""Every box of a campaign as a table that an office opens in its spreadsheet."""

from housing.models import Campaign
from housing.queries.boxes import box_rows
from objects.core.cells import neutral_cell


def box_csv(campaign: Campaign) -> bytes:
    """The table as CSV in UTF-8 with the mark by which spreadsheets know it; sizes in mm.

    Text that a spreadsheet would run as a formula is made harmless by an apostrophe in front.
    """
    import pandas as pd  # late: it costs half a second that no other page needs

    table = pd.DataFrame(box_rows(campaign))
    for column in table.select_dtypes(exclude="number").columns:
        table[column] = table[column].map(_harmless)
    return table.to_csv(index=False).encode("utf-8-sig")


def _harmless(value: object) -> object:
    return neutral_cell(value) if isinstance(value, str) else value
