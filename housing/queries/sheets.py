"""Which planned sheets are at the bench: issued from stock or rack, and not cut yet."""

from collections.abc import Iterable
from itertools import batched

from boards.models import RackEntry, StockMovement
from housing.models import Campaign, PlannedSheet

REFERENCE = "planned_sheet:"


def reference_of(sheet: PlannedSheet) -> str:
    """What entries of the ledgers that were made for a planned sheet refer to."""
    return f"{REFERENCE}{sheet.pk}"


def issue_of(sheet: PlannedSheet) -> StockMovement | RackEntry | None:
    """The entry with which a sheet was issued, from stock or from the rack; None while it was not."""
    named = {"reference": reference_of(sheet), "reversed_by": None}
    if sheet.offcut_id:
        return RackEntry.objects.filter(kind=RackEntry.Kind.TAKEN, **named).last()
    return StockMovement.objects.filter(kind=StockMovement.Kind.USE, **named).last()


def issued_among(sheets: Iterable[int]) -> set[int]:
    """Of some planned sheets, by key, those that were issued and are not back."""
    named = {f"{REFERENCE}{pk}": pk for pk in sheets}
    found: set[int] = set()
    for model, kind in (
        (StockMovement, StockMovement.Kind.USE),
        (RackEntry, RackEntry.Kind.TAKEN),
    ):
        for some in batched(named, 1000):  # a database takes only so many values at once
            issued = model.objects.filter(kind=kind, reference__in=some, reversed_by=None)
            found |= {named[one] for one in issued.values_list("reference", flat=True)}
    return found


def sheets_at_bench(campaign: Campaign) -> list[PlannedSheet]:
    """Sheets of a campaign that were issued and are not cut yet, in the order of the plan."""
    uncut = PlannedSheet.objects.filter(plan__campaign=campaign, cut_at=None)
    issued = issued_among(uncut.values_list("pk", flat=True))
    return list(uncut.filter(pk__in=issued).select_related("person").order_by("position"))
