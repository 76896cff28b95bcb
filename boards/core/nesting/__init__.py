"""Blanks laid out on sheets of board for the least money. The one way in is nest(); check() judges it."""

import time
from collections import Counter
from collections.abc import Iterator, Sequence
from random import Random

from boards.core.nesting.bound import Bound, bound
from boards.core.nesting.check import check
from boards.core.nesting.cutting import cut_up
from boards.core.nesting.errors import (
    KeyRepeated,
    NestingError,
    NoSheets,
    PieceRefused,
    RulesRefused,
    SheetRefused,
)
from boards.core.nesting.guillotine import LaidSheet
from boards.core.nesting.job import Job, grow
from boards.core.nesting.left_out import out_of_stock, too_large
from boards.core.nesting.plan import Plan
from boards.core.nesting.search import search
from boards.core.nesting.shapes import (
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
from boards.core.nesting.tidying import tidiest

__all__ = [
    "Bound",
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
    "Unplaced",
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
) -> Layout:
    """A cutting plan for the least money, then the fewest sheets, then the largest leftover.

    pieces: blanks, keys all different, sides in mm along and across their flutes. sheets: sizes on offer,
    keys all different, sides in mm, price a sheet; offcuts are sheets with price 0 and stock 1. rules: kerf
    and trim in mm. seed: the same seed gives the same plan, as long as there is no time limit. time_limit_s:
    seconds after which the best plan so far is taken, the first one being always finished; None for a number
    of tries that depends on the number of blanks alone.
    Returns every blank once, on a sheet or left out with the reason: it is larger than every sheet, or the
    stock of the sheets it fits is used up. Sheets of one size stand together, the fullest first.
    Raises NoSheets for an empty list of sheets, KeyRepeated for blanks or sheets of the same key,
    RulesRefused for a time limit that is not above 0.
    Source: guillotine.py, search.py and relaying.py each name theirs.
    """
    refuse_what_cannot_be_asked(pieces, sheets, time_limit_s)
    until = None if time_limit_s is None else time.monotonic() + time_limit_s
    job = grow(pieces, sheets, rules)
    todo = [index for index in range(len(pieces)) if job.fits(index)]
    plan = search(job, todo, bound(pieces, sheets, rules), Random(seed), until)

    def cut(laid: LaidSheet) -> CutSheet:
        return cut_up(laid, pieces, sheets[laid.kind.index], rules)

    in_order = sorted(plan.sheets, key=lambda laid: (laid.kind.index, laid.free_share))
    cut_sheets = tuple(tidiest(job, laid, cut, until) for laid in in_order)
    return Layout(cut_sheets, tuple(left_out(job, plan, pieces, sheets, rules)))


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
    job: Job, plan: Plan, pieces: Sequence[Piece], sheets: Sequence[Sheet], rules: Rules
) -> Iterator[Unplaced]:
    """Every blank that lies on no sheet, with the reason, in the order in which they were given."""
    used = Counter(sheets[laid.kind.index].key for laid in plan.sheets)
    waiting = set(plan.left_out)
    for index, piece in enumerate(pieces):
        if not job.fits(index):
            yield Unplaced(piece.key, too_large(piece, sheets, rules))
        elif index in waiting:
            yield Unplaced(piece.key, out_of_stock(piece, sheets, used, rules))
