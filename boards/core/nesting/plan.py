"""A plan as the search sees it, and what makes one better than another."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from boards.core.nesting.guillotine import LaidSheet
from boards.core.nesting.job import Job


@dataclass(frozen=True)
class Plan:
    """Sheets laid, and the blanks for which the stock did not reach."""

    sheets: list[LaidSheet]
    left_out: list[int]


def value(
    job: Job, sheets: Sequence[LaidSheet], left_out: Sequence[int]
) -> tuple[float, Decimal, int, float]:
    """What a plan or a part of one is judged by, smaller is better.

    Area left out (mm2), money, sheets, and how evenly free room is spread: room gathered on one sheet counts
    for more than the same room on many, because it is what saves the next sheet or makes a large offcut.
    """
    area = round(sum(job.blanks[index].area for index in left_out), 3)
    money = sum((sheet.kind.price for sheet in sheets), Decimal(0))
    gathered = sum(sheet.kind.worth * sheet.free_share**2 for sheet in sheets)
    return area, money, len(sheets), -gathered
