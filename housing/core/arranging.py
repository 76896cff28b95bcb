"""Several objects in one enclosure: in a row with spacers between them, or each in a cell of a grid."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from housing.core.clearances import ObjectSize, side_by_side
from housing.core.errors import SizeRefused
from housing.core.orientation import Orientation

MOST_IN_A_ROW = 12  # side by side in one row a box for more would be no box any more; assumed
MOST_IN_CELLS = 48  # more cells make the tray heavy and the objects hard to find again; assumed

type Ways = Sequence[Orientation]


@dataclass(frozen=True)
class Spacers:
    """What keeps neighbours in a row apart, all alike, mm: thick from left to right, deep front to back."""

    count: int
    thick_mm: float
    deep_mm: float
    high_mm: float

    @property
    def what(self) -> str:
        """One of them in words, thickness, depth and height in mm."""
        return (
            f"spacer of foam or padded board between neighbours, {self.thick_mm:.1f} x {self.deep_mm:.1f} x "
            f"{self.high_mm:.1f} mm"
        )

    @property
    def told(self) -> str:
        """How many there are and how thick, such as 2 spacers of 20.0 mm between them."""
        return f"{self.count} spacer{'s' if self.count > 1 else ''} of {self.thick_mm:.1f} mm between them"


@dataclass(frozen=True)
class Row:
    """Objects side by side, left to right. size: of the whole row, mm. ways: how each lies, in order."""

    size: ObjectSize
    ways: tuple[Orientation, ...]
    spacers: Spacers | None


@dataclass(frozen=True)
class Cells:
    """A grid of equal cells, one object in each, filled row by row. Lengths in mm.

    cell: clear size of one, gaps included; its height is that of the highest object. ways: how each object
    lies, in order. divider_mm: thickness of what stands between two cells.
    """

    columns: int
    rows: int
    cell: ObjectSize
    ways: tuple[Orientation, ...]
    divider_mm: float

    @property
    def x_mm(self) -> float:
        """Clear inside from left to right: the cells and what stands between them."""
        return self.columns * self.cell.width_mm + (self.columns - 1) * self.divider_mm

    @property
    def y_mm(self) -> float:
        """Clear inside from front to back."""
        return self.rows * self.cell.depth_mm + (self.rows - 1) * self.divider_mm

    @property
    def empty(self) -> int:
        """Cells that stay free."""
        return self.columns * self.rows - len(self.ways)


def in_a_row(members: Sequence[Ways], gap_mm: float) -> Row:
    """Objects side by side in the order given, each lying so that the row covers the least floor.

    members: for each object the ways it may lie, mm, as orientations() gives them. gap_mm: space between
    neighbours, filled with a spacer.
    Returns the row, mm; of rows with as much floor the one nearest to a square.
    Raises SizeRefused for no object, one that may lie in no way, more than MOST_IN_A_ROW, or a negative gap.
    Source: for each depth a row may have, the narrowest way of each object; worked in the tests.
    """
    if len(members) > MOST_IN_A_ROW:
        raise SizeRefused(
            f"{len(members)} objects are too many for one row; at most {MOST_IN_A_ROW} go side by side. "
            f"Choose a tray with dividers, which takes up to {MOST_IN_CELLS}, or make the set smaller."
        )
    _refuse(members, gap_mm)
    rows = [
        [min(fitting, key=lambda way: way.size.width_mm) for fitting in fittings]
        for fittings in _under(members, "depth_mm")
    ]
    sized = [(side_by_side([way.size for way in ways], gap_mm), tuple(ways)) for ways in rows]
    size, ways = min(sized, key=lambda row: _floor(row[0].width_mm, row[0].depth_mm))
    between = len(members) - 1
    spacers = Spacers(between, gap_mm, size.depth_mm, size.height_mm) if between and gap_mm else None
    return Row(size, ways, spacers)


def in_cells(
    members: Sequence[Ways],
    gap_mm: float,
    divider_mm: float,
    *,
    most_a_side: int = MOST_IN_CELLS,
    longest_mm: float | None = None,
) -> Cells:
    """Objects in equal cells, each as large as the largest object with a gap on its four sides.

    members: for each object the ways it may lie, mm. gap_mm: space on each of the four sides of an object.
    divider_mm: between two cells. most_a_side: cells in a column or a row at most. longest_mm: a grid
    with a longer side is taken only where every grid has one.
    Returns the grid with the least floor, of equals the one nearest to a square, its longer side in front.
    Raises SizeRefused for no object, one that may lie in no way, more than MOST_IN_CELLS or than the sides
    allow, a negative gap or divider.
    Source: every cell and every grid tried; worked in the tests.
    """
    if len(members) > (most := min(MOST_IN_CELLS, most_a_side * most_a_side)):
        raise SizeRefused(
            f"{len(members)} objects are too many for the cells of one tray; it takes at most {most}. "
            "Make several sets of them."
        )
    _refuse(members, gap_mm)
    if divider_mm < 0:
        raise SizeRefused(f"The dividers are {divider_mm:g} mm thick; they cannot be thinner than nothing.")
    cells = {_cell(ways, gap_mm): tuple(ways) for ways in _cell_fillings(members)}
    grids = [
        Cells(columns, rows, cell, ways, divider_mm)
        for cell, ways in cells.items()
        for columns, rows in _grids(len(members), most_a_side)
    ]
    return min(grids, key=lambda grid: (_is_longer(grid, longest_mm), *_floor(grid.x_mm, grid.y_mm)))


def by_height(members: Sequence[Ways]) -> list[list[Ways]]:
    """The ways of each object once for every height a common box may have, the highest first.

    members: for each object the ways it may lie. Low boxes leave only the ways that go into them.
    Source: no height in between changes what goes in.
    """
    return list(reversed(list(_under(members, "height_mm"))))


def _under(members: Sequence[Ways], side: str) -> Iterator[list[Ways]]:
    """For each length that a side may be limited to, the ways of each object that keep to it."""
    for limit in sorted({getattr(way.size, side) for ways in members for way in ways}):
        fitting: list[Ways] = [[way for way in ways if getattr(way.size, side) <= limit] for ways in members]
        if all(fitting):
            yield fitting


def _cell_fillings(members: Sequence[Ways]) -> Iterator[list[Orientation]]:
    """For each width a cell may have, how each object lies in it so that the cell is least deep."""
    for fittings in _under(members, "width_mm"):
        deep = max(min(way.size.depth_mm for way in fitting) for fitting in fittings)
        yield [next(way for way in fitting if way.size.depth_mm <= deep) for fitting in fittings]


def _cell(ways: Sequence[Orientation], gap_mm: float) -> ObjectSize:
    return ObjectSize(
        height_mm=max(way.size.height_mm for way in ways),
        width_mm=max(way.size.width_mm for way in ways) + 2 * gap_mm,
        depth_mm=max(way.size.depth_mm for way in ways) + 2 * gap_mm,
    )


def _grids(number: int, most_a_side: int) -> Iterator[tuple[int, int]]:
    """Columns and rows of every grid that holds a number of objects and has no empty row."""
    for columns in range(1, min(number, most_a_side) + 1):
        rows = -(-number // columns)
        if rows <= most_a_side:
            yield columns, rows


def _is_longer(grid: Cells, longest_mm: float | None) -> bool:
    return longest_mm is not None and max(grid.x_mm, grid.y_mm) > longest_mm


def _floor(x_mm: float, y_mm: float) -> tuple[float, float, bool]:
    """What a floor is chosen by: its area to a thousandth of a mm2, so that rounding errors tell none apart,
    how far it is from a square, and whether its shorter side is along the front.
    """
    return round(x_mm * y_mm, 3), max(x_mm, y_mm) / min(x_mm, y_mm), x_mm < y_mm


def _refuse(members: Sequence[Ways], gap_mm: float) -> None:
    if not members:
        raise SizeRefused("A set needs at least one object.")
    if not all(members):
        raise SizeRefused("An object of the set may lie in no way at all. Record how it may lie.")
    if gap_mm < 0:
        raise SizeRefused(f"The gap between objects is {gap_mm:g} mm; it cannot be negative.")
