"""The sheets of a cutting plan with all that their drawings show."""

from collections import Counter, defaultdict
from collections.abc import Hashable, Iterable, Mapping
from dataclasses import dataclass

from django.db.models import Count, Prefetch, Q, QuerySet, prefetch_related_objects

from boards.core.nesting import Corners
from boards.core.nesting.shapes import Cut, CutSheet, Offcut, Placement, Sheet
from housing.core.waste_corners import waste_corners
from housing.models import Blank, BoardPlan, Campaign, CuttingPlan, PlannedBlank, PlannedSheet


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


def alike(sheets: Iterable[PlannedSheet]) -> list[list[PlannedSheet]]:
    """Sheets that are cut in the same way for the same batch, whatever they are for; the first leads."""
    groups: dict[Hashable, list[PlannedSheet]] = {}
    for sheet in sheets:
        groups.setdefault(_way_of_cutting(sheet), []).append(sheet)
    return list(groups.values())


def placements_of(sheet: PlannedSheet) -> list[PlannedBlank]:
    """The blanks of a sheet, the nearest first, from left to right; a blank before one in its corner."""
    return sorted(
        sheet.placements.all(),
        key=lambda placed: (placed.y_mm, placed.x_mm, placed.host_id is not None, placed.pk),
    )


def _way_of_cutting(sheet: PlannedSheet) -> Hashable:
    """What sheets that are alike share: board, source, places of blanks, cuts and offcuts."""
    placed = placements_of(sheet)
    place = {str(blank.pk): number for number, blank in enumerate(placed)}
    return (
        sheet.board_id, sheet.batch, sheet.sheet_size_id, sheet.along_mm, sheet.across_mm,
        tuple(
            (b.x_mm, b.y_mm, b.along_mm, b.across_mm, b.turned, place.get(str(b.host_id))) for b in placed
        ),
        tuple(
            tuple(sorted({**cut, "host": place.get(cut.get("host"), -1)}.items())) for cut in sheet.cuts
        ),
        tuple(tuple(sorted(offcut.items())) for offcut in sheet.offcuts),
    )  # fmt: skip


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
    return f"{numbers} {placed.blank.part.replace('_', ' ')}".strip()
