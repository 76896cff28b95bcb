"""The sheets of cutting plans that are printed or made into files, with all that is told of them."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from django.db.models import QuerySet

from boards.models import Board, Offcut, RackEntry
from housing.core.weeks import first_day
from housing.models import CuttingPlan, Person, PlannedSheet
from housing.queries.plans import add_objects
from housing.queries.sheets import reference_of


@dataclass(frozen=True)
class SheetChoice:
    """Which sheets of a plan are wanted: of a person, a week of the work, a board, only uncut ones."""

    person: Person | None = None
    week: int | None = None
    board: Board | None = None
    only_uncut: bool = False


def chosen_sheets(plan: CuttingPlan, choice: SheetChoice) -> QuerySet[PlannedSheet]:
    """The sheets of a plan that meet every condition, in their order."""
    sheets = plan.sheets.all()
    if choice.person:
        sheets = sheets.filter(person=choice.person)
    if choice.week:
        sheets = sheets.filter(week=choice.week)
    if choice.board:
        sheets = sheets.filter(board=choice.board)
    if choice.only_uncut:
        sheets = sheets.filter(cut_at=None)
    return sheets.order_by("position")


def sheets_to_print(keys: Iterable[int]) -> list[PlannedSheet]:
    """The sheets in the order of their keys, with their blanks, what these are for, and all besides."""
    keys = list(keys)
    found = (
        PlannedSheet.objects.filter(pk__in=keys)
        .select_related("board", "sheet_size", "offcut", "person", "cut_by", "plan__campaign", "plan__by")
        .prefetch_related("placements")
        .in_bulk()
    )
    sheets = [found[key] for key in keys if key in found]
    add_objects(sheets)
    return sheets


def numbers_of_sheets(plans: Iterable[int]) -> dict[int, int]:
    """How many sheets each plan has, by its key."""
    return {plan: PlannedSheet.objects.filter(plan=plan).count() for plan in set(plans)}


def kept_of(sheets: Iterable[PlannedSheet]) -> dict[int, list[Offcut]]:
    """What lies on the rack of sheets that are cut, by the sheet's key, in the order of their offcuts."""
    references = {reference_of(sheet): sheet.pk for sheet in sheets if sheet.cut_at}
    if not references:
        return {}
    kept: dict[int, list[Offcut]] = {}
    entries = RackEntry.objects.filter(
        kind=RackEntry.Kind.KEPT, reference__in=references, reversed_by=None
    ).select_related("offcut")
    for entry in entries.order_by("pk"):
        kept.setdefault(references[entry.reference], []).append(entry.offcut)
    return kept


def week_of(sheet: PlannedSheet) -> date | None:
    """The first day of the week a sheet is to be cut in; none where the work was not given out by weeks."""
    start = sheet.plan.campaign.work_from
    return first_day(start, sheet.week) if start else None


def weeks_of(plan: CuttingPlan) -> list[int]:
    """The weeks in which sheets of a plan are cut."""
    return sorted(set(plan.sheets.order_by().values_list("week", flat=True)))


def people_of(plan: CuttingPlan) -> QuerySet[Person]:
    """Those who cut sheets of a plan."""
    return Person.objects.filter(pk__in=plan.sheets.values("person"))
