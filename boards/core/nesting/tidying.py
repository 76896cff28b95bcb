"""One finished sheet laid once more, so that what is left of it is one large piece rather than slivers."""

import time
from collections.abc import Callable
from itertools import product

from boards.core.nesting.first_plans import CHOICE_RULES, ORDERS
from boards.core.nesting.guillotine import LaidSheet, lay
from boards.core.nesting.job import Job
from boards.core.nesting.shapes import CutSheet
from boards.core.nesting.supply import Supply, cheapest_area


def tidiest(
    job: Job, sheet: LaidSheet, cut_up: Callable[[LaidSheet], CutSheet], until: float | None
) -> CutSheet:
    """The same blanks on the same kind of sheet, with the largest offcut that the orders and rules give.

    cut_up: turns a laid sheet into its cuts and offcuts. until: the clock's reading after which no more is
    tried, None for no such limit.
    """
    best = cut_up(sheet)
    blanks = [laid.blank for laid in sheet.laid]
    for hardness, rule in product(ORDERS, CHOICE_RULES):
        if until is not None and time.monotonic() > until:
            break
        order = sorted(blanks, key=lambda index: -hardness(job.blanks[index]))
        stock = [1.0 if kind is sheet.kind else 0.0 for kind in job.kinds]
        again, left_out = lay(job, order, Supply(stock, cheapest_area), rule, stop_short=True)
        if not left_out:
            best = max(best, cut_up(again[0]), key=largest_offcut)
    return best


def largest_offcut(cut_sheet: CutSheet) -> float:
    """Area of the largest offcut, mm2."""
    return max((offcut.area_mm2 for offcut in cut_sheet.offcuts), default=0.0)
