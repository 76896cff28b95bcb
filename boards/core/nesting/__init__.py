"""Blanks laid out on sheets of board for the least money. The one way in is nest(); check() judges it."""

import time
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace

from boards.core.nesting.bound import Bound, bound
from boards.core.nesting.check import check
from boards.core.nesting.cutting import cut_up
from boards.core.nesting.earlier import take_up_earlier
from boards.core.nesting.errors import (
    KeyRepeated,
    NestingError,
    NoSheets,
    PieceRefused,
    RulesRefused,
    SheetRefused,
)
from boards.core.nesting.free_rectangles import FreeState, search_freely, set_free
from boards.core.nesting.job import Job, grow
from boards.core.nesting.left_out import out_of_stock, too_large
from boards.core.nesting.search import Limits, Standing, Watch, go_on, search, work_for, work_in
from boards.core.nesting.shapes import (
    Corners,
    Cut,
    CutSheet,
    Layout,
    Offcut,
    Piece,
    Placement,
    Rules,
    Sheet,
    Unplaced,
    layout_cost,
)
from boards.core.nesting.state import State

__all__ = [
    "Bound",
    "Corners",
    "Cut",
    "CutSheet",
    "KeyRepeated",
    "Layout",
    "NestingError",
    "NoSheets",
    "Offcut",
    "Piece",
    "PieceRefused",
    "Placement",
    "Rules",
    "RulesRefused",
    "Sheet",
    "SheetRefused",
    "Standing",
    "Unplaced",
    "Watch",
    "bound",
    "check",
    "layout_cost",
    "nest",
]


def nest(
    pieces: Sequence[Piece],
    sheets: Sequence[Sheet],
    rules: Rules,
    seed: int = 0,
    time_limit_s: float | None = None,
    watch: Watch | None = None,
    earlier: Sequence[CutSheet] = (),
) -> Layout:
    """A cutting plan for the least money, then the fewest sheets, then the largest leftover.

    pieces: blanks, keys all different, sides in mm along and across their flutes. sheets: sizes on offer,
    keys all different, sides in mm, price a sheet; offcuts are sheets with price 0 and stock 1. rules: kerf
    and trim in mm. seed: the same seed gives the same plan, as long as the machine does its work within the
    time limit and nobody stops it. time_limit_s: seconds after which the best plan so far is taken, the first
    one being always finished; None for an amount of work that depends on the number of blanks alone. watch:
    is told how far the search is, and answers whether to stop with the best plan so far. earlier: sheets of
    an earlier plan, naming blanks and sheets by the same keys; they stay as they are as far as their blanks
    are still asked for, and only what has no place on them is searched for.
    Returns every blank once, on a sheet or left out with the reason: it is larger than every sheet, or the
    stock of the sheets it fits is used up. Batches that may not mix come one after the other; within them
    sheets of one size stand together, the fullest first.
    Raises NoSheets for an empty list of sheets, KeyRepeated for blanks or sheets of the same key,
    RulesRefused for a time limit that is not above 0.
    Source: search.py and compiled/annealing.py name theirs.
    """
    refuse_what_cannot_be_asked(pieces, sheets, time_limit_s)
    if not pieces:
        return Layout((), ())
    begun, batches = time.monotonic(), in_batches(pieces, rules)
    cut_sheets: list[CutSheet] = []
    unplaced: dict[str, Unplaced] = {}
    remaining = list(sheets)
    done = 0
    for batch in batches:
        told = watch and told_of_all(
            watch, Layout(tuple(cut_sheets), ()), sheets, done, len(batch), len(pieces)
        )
        done += len(batch)
        if time_limit_s is None:
            limits = Limits(work_for(len(batch)), watch=told, begun=begun)
        else:
            until = begun + time_limit_s * done / len(pieces)
            limits = Limits(work_in(until - time.monotonic()), until, told, begun)
        layout = nest_batch(batch, remaining, rules, seed, limits, earlier)
        cut_sheets += layout.sheets
        unplaced |= {left.key: left for left in layout.unplaced}
        remaining = less(remaining, layout)
    return Layout(tuple(cut_sheets), tuple(unplaced[piece.key] for piece in pieces if piece.key in unplaced))


def told_of_all(
    watch: Watch, earlier: Layout, sheets: Sequence[Sheet], before: int, now: int, in_all: int
) -> Watch:
    """A watch over the nesting of one batch that tells of all batches so far.

    earlier: the sheets of those before it, with so many blanks. now, in_all: blanks of this batch and of all.
    """

    def told(standing: Standing) -> bool:
        return watch(
            replace(
                standing,
                share=(before + now * standing.share) / in_all,
                cost=layout_cost(earlier, sheets) + standing.cost,
                sheets=len(earlier.sheets) + standing.sheets,
            )
        )

    return told


