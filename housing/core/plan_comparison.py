"""Two cutting plans of one campaign side by side: what they cost, use and keep, and which blanks moved."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from objects.core.numbers import natural_key

OFFCUT = "offcut"  # how the source of a sheet begins that is an offcut from the rack
TOUCH_MM = 0.01  # what rounding may let neighbours overlap; assumed, far below any kerf

# A rectangle on a sheet: near corner and sides, mm.
Rectangle = tuple[float, float, float, float]
# What tells whether two sheets are alike: board, sides in mm, blanks in order of name.
Kind = tuple[str, float, float, tuple[str, ...]]


@dataclass(frozen=True)
class SheetContents:
    """One sheet of a plan: its board, where it comes from, its sides in mm, and the blanks on it by name.

    source: a size such as "1524 × 1016 mm", or "offcut 12". is_cut: whether it was cut before the plan was
    made.
    """

    board: str
    source: str
    along_mm: float
    across_mm: float
    is_cut: bool
    blanks: tuple[str, ...]

    @property
    def is_offcut(self) -> bool:
        return self.source.startswith(OFFCUT)


@dataclass(frozen=True)
class BoardFigures:
    """One board of a plan. cost, least_cost, sheets and least_sheets tell of the sheets still to cut.

    Money in the campaign's currency; cut_cost and cut_sheets: the sheets cut before the plan was made. Of all
    sheets, cut or not: blanks; used_share, area of the blanks over that of the sheets, 0 to 1; offcut_mm2,
    the area of the offcuts worth keeping; in_corners, blanks that lie in what is cut away of another.
    """

    board: str
    cost: Decimal
    least_cost: Decimal
    sheets: int
    least_sheets: int
    cut_cost: Decimal
    cut_sheets: int
    blanks: int
    used_share: float
    offcut_mm2: float
    in_corners: int


@dataclass(frozen=True)
class KeptPlan:
    """A plan as it was when it was made. rules: what it went by, label to words."""

    rules: Mapping[str, str]
    boards: tuple[BoardFigures, ...]
    sheets: tuple[SheetContents, ...]


@dataclass(frozen=True)
class Totals:
    """A plan in all. Money in the campaign's currency, areas in mm2, used_share from 0 to 1.

    cost: of all sheets; cut_cost: of those cut before the plan was made; new_cost: of those still to cut;
    least_cost: what no plan could do those for less than; percent_above_least: by how much new_cost is above
    it, None where it is nothing.
    """

    cost: Decimal
    cut_cost: Decimal
    new_cost: Decimal
    least_cost: Decimal
    percent_above_least: float | None
    sheets: int
    blanks: int
    used_share: float
    offcut_mm2: float
    in_corners: int


@dataclass(frozen=True)
class SheetCount:
    """How many sheets of one size of a board, or offcuts of it, each plan uses."""

    board: str
    source: str
    first: int
    second: int

    @property
    def is_offcuts(self) -> bool:
        return self.source == OFFCUT


@dataclass(frozen=True)
class RuleDifference:
    """A rule that the plans do not share; the words are empty where a plan does not tell."""

    label: str
    first: str
    second: str


@dataclass(frozen=True)
class Comparison:
    """Two plans side by side, and what changed from the first to the second."""

    first: Totals
    second: Totals
    sheet_counts: tuple[SheetCount, ...]
    rule_differences: tuple[RuleDifference, ...]
    blanks_only_in_first: tuple[str, ...]
    blanks_only_in_second: tuple[str, ...]
    sheets_alike: int
    sheets_only_in_first: tuple[SheetContents, ...]
    sheets_only_in_second: tuple[SheetContents, ...]
    blanks_in_other_company: tuple[str, ...]


def compare(first: KeptPlan, second: KeptPlan) -> Comparison:
    """Put two plans of one campaign side by side.

    first, second: the plans, their blanks known by name. Sheets are alike that have the same board, the same
    sides and the same blanks, wherever those lie. A blank is in other company when it is in both plans and
    the blanks it shares its sheet with are not the same ones. Returns both in all and the differences, names
    in the order of numbers. Source: sums and differences of sets.
    """
    names = Counter(_names(first)), Counter(_names(second))
    kinds = Counter(map(_kind, first.sheets)), Counter(map(_kind, second.sheets))
    alike = kinds[0] & kinds[1]
    companies = _companies(first), _companies(second)
    return Comparison(
        first=totals(first),
        second=totals(second),
        sheet_counts=_sheet_counts(first, second),
        rule_differences=_rule_differences(first.rules, second.rules),
        blanks_only_in_first=_sorted((names[0] - names[1]).elements()),
        blanks_only_in_second=_sorted((names[1] - names[0]).elements()),
        sheets_alike=alike.total(),
        sheets_only_in_first=_others(first.sheets, alike),
        sheets_only_in_second=_others(second.sheets, alike),
        blanks_in_other_company=_sorted(
            name for name in names[0].keys() & names[1].keys() if companies[0][name] != companies[1][name]
        ),
    )


def totals(plan: KeptPlan) -> Totals:
    """Sum a plan up over its boards.

    plan: none or more boards. Returns the sums; used_share is weighted by the area of each board's sheets,
    and 0 without sheets. Source: sums; percent above least is cost over lower bound, less 1.
    """
    areas: defaultdict[str, float] = defaultdict(float)
    for sheet in plan.sheets:
        areas[sheet.board] += sheet.along_mm * sheet.across_mm
    area = sum(areas.values())
    new_cost = sum((row.cost for row in plan.boards), Decimal())
    cut_cost = sum((row.cut_cost for row in plan.boards), Decimal())
    least_cost = sum((row.least_cost for row in plan.boards), Decimal())
    return Totals(
        cost=new_cost + cut_cost,
        cut_cost=cut_cost,
        new_cost=new_cost,
        least_cost=least_cost,
        percent_above_least=float(new_cost / least_cost - 1) * 100 if least_cost else None,
        sheets=len(plan.sheets),
        blanks=sum(row.blanks for row in plan.boards),
        used_share=sum(row.used_share * areas[row.board] for row in plan.boards) / area if area else 0.0,
        offcut_mm2=sum(row.offcut_mm2 for row in plan.boards),
        in_corners=sum(row.in_corners for row in plan.boards),
    )


def count_in_corners(placed: Sequence[Rectangle]) -> int:
    """Count the blanks of one sheet that lie in what is cut away of a larger blank.

    placed: x and y of the near corner and both sides of each blank's bounding rectangle, mm. Returns how many
    share ground with a larger one. Source: blanks side by side share none, so one that does lies within.
    """
    inner: set[int] = set()
    in_order = sorted(range(len(placed)), key=lambda number: placed[number][0])
    for rank, one in enumerate(in_order):
        x, y, along, across = placed[one]
        for other in in_order[rank + 1 :]:
            x2, y2, along2, across2 = placed[other]
            if x2 >= x + along - TOUCH_MM:
                break
            if y2 < y + across - TOUCH_MM and y < y2 + across2 - TOUCH_MM:
                inner.add(other if along2 * across2 <= along * across else one)
    return len(inner)


def _names(plan: KeptPlan) -> Iterable[str]:
    return (name for sheet in plan.sheets for name in sheet.blanks)


def _kind(sheet: SheetContents) -> Kind:
    return sheet.board, sheet.along_mm, sheet.across_mm, tuple(sorted(sheet.blanks))


def _others(sheets: Iterable[SheetContents], alike: Counter[Kind]) -> tuple[SheetContents, ...]:
    """The sheets that are not among those alike, each of which stands for one."""
    left, others = Counter(alike), []
    for sheet in sheets:
        if left[_kind(sheet)]:
            left[_kind(sheet)] -= 1
        else:
            others.append(sheet)
    return tuple(others)


def _companies(plan: KeptPlan) -> dict[str, list[tuple[str, ...]]]:
    """For each name the blanks that share its sheet, sheet by sheet.

    A name is on two sheets when a box was given up after a blank of it was cut, and planned anew.
    """
    companies: defaultdict[str, list[tuple[str, ...]]] = defaultdict(list)
    for sheet in plan.sheets:
        together = sorted(sheet.blanks)
        for at, name in enumerate(together):
            companies[name].append((*together[:at], *together[at + 1 :]))
    return {name: sorted(found) for name, found in companies.items()}


def _sheet_counts(first: KeptPlan, second: KeptPlan) -> tuple[SheetCount, ...]:
    counts = Counter(map(_size, first.sheets)), Counter(map(_size, second.sheets))
    return tuple(
        SheetCount(board, OFFCUT if is_offcut else source, counts[0][key], counts[1][key])
        for key in sorted(counts[0].keys() | counts[1].keys())
        for board, is_offcut, _, _, source in (key,)
    )


def _size(sheet: SheetContents) -> tuple[str, bool, float, float, str]:
    """What sheets are counted by; all offcuts of a board are counted together, after its sizes."""
    if sheet.is_offcut:
        return sheet.board, True, 0.0, 0.0, OFFCUT
    return sheet.board, False, sheet.along_mm, sheet.across_mm, sheet.source


def _rule_differences(first: Mapping[str, str], second: Mapping[str, str]) -> tuple[RuleDifference, ...]:
    return tuple(
        RuleDifference(label, first.get(label, ""), second.get(label, ""))
        for label in {**first, **second}
        if first.get(label, "") != second.get(label, "")
    )


def _sorted(names: Iterable[str]) -> tuple[str, ...]:
    return tuple(sorted(names, key=natural_key))
