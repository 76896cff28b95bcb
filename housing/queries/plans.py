"""The sheets of a cutting plan with all that their drawings show."""

import json
from collections import Counter, defaultdict
from collections.abc import Hashable, Iterable, Mapping
from dataclasses import dataclass

from django.db.models import Count, FloatField, Prefetch, Q, QuerySet, TextField, prefetch_related_objects
from django.db.models.functions import Cast

from boards.core.nesting import Corners
from boards.core.nesting.shapes import Cut, CutSheet, Offcut, Placement, Sheet
from housing.core.waste_corners import waste_corners
from housing.models import Blank, BoardPlan, Campaign, CuttingPlan, PlannedBlank, PlannedSheet
from objects.core.words import say


def plan_of(campaign: Campaign) -> CuttingPlan | None:
    """The campaign's plan, if it was planned."""
    return CuttingPlan.objects.filter(campaign=campaign).first()


def sheets_of(plan: CuttingPlan) -> QuerySet[PlannedSheet]:
    """The sheets of a plan in their order, with the places of their blanks."""
    return plan.sheets.select_related(
        "board", "sheet_size", "offcut", "cut_by", "plan__campaign"
    ).prefetch_related("placements")


def add_objects(sheets: Iterable[PlannedSheet]) -> None:
    """Look up what the blanks of sheets are and the objects they are for, as label_of() needs them."""
    blanks = Blank.objects.defer("assembly")
    prefetch_related_objects(
        list(sheets),
        Prefetch("placements__blank", blanks),
        "placements__blank__housing__contents__object",
    )


def batches_of(plan: CuttingPlan) -> list[int]:
    """The batches that sheets of a plan are cut for."""
    return sorted(set(plan.sheets.order_by().values_list("batch", flat=True)))


@dataclass(frozen=True)
class BoardRow:
    """The new sheets of one board beside their bound, how many are cut, and what is won from waste."""

    made: BoardPlan
    cut: int
    in_corners: int
    rack_mm2: float

    @property
    def rack_m2(self) -> float:
        return self.rack_mm2 / 1e6


def board_rows(plan: CuttingPlan) -> list[BoardRow]:
    """The boards of a plan. Corners and offcuts are those of its own sheets, without any cut before it."""
    own = Q(cut_at=None) | Q(cut_at__gte=plan.made_at)
    in_corners = Counter(
        PlannedBlank.objects.filter(host__isnull=False, sheet__in=plan.sheets.filter(own))
        .order_by()
        .values_list("sheet__board", flat=True)
    )
    rack: dict[int, float] = defaultdict(float)
    for board, offcuts in plan.sheets.filter(own).order_by().values_list("board", "offcuts"):
        rack[board] += sum(row["along_mm"] * row["across_mm"] for row in offcuts)
    cut = cut_counts(plan)
    return [
        BoardRow(made, cut.get(made.board_id, 0), in_corners[made.board_id], rack[made.board_id])
        for made in plan.board_plans.select_related("board")
    ]


def cut_counts(plan: CuttingPlan) -> Mapping[int, int]:
    """How many sheets of each board are cut already."""
    cut = plan.sheets.exclude(cut_at=None).order_by()
    return dict(cut.values_list("board").annotate(Count("pk")))


