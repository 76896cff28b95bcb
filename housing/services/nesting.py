"""The blanks of a campaign laid out on sheets, board by board; nothing is stored here."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from operator import attrgetter

from boards.core.nesting import (
    Bound,
    CutSheet,
    Layout,
    Piece,
    Rules,
    Sheet,
    Standing,
    bound,
    check,
    nest,
)
from boards.models import Board, Offcut, SheetSize
from boards.queries import sheet_sizes_in_stock
from housing.core.too_large import SheetFace, ways_out
from housing.core.waste_corners import waste_corners
from housing.models import Blank, Campaign, Housing, PlannedSheet
from housing.queries.plans import cut_sheet_of, sheets_of
from objects.core.refusals import Refusal

# Is told how far the work is in per cent, what is being done, and figures to show; answers whether to stop
# with the best so far.
Progress = Callable[..., bool | None]
Source = SheetSize | Offcut

BEGIN, END = 15, 80  # per cent of the planning that are the nesting


class PlanRefused(Refusal):
    """A cutting plan cannot be made or used; the message is a sentence for the reader."""


@dataclass
class BoardLayout:
    """The nesting of one board: what each piece and sheet stands for, the layout, and its lower bound.

    batches: of the pieces. stays: for sheets of the layout that are those of an earlier plan, by their place
    in it, the stored sheet.
    """

    board: Board
    blanks: dict[str, Blank]
    sources: dict[str, tuple[Sheet, Source]]
    layout: Layout
    least: Bound
    batches: dict[str, int]
    stays: dict[int, int] = field(default_factory=dict)

    @property
    def used(self) -> list[Sheet]:
        """The sheet that each sheet of the layout is cut from."""
        return [self.sources[cut_sheet.sheet_key][0] for cut_sheet in self.layout.sheets]


def rules_of(campaign: Campaign) -> Rules:
    """A campaign's rules of cutting as the nesting wants them."""
    return Rules(
        kerf_mm=float(campaign.kerf_mm),
        trim_mm=float(campaign.trim_mm),
        least_offcut_mm=float(campaign.offcut_side_mm),
        least_offcut_mm2=float(campaign.offcut_area_mm2),
        use_corners=campaign.use_corners,
        edge_to_edge=campaign.edge_to_edge,
        mix_batches=campaign.mix_batches,
    )


def refuse_too_large(*, campaign: Campaign, drafts: list) -> None:
    """Let housings wait whose blanks fit no sheet of their board, and tell the ways out."""
    faces = defaultdict(list)
    for size in SheetSize.objects.select_related("board"):
        faces[size.board_id].append(sheet_face(size, float(campaign.trim_mm)))
    for draft in drafts:
        for blank in filter(attrgetter("is_board"), draft.blanks):
            along, across = sides_of(blank)
            own = faces[draft.design.board_id]
            may_turn = campaign.may_turn
            if any(f.holds(along, across) or (may_turn and f.holds(across, along)) for f in own):
                continue
            others = [f for board, kept in faces.items() if board != draft.design.board_id for f in kept]
            draft.wait(
                Housing.Problem.TOO_LARGE,
                f"The {blank.part} needs a blank of {along:.0f} mm along by {across:.0f} mm across the "
                f"flutes, larger than every sheet of {draft.design.board.code}. "
                + " ".join(ways_out(along, across, own, others)),
            )
            break


def nest_blanks(
    *,
    campaign: Campaign,
    blanks: list[Blank],
    progress: Progress,
    batches: Mapping[int, int] | None = None,
    keep: bool = False,
) -> list[BoardLayout]:
    """Nest blanks, saved or not, board by board; those of other material are left out; nothing is stored.

    batches: the batch each blank is due with, by its place in the list; 1 where nothing is said. keep: leave
    the sheets of the campaign's plan that are not yet cut as they are, as far as their blanks are still
    needed.
    Raises PlanRefused when a board has no sheet to cut from, or when the independent check finds a fault,
    which would be a fault of the program.
    """
    by_board = defaultdict(list)
    for place, blank in enumerate(blanks):
        if blank.is_board:
            by_board[blank.housing.design.board_id].append((blank, (batches or {}).get(place, 1)))
    boards, in_all = Board.objects.in_bulk(by_board), sum(map(len, by_board.values()))
    stored = _earlier_sheets(campaign) if keep else {}
    layouts, done = [], 0
    for board_id, needed in sorted(by_board.items()):
        board, share = boards[board_id], len(needed) / in_all
        watch = _watch(campaign, board, needed, progress, done / in_all, share)
        progress(
            BEGIN + round((END - BEGIN) * done / in_all), f"Nesting {len(needed)} blanks of {board.code}"
        )
        layouts.append(_nest_board(campaign, board, needed, stored.get(board_id, []), watch, share))
        done += len(needed)
    return layouts


def _watch(
    campaign: Campaign, board: Board, needed: list, progress: Progress, before: float, share: float
) -> Callable[[Standing], bool]:
    """What the nesting of a board reports, turned into the progress of the whole."""

    def watch(standing: Standing) -> bool:
        percent = BEGIN + round((END - BEGIN) * (before + share * standing.share))
        figures = {
            "board": board.code,
            "cost of its sheets": f"{standing.cost:,.2f} {campaign.currency}",
            "sheets": str(standing.sheets),
        }
        if standing.least.cost:
            above = float(standing.cost / standing.least.cost - 1) * 100
            figures["above the least possible"] = f"at most {above:.1f} %"
        return bool(progress(percent, f"Nesting {len(needed)} blanks of {board.code}", figures))

    return watch


