"""The cutting plan of a campaign: nest every board's blanks, check the result, store it, cut it."""

from collections import defaultdict
from collections.abc import Callable
from dataclasses import asdict, dataclass
from datetime import datetime
from decimal import Decimal
from operator import attrgetter

from django.db import transaction
from django.utils import timezone

from boards.core.nesting import Bound, Layout, Piece, Rules, Sheet, bound, check, nest
from boards.models import Board, Offcut, SheetSize
from boards.queries import sheet_sizes_in_stock
from boards.services import keep_offcut, use_sheets
from housing.core.enclosures.form import BOARD
from housing.core.too_large import SheetFace, ways_out
from housing.models import Blank, BoardPlan, Campaign, CuttingPlan, Housing, PlannedBlank, PlannedSheet
from housing.services.housings import move_housing
from objects.core.refusals import Refusal

Progress = Callable[[int, str], None]


class PlanRefused(Refusal):
    """A cutting plan cannot be made or used; the message is a sentence for the reader."""


def rules_of(campaign: Campaign) -> Rules:
    """Kerf, trim and least offcut of a campaign as the nesting wants them."""
    return Rules(float(campaign.kerf_mm), float(campaign.trim_mm), float(campaign.offcut_side_mm))


def refuse_too_large(*, campaign: Campaign, drafts: list) -> None:
    """Let housings wait whose blanks fit no sheet of their board, and tell the ways out."""
    faces = defaultdict(list)
    for size in SheetSize.objects.select_related("board"):
        faces[size.board_id].append(sheet_face(size, float(campaign.trim_mm)))
    for draft in drafts:
        for blank in filter(attrgetter("is_board"), draft.blanks):
            piece = _piece(blank.part, blank, campaign.may_turn)
            along, across = piece.along_mm, piece.across_mm
            own = faces[draft.design.board_id]
            if any(f.holds(along, across) or (piece.may_turn and f.holds(across, along)) for f in own):
                continue
            others = [f for board, kept in faces.items() if board != draft.design.board_id for f in kept]
            draft.wait(
                Housing.Problem.TOO_LARGE,
                f"The {blank.part} needs a blank of {along:.0f} mm along by {across:.0f} mm across the "
                f"flutes, larger than every sheet of {draft.design.board.code}. "
                + " ".join(ways_out(along, across, own, others)),
            )
            break


@dataclass
class BoardLayout:
    """The nesting of one board: what each piece and sheet stands for, the layout, and its lower bound."""

    board: Board
    blanks: dict[str, Blank]
    sources: dict[str, tuple[Sheet, SheetSize | Offcut]]
    layout: Layout
    least: Bound

    @property
    def used(self) -> list[Sheet]:
        return [self.sources[cut_sheet.sheet_key][0] for cut_sheet in self.layout.sheets]


def nest_blanks(*, campaign: Campaign, blanks: list[Blank], progress: Progress) -> list[BoardLayout]:
    """Nest blanks, saved or not, board by board; those of other material are left out; nothing is stored.

    Raises PlanRefused when a board has no sheet to cut from, or when the independent check finds a fault,
    which would be a fault of the program.
    """
    by_board = defaultdict(list)
    for blank in filter(attrgetter("is_board"), blanks):
        by_board[blank.housing.design.board_id].append(blank)
    boards = Board.objects.in_bulk(by_board)
    layouts = []
    for board_id, needed in sorted(by_board.items()):
        progress(
            15 + 65 * len(layouts) // len(by_board),
            f"Nesting {len(needed)} blanks of {boards[board_id].code}",
        )
        layouts.append(_nest_board(campaign, boards[board_id], needed))
    return layouts


def waiting_blanks(campaign: Campaign) -> list[Blank]:
    """Blanks of begun housings that are not on a sheet already cut, such as a lid whose base is cut."""
    return list(
        Blank.objects.filter(
            housing__campaign=campaign, housing__status=Housing.Status.IN_WORK, material=BOARD
        )
        .exclude(placements__sheet__cut_at__isnull=False)
        .select_related("housing__design")
    )


def store_plan(*, campaign: Campaign, layouts: list[BoardLayout], as_of: datetime, by=None) -> CuttingPlan:
    """Store layouts as the campaign's plan; sheets already cut stay, the others are replaced.

    as_of: when the records were read; what changed while the plan was worked out makes it out of date.
    """
    plan, _ = CuttingPlan.objects.update_or_create(
        campaign=campaign,
        defaults={
            "made_at": as_of, "by": by, "kerf_mm": campaign.kerf_mm, "trim_mm": campaign.trim_mm,
        },
    )  # fmt: skip
    plan.sheets.filter(cut_at=None).delete()
    plan.board_plans.all().delete()
    position = max(plan.sheets.values_list("position", flat=True), default=0)
    for made in layouts:
        _store_layout(plan, made, position)
        position += len(made.layout.sheets)
        BoardPlan.objects.create(
            plan=plan,
            board=made.board,
            cost=sum((sheet.price for sheet in made.used), Decimal()),
            least_cost=made.least.cost,
            sheets=len(made.used),
            least_sheets=made.least.sheets,
            used_share=sum(float(blank.x_mm) * float(blank.y_mm) for blank in made.blanks.values())
            / sum(sheet.along_mm * sheet.across_mm for sheet in made.used),
        )
    return plan


