"""Keeping what a cutting plan was, for the time when the next one has replaced it."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import asdict, dataclass
from decimal import Decimal

from housing.core.plan_comparison import OFFCUT, BoardFigures, Rectangle, SheetContents, count_in_corners
from housing.models import BoardPlan, Campaign, CuttingPlan, HousedObject, PlannedBlank, PlanRecord

KEPT = 12  # records of a campaign


def keep_record(plan: CuttingPlan, by=None) -> PlanRecord:
    """Keep what a stored plan is; of the campaign's earlier records the last ones stay.

    To be called inside the transaction that stores the plan.
    """
    found = _sheets(plan)
    new = BoardPlan.objects.filter(plan=plan).select_related("board")
    record = PlanRecord.objects.create(
        campaign=plan.campaign,
        made_at=plan.made_at,
        by=by,
        rules=_rules(plan, plan.campaign),
        boards=[_as_text(row) for row in _boards(found, {row.board.code: row for row in new})],
        sheets=[asdict(sheet.contents) for sheet in found],
    )
    records = PlanRecord.objects.filter(campaign=plan.campaign_id)
    if old := list(records.values_list("pk", flat=True)[KEPT:]):
        records.filter(pk__in=old).delete()
    return record


@dataclass(frozen=True)
class _Sheet:
    """A sheet as it is kept, with what its board's figures are summed from."""

    contents: SheetContents
    price: Decimal
    placed: list[Rectangle]
    offcut_mm2: float

    @property
    def area_mm2(self) -> float:
        return self.contents.along_mm * self.contents.across_mm


def _rules(plan: CuttingPlan, campaign: Campaign) -> dict[str, str]:
    return {
        "Gap kept between blanks": f"{_figure(plan.kerf_mm)} mm",
        "Trimmed off each sheet edge": f"{_figure(plan.trim_mm)} mm",
        "Shorter side of offcuts kept, at least": f"{_figure(campaign.offcut_side_mm)} mm",
        "Area of offcuts kept, at least": f"{_figure(campaign.offcut_area_mm2)} mm²",
        "Blanks turned against the flutes": _allowed(campaign.may_turn),
        "Blanks cut from the corners of others": _allowed(campaign.use_corners),
        "Batches that share sheets": _allowed(campaign.mix_batches),
        "Cuts that do not run from edge to edge": _allowed(not campaign.edge_to_edge),
        "Currency": campaign.currency,
    }


def _allowed(is_allowed: bool) -> str:
    return "allowed" if is_allowed else "not allowed"


def _figure(length: Decimal) -> str:
    return f"{Decimal(length).normalize():f}"


def _sheets(plan: CuttingPlan) -> list[_Sheet]:
    """The sheets in their order, in three queries however many blanks there are."""
    numbers: defaultdict[int, list[str]] = defaultdict(list)
    ties = HousedObject.objects.filter(housing__campaign=plan.campaign_id).order_by("housing", "position")
    for housing, number in ties.values_list("housing", "object__number"):
        numbers[housing].append(number)
    names: defaultdict[int, list[str]] = defaultdict(list)
    placed: defaultdict[int, list[Rectangle]] = defaultdict(list)
    blanks = PlannedBlank.objects.filter(sheet__plan=plan).order_by("sheet", "y_mm", "x_mm")
    for sheet, housing, part, x_mm, y_mm, along_mm, across_mm in blanks.values_list(
        "sheet", "blank__housing", "blank__part", "x_mm", "y_mm", "along_mm", "across_mm"
    ):
        names[sheet].append(f"{', '.join(numbers[housing])} {part.replace('_', ' ')}".strip())
        placed[sheet].append((float(x_mm), float(y_mm), float(along_mm), float(across_mm)))
    rows = plan.sheets.values_list(
        "pk", "board__code", "offcut", "along_mm", "across_mm", "price", "cut_at", "offcuts"
    )
    return [
        _Sheet(
            SheetContents(
                board=board,
                source=f"{OFFCUT} {offcut}" if offcut else f"{_figure(along_mm)} × {_figure(across_mm)} mm",
                along_mm=float(along_mm),
                across_mm=float(across_mm),
                is_cut=cut_at is not None,
                blanks=tuple(names[pk]),
            ),
            price,
            placed[pk],
            sum(rest["along_mm"] * rest["across_mm"] for rest in rests),
        )
        for pk, board, offcut, along_mm, across_mm, price, cut_at, rests in rows
    ]


def _boards(found: Iterable[_Sheet], new: dict[str, BoardPlan]) -> list[BoardFigures]:
    """The figures of each board: of its new sheets as the plan tells, of all its sheets summed up."""
    by_board: defaultdict[str, list[_Sheet]] = defaultdict(list)
    for sheet in found:
        by_board[sheet.contents.board].append(sheet)
    return [_board(code, sheets, new.get(code)) for code, sheets in sorted(by_board.items())]


def _board(code: str, sheets: list[_Sheet], new: BoardPlan | None) -> BoardFigures:
    cut = [sheet for sheet in sheets if sheet.contents.is_cut]
    blanks_mm2 = sum(along * across for sheet in sheets for _, _, along, across in sheet.placed)
    return BoardFigures(
        board=code,
        cost=new.cost if new else Decimal(),
        least_cost=new.least_cost if new else Decimal(),
        sheets=new.sheets if new else 0,
        least_sheets=new.least_sheets if new else 0,
        cut_cost=sum((sheet.price for sheet in cut), Decimal()),
        cut_sheets=len(cut),
        blanks=sum(len(sheet.placed) for sheet in sheets),
        used_share=blanks_mm2 / sum(sheet.area_mm2 for sheet in sheets),
        offcut_mm2=sum(sheet.offcut_mm2 for sheet in sheets),
        in_corners=sum(count_in_corners(sheet.placed) for sheet in sheets),
    )


def _as_text(row: BoardFigures) -> dict:
    """A row that JSON can hold: money as text, so that no cent is lost."""
    return {name: str(value) if isinstance(value, Decimal) else value for name, value in asdict(row).items()}
