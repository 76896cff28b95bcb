"""The blanks of a campaign laid out on sheets, board by board; nothing is stored here."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal

from django.db.models import F, QuerySet

from boards.core.nesting import (
    Bound,
    Layout,
    Piece,
    Rules,
    Sheet,
    Standing,
    bound,
    check,
)
from boards.models import Board, Offcut, SheetSize
from boards.queries import sheet_sizes_in_stock
from housing.core.enclosures.form import BOARD
from housing.core.too_large import SheetFace, ways_out
from housing.core.waste_corners import waste_corners
from housing.models import Blank, Campaign, CuttingPlan, Housing, PlannedSheet
from housing.services.earlier_sheets import (
    EarlierSheet,
    earlier_sheets,
    lay_out_beside,
    source_key,
    whole_sheets,
)
from objects.core.refusals import Refusal
from objects.core.words import say

# Is told how far the work is in per cent, what is being done, and figures to show; answers whether to stop
# with the best so far.
Progress = Callable[..., bool | None]
Source = SheetSize | Offcut

NO_PRICES: Mapping[int, Decimal] = {}
BEGIN, END = 15, 80  # per cent of the planning that are the nesting


class PlanRefused(Refusal):
    """A cutting plan cannot be made or used; the message is a sentence for the reader."""


@dataclass(frozen=True)
class NeededBlank:
    """A blank of board to be nested: the board, the batch it is due with, its waste as its drawing has it."""

    blank: Blank
    board: int
    batch: int
    waste: Sequence[Mapping]

    def to_core(self, key: str, may_turn: bool) -> Piece:
        """The blank as the nesting knows it, with the waste at its corners."""
        blank = self.blank
        waste = [
            (rest["x_mm"], rest["y_mm"], rest["width_mm"], rest["height_mm"]) for rest in self.waste or ()
        ]
        corners = waste_corners(float(blank.x_mm), float(blank.y_mm), waste, blank.flute_along)
        return Piece(key, *sides_of(blank), may_turn, corners, self.batch)


@dataclass
class BoardLayout:
    """The nesting of one board: the blank each piece stands for, the sheet each key does, and the layout.

    least: its lower bound. stays: for sheets of the layout that are those of an earlier plan, by their place
    in it, the stored sheet.
    """

    board: Board
    pieces: Sequence[Piece]
    blanks: Mapping[str, Blank]
    sources: Mapping[str, tuple[Sheet, Source]]
    layout: Layout
    least: Bound
    stays: dict[int, EarlierSheet] = field(default_factory=dict)

    @property
    def used(self) -> list[Sheet]:
        """The sheet that each sheet of the layout is cut from."""
        return [self.sources[cut_sheet.sheet_key][0] for cut_sheet in self.layout.sheets]

    @property
    def used_share(self) -> float:
        """Area of the blanks over the area of the sheets, 0 to 1."""
        return sum(piece.along_mm * piece.across_mm for piece in self.pieces) / sum(
            sheet.along_mm * sheet.across_mm for sheet in self.used
        )

    @property
    def batches(self) -> list[int]:
        """The first batch that each sheet is cut for."""
        of = {piece.key: piece.batch for piece in self.pieces}
        return [min(of[placed.key] for placed in sheet.placements) for sheet in self.layout.sheets]


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


def board_blanks(blanks: QuerySet[Blank]) -> QuerySet[Blank]:
    """Those of stored blanks that are of board, with its key and their waste, and little else."""
    return (
        blanks.filter(material=BOARD)
        .annotate(board_id=F("housing__design__board"), waste=F("geometry__waste"))
        .only("housing_id", "part", "x_mm", "y_mm", "flute_along")
    )


def faces_of(campaign: Campaign) -> Mapping[int, list[SheetFace]]:
    """What can be used of the sheet sizes of each board."""
    faces: defaultdict[int, list[SheetFace]] = defaultdict(list)
    for size in SheetSize.objects.select_related("board"):
        faces[size.board_id].append(sheet_face(size, float(campaign.trim_mm)))
    return faces


def is_held(blank: Blank, faces: Iterable[SheetFace], may_turn: bool) -> bool:
    """Whether one of some sheets holds a blank."""
    along, across = sides_of(blank)
    return any(f.holds(along, across) or (may_turn and f.holds(across, along)) for f in faces)


def refuse_too_large(*, campaign: Campaign, drafts: list) -> None:
    """Let housings wait whose blanks fit no sheet of their board, and tell the ways out."""
    faces = faces_of(campaign)
    for draft in drafts:
        for blank in draft.blanks:
            board = draft.design.board
            own = faces[board.pk]
            if not blank.is_board or is_held(blank, own, campaign.may_turn):
                continue
            along, across = sides_of(blank)
            others = [face for of, kept in faces.items() if of != board.pk for face in kept]
            draft.wait(
                Housing.Problem.TOO_LARGE,
                say(
                    "The {part} needs a blank of {along:.0f} mm along by {across:.0f} mm across the flutes, "
                    "larger than every sheet of {code}. ",
                    part=blank.part,
                    along=along,
                    across=across,
                    code=board.code,
                )
                + " ".join(ways_out(along, across, own, others)),
            )
            break


def nest_blanks(
    *,
    campaign: Campaign,
    needed: Iterable[NeededBlank],
    progress: Progress,
    keep: CuttingPlan | None = None,
    prices: Mapping[int, Decimal] = NO_PRICES,
) -> list[BoardLayout]:
    """Nest blanks, saved or not, board by board; nothing is stored.

    keep: the plan whose sheets, if not yet cut, are left as they are as far as their blanks are still needed
    and the rules allow it. prices: what a sheet of some sizes costs, in place of what is stored.
    Raises PlanRefused when a board has no sheet to cut from, or when the independent check finds a fault,
    which would be a fault of the program.
    """
    by_board: defaultdict[int, list[NeededBlank]] = defaultdict(list)
    for one in needed:
        by_board[one.board].append(one)
    boards, in_all = Board.objects.in_bulk(by_board), sum(map(len, by_board.values()))
    earlier = earlier_sheets(keep)
    layouts, done = [], 0
    for board_id, of_board in sorted(by_board.items()):
        board, share = boards[board_id], len(of_board) / in_all
        watch = _watch(campaign, board, of_board, progress, done / in_all, share)
        progress(
            BEGIN + round((END - BEGIN) * done / in_all),
            say("Nesting {count} blanks of {code}", count=len(of_board), code=board.code),
        )
        layouts.append(
            _nest_board(campaign, board, of_board, earlier.get(board_id, []), watch, share, prices)
        )
        done += len(of_board)
    return layouts


def _watch(
    campaign: Campaign, board: Board, needed: Sequence, progress: Progress, before: float, share: float
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
            figures["above the least possible"] = say("at most {above:.1f} %", above=above)
        return bool(
            progress(
                percent, say("Nesting {count} blanks of {code}", count=len(needed), code=board.code), figures
            )
        )

    return watch


def _nest_board(
    campaign: Campaign,
    board: Board,
    needed: list[NeededBlank],
    earlier: list[EarlierSheet],
    watch: Callable[[Standing], bool],
    share: float,
    prices: Mapping[int, Decimal],
) -> BoardLayout:
    rules, sources = rules_of(campaign), _sources(board, campaign, prices)
    sheets = [sheet for sheet, _ in sources.values()]
    pieces = [one.to_core(str(number), campaign.may_turn) for number, one in enumerate(needed)]
    seconds = campaign.search_seconds * share if campaign.search_seconds else None
    keys = {one.blank.pk: piece.key for one, piece in zip(needed, pieces, strict=True) if one.blank.pk}
    by_key = {piece.key: piece for piece in pieces}
    before = {sheet.to_core(keys, by_key): sheet for sheet in earlier}
    whole = whole_sheets(before, pieces, sheets, rules)
    layout = lay_out_beside(whole, before, pieces, sheets, rules, seconds, watch)
    if whole and layout.unplaced:  # they take the stock that others need
        layout = lay_out_beside([], [], pieces, sheets, rules, seconds, watch)
    if faults := check(layout, pieces, sheets, rules):
        raise PlanRefused(
            say(
                "The plan for {code} is not valid ({faults}); nothing was stored.",
                code=board.code,
                faults=faults[0],
            )
        )
    if layout.unplaced:
        raise PlanRefused(
            say(
                "{count} blanks of {code} found no sheet: {reason} Mark a sheet size of this board as "
                "“can be bought”, or choose another board.",
                count=len(layout.unplaced),
                code=board.code,
                reason=layout.unplaced[0].reason,
            )
        )
    return BoardLayout(
        board,
        pieces,
        {piece.key: one.blank for one, piece in zip(needed, pieces, strict=True)},
        sources,
        layout,
        bound(pieces, sheets, rules),
        {place: before[sheet] for place, sheet in enumerate(layout.sheets) if sheet in before},
    )


def _sources(
    board: Board, campaign: Campaign, prices: Mapping[int, Decimal]
) -> dict[str, tuple[Sheet, Source]]:
    """What the blanks of a board may be cut from: free offcuts first, then sheets on offer or in stock."""
    promised = PlannedSheet.objects.filter(offcut__board=board, cut_at=None).exclude(plan__campaign=campaign)
    offcuts = Offcut.objects.filter(board=board, gone_at=None).exclude(pk__in=promised.values("offcut"))
    sources: dict[str, tuple[Sheet, Source]] = {}
    for offcut in offcuts:
        key = source_key(None, offcut.pk)
        sides = float(offcut.along_mm), float(offcut.across_mm)
        if min(sides) > 2 * float(campaign.trim_mm):
            sources[key] = Sheet(key, *sides, Decimal(), stock=1), offcut
    for size in sheet_sizes_in_stock().filter(board=board):
        if size.is_offered or size.in_stock:
            sources[source_key(size.pk, None)] = _sheet(size, prices.get(size.pk, size.price)), size
    if not sources:
        raise PlanRefused(
            say("{code} has no sheet size. Enter one on the board's page, then plan again.", code=board.code)
        )
    return sources


def _sheet(size: SheetSize, price: Decimal) -> Sheet:
    """A sheet size with what is in stock; where it can be bought there are as many as needed, in packs."""
    return Sheet(
        source_key(size.pk, None),
        float(size.along_mm),
        float(size.across_mm),
        price,
        stock=None if size.is_offered else size.in_stock,
        pack=size.pack,
        on_hand=size.in_stock,
    )


def sheet_face(size: SheetSize, trim_mm: float) -> SheetFace:
    """What of a sheet can be used, its edges trimmed off."""
    return SheetFace(
        say("a sheet of {size}", size=size),
        float(size.along_mm) - 2 * trim_mm,
        float(size.across_mm) - 2 * trim_mm,
    )


def sides_of(blank: Blank) -> tuple[float, float]:
    """Sides of a blank along and across its flutes, mm."""
    x_mm, y_mm = float(blank.x_mm), float(blank.y_mm)
    return (x_mm, y_mm) if blank.flute_along == "x" else (y_mm, x_mm)