def _nest_board(campaign: Campaign, board: Board, blanks: list[Blank]) -> BoardLayout:
    rules, sources = rules_of(campaign), _sources(board, campaign)
    sheets = [sheet for sheet, _ in sources.values()]
    keyed = {str(number): blank for number, blank in enumerate(blanks)}
    pieces = [_piece(key, blank, campaign.may_turn) for key, blank in keyed.items()]
    layout = nest(pieces, sheets, rules)
    faults = check(layout, pieces, sheets, rules)
    if faults:
        raise PlanRefused(f"The plan for {board.code} is not valid ({faults[0]}); nothing was stored.")
    if layout.unplaced:
        raise PlanRefused(
            f"{len(layout.unplaced)} blanks of {board.code} found no sheet: {layout.unplaced[0].reason} "
            "Mark a sheet size of this board as “can be bought”, or choose another board."
        )
    return BoardLayout(board, keyed, sources, layout, bound(pieces, sheets, rules))


def _sources(board: Board, campaign: Campaign) -> dict[str, tuple[Sheet, SheetSize | Offcut]]:
    """What the blanks of a board may be cut from: free offcuts first, then sheets on offer or in stock."""
    promised = PlannedSheet.objects.filter(offcut__board=board, cut_at=None).exclude(plan__campaign=campaign)
    offcuts = Offcut.objects.filter(board=board, gone_at=None).exclude(pk__in=promised.values("offcut"))
    sources: dict[str, tuple[Sheet, SheetSize | Offcut]] = {}
    for offcut in offcuts:
        key = f"offcut {offcut.pk}"
        sides = float(offcut.along_mm), float(offcut.across_mm)
        if min(sides) > 2 * float(campaign.trim_mm):
            sources[key] = Sheet(key, *sides, Decimal(), 1), offcut
    for size in sheet_sizes_in_stock().filter(board=board):
        if size.is_offered or size.in_stock:
            stock = None if size.is_offered else size.in_stock
            sources[str(size.pk)] = _sheet(size, stock), size
    if not sources:
        raise PlanRefused(f"{board.code} has no sheet size. Enter one on the board's page, then plan again.")
    return sources


def _sheet(size: SheetSize, stock: int | None = None) -> Sheet:
    return Sheet(str(size.pk), float(size.along_mm), float(size.across_mm), size.price, stock)


def sheet_face(size: SheetSize, trim_mm: float) -> SheetFace:
    """What of a sheet can be used, its edges trimmed off."""
    return SheetFace(
        f"a sheet of {size}", float(size.along_mm) - 2 * trim_mm, float(size.across_mm) - 2 * trim_mm
    )


def _piece(key: str, blank: Blank, may_turn: bool) -> Piece:
    x_mm, y_mm = float(blank.x_mm), float(blank.y_mm)
    along, across = (x_mm, y_mm) if blank.flute_along == "x" else (y_mm, x_mm)
    return Piece(key, along, across, may_turn)


def _store_layout(plan: CuttingPlan, made: BoardLayout, position: int) -> None:
    rows = []
    for number, cut_sheet in enumerate(made.layout.sheets, start=position + 1):
        sheet, source = made.sources[cut_sheet.sheet_key]
        rows.append(
            PlannedSheet(
                plan=plan,
                position=number,
                board=made.board,
                sheet_size=source if isinstance(source, SheetSize) else None,
                offcut=source if isinstance(source, Offcut) else None,
                along_mm=round(sheet.along_mm, 4),
                across_mm=round(sheet.across_mm, 4),
                price=sheet.price,
                cuts=[asdict(cut) for cut in cut_sheet.cuts],
                offcuts=[asdict(offcut) for offcut in cut_sheet.offcuts],
            )
        )
    PlannedSheet.objects.bulk_create(rows)
    PlannedBlank.objects.bulk_create(
        PlannedBlank(
            sheet=row,
            blank=made.blanks[placed.key],
            x_mm=round(placed.x_mm, 4),
            y_mm=round(placed.y_mm, 4),
            along_mm=round(placed.along_mm, 4),
            across_mm=round(placed.across_mm, 4),
            turned=placed.turned,
        )
        for row, cut_sheet in zip(rows, made.layout.sheets, strict=True)
        for placed in cut_sheet.placements
    )


@transaction.atomic
def cut_sheet(*, sheet: PlannedSheet, by=None) -> PlannedSheet:
    """Note that a sheet was cut: stock goes down, good offcuts go on the rack, its housings are in work.

    Raises PlanRefused when it was cut already or its offcut is gone, StockRefused when no such sheet is in
    stock.
    """
    # The campaign first, as planning does, so that the two never wait for each other.
    Campaign.objects.select_for_update(of=("self",)).get(plan__sheets=sheet.pk)
    sheet = (
        PlannedSheet.objects.select_for_update(of=("self",))
        .select_related("plan__campaign", "board")
        .get(pk=sheet.pk)
    )
    if sheet.cut_at:
        raise PlanRefused(f"{sheet} was cut already, on {sheet.cut_at:%d %B %Y}.")
    if sheet.sheet_size:
        use_sheets(sheet_size=sheet.sheet_size, count=1, by=by, note=f"{sheet.plan}, {sheet}")
    elif not Offcut.objects.filter(pk=sheet.offcut_id, gone_at=None).update(gone_at=timezone.now()):
        raise PlanRefused(f"{sheet.offcut} is no longer on the rack. Plan the campaign again.")
    for rest in sheet.offcuts:  # only those worth keeping are listed
        keep_offcut(
            board=sheet.board, along_mm=rest["along_mm"], across_mm=rest["across_mm"], note=f"From {sheet}"
        )
    sheet.cut_at, sheet.cut_by = timezone.now(), by
    sheet.save(update_fields=["cut_at", "cut_by"])
    housings = Housing.objects.filter(blanks__placements__sheet=sheet, status=Housing.Status.PLANNED)
    for housing in housings.distinct():
        move_housing(housing=housing, status=Housing.Status.IN_WORK, by=by, note=f"{sheet} cut")
    return sheet
