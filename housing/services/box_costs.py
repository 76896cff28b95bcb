"""What each box costs: its share of the campaign's budget, written into it for lists and its own page."""

from decimal import Decimal

from django.db import connection

from housing.core.budget.lines import Section
from housing.core.budget.sharing import BoxShares
from housing.models import Campaign, Housing

SECTIONS = {
    "board_cost": (Section.BOARD,),
    "glue_cost": (Section.ADHESIVE,),
    "padding_cost": (Section.PADDING,),
    "labour_cost": (Section.LABOUR,),
    "other_cost": (
        Section.SUPPLIES, Section.READY_MADE, Section.FREIGHT, Section.SUPERVISION, Section.INDIRECT,
    ),
}  # fmt: skip
COSTS = (*SECTIONS, "labour_minutes")
NONE = (Decimal(),) * len(COSTS)


def store_box_costs(*, campaign: Campaign, shares: BoxShares) -> int:
    """Write the shares into the boxes of a campaign where they differ; boxes not in the budget cost nothing.

    What a dropped box had cost stays in it, for the record. Returns how many were written.
    """
    columns = [shares.of(*sections) for sections in SECTIONS.values()]
    minutes = [Decimal(f"{value:.2f}") for value in shares.minutes]
    costs = dict(zip(map(int, shares.keys), zip(*columns, minutes, strict=True), strict=True))
    stored = Housing.objects.filter(campaign=campaign).exclude(status=Housing.Status.DROPPED)
    changed = [
        (*now, pk)
        for pk, *before in stored.order_by().values_list("pk", *COSTS)
        if (now := costs.get(pk, NONE)) != tuple(before)
    ]
    _write(changed)
    return len(changed)


def _write(rows: list[tuple]) -> None:
    """One prepared statement for all rows: updating 2,500 boxes through the models takes seconds."""
    if not rows:
        return
    quoted = connection.ops.quote_name
    fields = ", ".join(f"{quoted(name)} = %s" for name in COSTS)
    with connection.cursor() as cursor:
        statement = f"UPDATE {quoted(Housing._meta.db_table)} SET {fields} WHERE {quoted('id')} = %s"
        cursor.executemany(statement, [_adapted(row) for row in rows])


def _adapted(row: tuple) -> tuple:
    """Values as the database takes them: SQLite has decimals as text."""
    *costs, pk = row
    adapt = connection.ops.adapt_decimalfield_value
    sizes = [Housing._meta.get_field(name) for name in COSTS]
    return (
        *(
            adapt(cost, field.max_digits, field.decimal_places)
            for cost, field in zip(costs, sizes, strict=True)
        ),
        pk,
    )
