"""The collection, its progress and its sheets in figures."""

from collections import defaultdict
from datetime import date
from typing import Any

import numpy as np
from django.db.models import Count, F, FloatField, OuterRef, QuerySet, Subquery, Sum
from django.db.models.functions import Cast, TruncMonth
from numpy.typing import NDArray

from housing.core.figures import SheetUse, together
from housing.models import Housing, HousingEvent, PlannedBlank, PlannedSheet, ReadyMadeBox, SizeFamily
from objects.models import CatalogueObject

MONTHS_SHOWN = 24


def sides_known() -> NDArray[np.float64]:
    """Height, width and depth in mm of every object whose size is known."""
    sides = (Cast(f"{side}_mm", FloatField()) for side in ("height", "width", "depth"))
    known = CatalogueObject.objects.filter(size_state=CatalogueObject.SizeState.KNOWN).order_by()
    return np.array(list(known.values_list(*sides)), dtype=float).reshape(-1, 3)


def boxes_there_are() -> NDArray[np.float64]:
    """Clear height, width and depth in mm of the standard sizes that were found and of ready-made boxes."""
    found = SizeFamily.objects.values_list("result", flat=True)
    sizes = [(z, x, y) for result in found for x, y, z in (result or {}).get("sizes", ())]
    sizes += [
        (float(z), float(x), float(y))
        for z, x, y in ReadyMadeBox.objects.values_list("inner_z_mm", "inner_x_mm", "inner_y_mm")
    ]
    return np.array(sorted(set(sizes)), dtype=float).reshape(-1, 3)


def not_measured() -> int:
    """How many objects have no size that is known."""
    return CatalogueObject.objects.exclude(size_state=CatalogueObject.SizeState.KNOWN).count()


def housed_by_month() -> list[tuple[date, int, int]]:
    """(First of a month, objects housed before it, objects housed in it) of objects that are still housed.

    Every month from the first to the last with one, the latest of them if there are many.
    """
    last = HousingEvent.objects.filter(housing=OuterRef("pk"), status=Housing.Status.HOUSED).order_by("-at")
    rows = list(
        Housing.objects.filter(status=Housing.Status.HOUSED, contents__is_live=True)
        .annotate(month=TruncMonth(Subquery(last.values("at")[:1])))
        .order_by("month")
        .values_list("month")
        .annotate(Count("contents"))
    )
    counted = {month.date().replace(day=1): number for month, number in rows if month}
    months: list[tuple[date, int, int]] = []
    before = sum(number for month, number in rows if month is None)
    for month in _months(min(counted), max(counted)) if counted else ():
        months.append((month, before, counted.get(month, 0)))
        before += counted.get(month, 0)
    return months[-MONTHS_SHOWN:]


def _months(first: date, last: date) -> list[date]:
    spans = range(first.year * 12 + first.month - 1, last.year * 12 + last.month)
    return [date(span // 12, span % 12 + 1, 1) for span in spans]


def use_of_sheets(sheets: QuerySet[PlannedSheet]) -> list[tuple[PlannedSheet, SheetUse]]:
    """What becomes of each sheet. A blank counts as its rectangle, with what falls off at its corners."""
    area = Sum(Cast("along_mm", FloatField()) * Cast("across_mm", FloatField()), output_field=FloatField())
    on_sheet = PlannedBlank.objects.filter(host=None, sheet__in=sheets.order_by().values("pk")).order_by()
    blanks: dict[int, float] = dict(on_sheet.values_list("sheet").annotate(area=area))
    return [
        (
            sheet,
            SheetUse(
                str(sheet),
                blanks.get(sheet.pk, 0.0),
                sum(row["along_mm"] * row["across_mm"] for row in sheet.offcuts),
                float(sheet.along_mm * sheet.across_mm),
            ),
        )
        for sheet in sheets.defer("cuts")
    ]


def use_by(sheets: QuerySet[PlannedSheet], *names: str) -> list[tuple[tuple[Any, ...], SheetUse]]:
    """What becomes of sheets in groups, such as by campaign. names: of the fields that tell a group."""
    groups: dict[tuple[Any, ...], list[SheetUse]] = defaultdict(list)
    rows = sheets.annotate(**{f"group_{i}": F(name) for i, name in enumerate(names)})
    for sheet, use in use_of_sheets(rows):
        groups[tuple(getattr(sheet, f"group_{i}") for i in range(len(names)))].append(use)
    return [
        (key, together(str(key[-1]), uses)) for key, uses in sorted(groups.items(), key=lambda one: str(one))
    ]
