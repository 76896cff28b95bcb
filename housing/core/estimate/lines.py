"""Lines of an estimate, one a housing, and their sums."""

from collections.abc import Callable, Hashable, Iterable
from dataclasses import dataclass
from decimal import Decimal


@dataclass(frozen=True)
class EstimateLine:
    """What one housing takes and costs: quantities in m2, g and minutes, money in hundredths."""

    key: str
    design_key: str
    board_key: str
    board_m2: float
    board: Decimal
    glue_g: float
    glue: Decimal
    padding_m2: float
    padding: Decimal
    labour_minutes: float
    labour: Decimal

    @property
    def total(self) -> Decimal:
        return self.board + self.glue + self.padding + self.labour


@dataclass(frozen=True)
class Totals:
    """Sums over some lines, in the same units."""

    housings: int
    board_m2: float
    board: Decimal
    glue_g: float
    glue: Decimal
    padding_m2: float
    padding: Decimal
    labour_minutes: float
    labour: Decimal

    @property
    def total(self) -> Decimal:
        return self.board + self.glue + self.padding + self.labour


def add_up(lines: Iterable[EstimateLine]) -> Totals:
    """Sums of some lines, which may be none. Source: addition; money is exact."""
    lines = list(lines)
    return Totals(
        housings=len(lines),
        board_m2=sum(line.board_m2 for line in lines),
        board=sum((line.board for line in lines), Decimal()),
        glue_g=sum(line.glue_g for line in lines),
        glue=sum((line.glue for line in lines), Decimal()),
        padding_m2=sum(line.padding_m2 for line in lines),
        padding=sum((line.padding for line in lines), Decimal()),
        labour_minutes=sum(line.labour_minutes for line in lines),
        labour=sum((line.labour for line in lines), Decimal()),
    )


def rollup[K: Hashable](lines: Iterable[EstimateLine], key: Callable[[EstimateLine], K]) -> dict[K, Totals]:
    """Sums by design, by board or by anything else a line tells, in order of first appearance.

    lines: of one estimate. key: what to group by. Returns totals by group; their money adds up to the money
    of all lines exactly.
    """
    groups: dict[K, list[EstimateLine]] = {}
    for line in lines:
        groups.setdefault(key(line), []).append(line)
    return {group: add_up(members) for group, members in groups.items()}