def alike(sheets: QuerySet[PlannedSheet]) -> list[list[int]]:
    """Keys of sheets that are cut in the same way for the same batch, whatever they are for; the first leads.

    All sheets of a plan are compared though few are shown: so they are read as plain values, and their cuts
    are looked at only where blanks lie alike.
    """
    placed = defaultdict(list)
    sides = (Cast(f"{side}_mm", FloatField()) for side in ("y", "x", "along", "across"))
    there = PlannedBlank.objects.filter(sheet__in=sheets.order_by().values("pk")).order_by()
    for sheet, *row in there.values_list("sheet", *sides, "host", "pk", "turned"):
        placed[sheet].append(row)
    fields = "board", "batch", "sheet_size", "along_mm", "across_mm"
    cuts_and_offcuts = Cast("cuts", TextField()), Cast("offcuts", TextField())
    rows = sheets.prefetch_related(None).values_list("pk", *fields, *cuts_and_offcuts)
    lying = {key: (tuple(source), _lying(placed[key])) for key, *source, _, _ in rows}
    how_many = Counter(lying.values())
    groups: dict[Hashable, list[int]] = {}
    for key, *_, cuts, offcuts in rows:
        way: Hashable = lying[key]
        if how_many[lying[key]] > 1:
            way = way, _cutting(placed[key], json.loads(cuts)), _sorted(json.loads(offcuts))
        groups.setdefault(way, []).append(key)
    return list(groups.values())


def placements_of(sheet: PlannedSheet) -> list[PlannedBlank]:
    """The blanks of a sheet, the nearest first, from left to right; a blank before one in its corner."""
    return sorted(
        sheet.placements.all(),
        key=lambda placed: (placed.y_mm, placed.x_mm, placed.host_id is not None, placed.pk),
    )


def _places(rows: list[list]) -> dict[str, int]:
    """The place of each blank of a sheet in the order of placements_of(), by its key.

    rows: of each blank y, x, along, across in mm, the key of its host, its own, and whether it is turned.
    """
    rows.sort(key=lambda row: (row[0], row[1], row[4] is not None, row[5]))
    return {str(row[5]): number for number, row in enumerate(rows)}


def _lying(rows: list[list]) -> Hashable:
    """How the blanks of a sheet lie."""
    place = _places(rows)
    return tuple((*sides, turned, place.get(str(host))) for *sides, host, _, turned in rows)


def _cutting(rows: list[list], cuts: Iterable[dict]) -> Hashable:
    """The cuts of a sheet, each with the place of the blank in whose corner it lies."""
    place = _places(rows)
    return _sorted({**cut, "host": place.get(cut.get("host"), -1)} for cut in cuts)


def _sorted(found: Iterable[dict]) -> Hashable:
    return tuple(tuple(sorted(one.items())) for one in found)


def cut_sheet_of(sheet: PlannedSheet) -> tuple[CutSheet, Sheet]:
    """A stored sheet as the nesting knows it; pieces are named by the key of their planned blank."""
    placements = tuple(
        Placement(
            str(placed.pk),
            float(placed.x_mm),
            float(placed.y_mm),
            float(placed.along_mm),
            float(placed.across_mm),
            placed.turned,
            str(placed.host_id) if placed.host_id else None,
        )
        for placed in placements_of(sheet)
    )
    key = str(sheet.pk)
    return (
        CutSheet(
            key,
            placements,
            tuple(Cut(**row) for row in sheet.cuts),
            tuple(Offcut(**row) for row in sheet.offcuts),
        ),
        Sheet(key, float(sheet.along_mm), float(sheet.across_mm), sheet.price),
    )


def corners_of_hosts(sheet: PlannedSheet) -> dict[str, Corners]:
    """The waste corners of each blank that others are cut from, by the key of its planned blank."""
    placements = sheet.placements.all()
    hosts = {placed.host_id for placed in placements}
    corners = {}
    for placed in placements:
        if placed.pk in hosts:
            blank = placed.blank
            waste = [
                (row["x_mm"], row["y_mm"], row["width_mm"], row["height_mm"])
                for row in blank.geometry.get("waste", ())
            ]
            corners[str(placed.pk)] = waste_corners(
                float(blank.x_mm), float(blank.y_mm), waste, blank.flute_along
            )
    return corners


def label_of(placed: PlannedBlank) -> str:
    """What is written on a blank: the numbers of its objects and the part it is."""
    numbers = ", ".join(tie.object.number for tie in placed.blank.housing.contents.all())
    return f"{numbers} {say(placed.blank.part.replace('_', ' '))}".strip()