def _nest_board(
    campaign: Campaign,
    board: Board,
    needed: list[tuple[Blank, int]],
    stored: list[PlannedSheet],
    watch: Callable[[Standing], bool],
    share: float,
) -> BoardLayout:
    rules, sources = rules_of(campaign), _sources(board, campaign)
    sheets = [sheet for sheet, _ in sources.values()]
    keyed = {str(number): blank for number, (blank, _) in enumerate(needed)}
    pieces = [
        piece_of(key, blank, campaign.may_turn, batch)
        for (key, blank), (_, batch) in zip(keyed.items(), needed, strict=True)
    ]
    seconds = campaign.search_seconds * share if campaign.search_seconds else None
    earlier = _as_cut(stored, {(blank.housing_id, blank.part): key for key, blank in keyed.items()})
    layout = nest(pieces, sheets, rules, time_limit_s=seconds, watch=watch, earlier=list(earlier))
    faults = check(layout, pieces, sheets, rules)
    if faults:
        raise PlanRefused(f"The plan for {board.code} is not valid ({faults[0]}); nothing was stored.")
    if layout.unplaced:
        raise PlanRefused(
            f"{len(layout.unplaced)} blanks of {board.code} found no sheet: {layout.unplaced[0].reason} "
            "Mark a sheet size of this board as “can be bought”, or choose another board."
        )
    stays = {place: earlier[sheet] for place, sheet in enumerate(layout.sheets) if sheet in earlier}
    return BoardLayout(
        board,
        keyed,
        sources,
        layout,
        bound(pieces, sheets, rules),
        {piece.key: piece.batch for piece in pieces},
        stays,
    )


def _earlier_sheets(campaign: Campaign) -> dict[int, list[PlannedSheet]]:
    """The sheets of the campaign's plan that are not yet cut, by board."""
    found = defaultdict(list)
    if plan := getattr(campaign, "plan", None):
        for sheet in sheets_of(plan).filter(cut_at=None):
            found[sheet.board_id].append(sheet)
    return found


def _as_cut(stored: Iterable[PlannedSheet], keys: Mapping[tuple[int, str], str]) -> dict[CutSheet, int]:
    """Stored sheets as the nesting knows them, naming blanks and sheets as this question does."""
    found = {}
    for row in stored:
        made, _ = cut_sheet_of(row)
        names = {
            str(placed.pk): keys.get((placed.blank.housing_id, placed.blank.part), f"gone {placed.pk}")
            for placed in row.placements.all()
        }
        source = f"offcut {row.offcut_id}" if row.offcut_id else str(row.sheet_size_id)
        found[made.renamed(source, names)] = row.pk
    return found


def _sources(board: Board, campaign: Campaign) -> dict[str, tuple[Sheet, Source]]:
    """What the blanks of a board may be cut from: free offcuts first, then sheets on offer or in stock."""
    promised = PlannedSheet.objects.filter(offcut__board=board, cut_at=None).exclude(plan__campaign=campaign)
    offcuts = Offcut.objects.filter(board=board, gone_at=None).exclude(pk__in=promised.values("offcut"))
    sources: dict[str, tuple[Sheet, Source]] = {}
    for offcut in offcuts:
        key = f"offcut {offcut.pk}"
        sides = float(offcut.along_mm), float(offcut.across_mm)
        if min(sides) > 2 * float(campaign.trim_mm):
            sources[key] = Sheet(key, *sides, Decimal(), stock=1), offcut
    for size in sheet_sizes_in_stock().filter(board=board):
        if size.is_offered or size.in_stock:
            sources[str(size.pk)] = _sheet(size), size
    if not sources:
        raise PlanRefused(f"{board.code} has no sheet size. Enter one on the board's page, then plan again.")
    return sources


def _sheet(size: SheetSize) -> Sheet:
    """A sheet size with what is in stock; where it can be bought there are as many as needed, in packs."""
    return Sheet(
        str(size.pk),
        float(size.along_mm),
        float(size.across_mm),
        size.price,
        stock=None if size.is_offered else size.in_stock,
        pack=size.pack,
        on_hand=size.in_stock,
    )


def sheet_face(size: SheetSize, trim_mm: float) -> SheetFace:
    """What of a sheet can be used, its edges trimmed off."""
    return SheetFace(
        f"a sheet of {size}", float(size.along_mm) - 2 * trim_mm, float(size.across_mm) - 2 * trim_mm
    )


def sides_of(blank: Blank) -> tuple[float, float]:
    """Sides of a blank along and across its flutes, mm."""
    x_mm, y_mm = float(blank.x_mm), float(blank.y_mm)
    return (x_mm, y_mm) if blank.flute_along == "x" else (y_mm, x_mm)


def piece_of(key: str, blank: Blank, may_turn: bool, batch: int = 1) -> Piece:
    """A blank as the nesting knows it, with the waste at its corners."""
    waste = [
        (rest["x_mm"], rest["y_mm"], rest["width_mm"], rest["height_mm"])
        for rest in blank.geometry.get("waste", ())
    ]
    corners = waste_corners(float(blank.x_mm), float(blank.y_mm), waste, blank.flute_along)
    return Piece(key, *sides_of(blank), may_turn, corners, batch)