def nest_batch(
    pieces: Sequence[Piece],
    sheets: Sequence[Sheet],
    rules: Rules,
    seed: int,
    limits: Limits,
    earlier: Sequence[CutSheet],
) -> Layout:
    """A cutting plan for blanks that may all share sheets."""
    job = grow(pieces, sheets, rules)
    is_cuttable = job.fits.any(axis=1)
    todo = [index for index in range(len(pieces)) if is_cuttable[index]]
    if not todo:
        return Layout((), tuple(Unplaced(piece.key, too_large(piece, sheets, rules)) for piece in pieces))
    least = bound(pieces, sheets, rules)
    start = State.of(job, todo)
    kept = take_up_earlier(start, earlier, pieces, sheets, rules)
    broken = [number for number, sheet in kept.items() if sheet is None]
    state: State
    if kept:
        state = go_on(start, broken, least, seed, limits)
    else:
        state = (search if rules.edge_to_edge else search_freely)(job, todo, least, seed, limits)
    in_order = sorted(
        state.opened, key=lambda number: (state.kind_of(number), state.free_share(number), number)
    )
    cut_sheets = tuple(
        unchanged(state, number, kept.get(number), pieces)
        or written_down(state, number, pieces, sheets[state.kind_of(number)], rules)
        for number in in_order
    )
    return Layout(cut_sheets, tuple(left_out(job, state, pieces, sheets, rules)))


def written_down(state: State, number: int, pieces: Sequence[Piece], sheet: Sheet, rules: Rules) -> CutSheet:
    """A sheet of a plan, with its cuts where they run from edge to edge."""
    if isinstance(state, FreeState):
        return set_free(state, number, pieces, sheet, rules)
    return cut_up(state, number, pieces, sheet, rules)


def unchanged(
    state: State, number: int, earlier: CutSheet | None, pieces: Sequence[Piece]
) -> CutSheet | None:
    """The earlier sheet if the same blanks still lie on it and in its corners."""
    if earlier is None:
        return None
    now = {(pieces[blank].key, None) for blank in state.blanks_of(number)}
    guests = {
        (pieces[guest].key, pieces[blank].key)
        for blank in state.blanks_of(number)
        for corner in state.corners_of(blank)
        for guest in state.blanks_of(corner)
    }
    before = {(placed.key, placed.host) for placed in earlier.placements}
    return earlier if now | guests == before else None


def in_batches(pieces: Sequence[Piece], rules: Rules) -> list[list[Piece]]:
    """The blanks by batch, or all in one if batches may share sheets."""
    if rules.mix_batches:
        return [list(pieces)]
    return [[p for p in pieces if p.batch == batch] for batch in sorted({piece.batch for piece in pieces})]


def less(sheets: Sequence[Sheet], layout: Layout) -> list[Sheet]:
    """The sheets still there once a layout is cut."""
    used = Counter(cut_sheet.sheet_key for cut_sheet in layout.sheets)
    return [sheet.without(used[sheet.key]) for sheet in sheets]


def refuse_what_cannot_be_asked(
    pieces: Sequence[Piece], sheets: Sequence[Sheet], time_limit_s: float | None
) -> None:
    """Raise the error that says what is wrong with the question as a whole, if anything is."""
    if not sheets:
        raise NoSheets("There is no sheet size to cut from; add at least one.")
    for noun, listed in (("blanks", pieces), ("sheet sizes", sheets)):
        key, times = Counter(item.key for item in listed).most_common(1)[0] if listed else ("", 0)
        if times > 1:
            raise KeyRepeated(f"{times} {noun} go by the key {key}; each needs its own.")
    if time_limit_s is not None and not time_limit_s > 0:
        raise RulesRefused(f"The time limit is {time_limit_s:g} s; it must be above 0.")


def left_out(
    job: Job, state: State, pieces: Sequence[Piece], sheets: Sequence[Sheet], rules: Rules
) -> Iterator[Unplaced]:
    """Every blank that lies on no sheet, with the reason, in the order in which they were given."""
    used = Counter(sheets[state.kind_of(number)].key for number in state.opened)
    waiting, is_cuttable = set(state.out), job.fits.any(axis=1)
    for index, piece in enumerate(pieces):
        if not is_cuttable[index]:
            yield Unplaced(piece.key, too_large(piece, sheets, rules))
        elif index in waiting:
            yield Unplaced(piece.key, out_of_stock(piece, sheets, used, rules))
