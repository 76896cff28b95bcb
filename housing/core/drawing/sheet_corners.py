"""Where the waste corners of a blank lie on its sheet: what falls off there can be smaller blanks."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from boards.core.nesting.shapes import Corners, CutSheet, Placement
from objects.core.words import noted

NAMES = (noted("near left"), noted("near right"), noted("far left"), noted("far right"))
WASTE = "waste"


@dataclass(frozen=True)
class WasteCorner:
    """A corner that falls off a blank: its place as it lies in the drawing, mm from the sheet's corner."""

    host: str
    name: str
    x_mm: float
    y_mm: float
    along_mm: float
    across_mm: float

    def holds(self, x_mm: float, y_mm: float) -> bool:
        """Whether a point of the sheet lies in it."""
        return 0 <= x_mm - self.x_mm <= self.along_mm and 0 <= y_mm - self.y_mm <= self.across_mm


def corners_of(host: Placement, corners: Corners) -> list[WasteCorner]:
    """The corners that fall off a blank where it lies.

    host: the blank, mm from the sheet's corner. corners: sides of its waste in its own axes, mm, near left,
    near right, far left, far right; none where nothing falls off.
    Returns those that have an area, named as they lie on the sheet.
    Source: geometry; a blank that is turned by 90 degrees to the left brings its near left corner to the near
    right.
    """
    found = []
    for number, (along, across) in enumerate(corners):
        is_right, is_far = number % 2 == 1, number >= 2
        if host.turned:
            is_right, is_far, along, across = not is_far, is_right, across, along
        if along > 0 and across > 0:
            x_mm = host.x_mm + (host.along_mm - along if is_right else 0)
            y_mm = host.y_mm + (host.across_mm - across if is_far else 0)
            found.append(WasteCorner(host.key, NAMES[is_right + 2 * is_far], x_mm, y_mm, along, across))
    return found


def corners_in_use(cut_sheet: CutSheet, corners: Mapping[str, Corners]) -> list[WasteCorner]:
    """The waste corners of a sheet's blanks from which other blanks are cut, host by host.

    cut_sheet: placements in mm. corners: of each host its waste, as corners_of() takes it. A guest that lies
    in none of them, which only records of another origin can say, is taken to lie in its host.
    """
    found: list[WasteCorner] = []
    for host in cut_sheet.placements:
        guests = [placed for placed in cut_sheet.placements if placed.host == host.key]
        own = corners_of(host, corners.get(host.key, ()))
        own.append(
            WasteCorner(host.key, WASTE, host.x_mm, host.y_mm, host.along_mm, host.across_mm)
        )  # last, for the guests that no corner holds
        found += [corner for corner in own if guests and corner in _holding(own, guests)]
    return found


def _holding(corners: list[WasteCorner], guests: Iterable[Placement]) -> list[WasteCorner]:
    """Of each guest the first corner that holds its middle."""
    return [
        next(c for c in corners if c.holds(*middle) or c is corners[-1]) for middle in map(middle_of, guests)
    ]


def middle_of(placed: Placement) -> tuple[float, float]:
    """The middle of a blank where it lies, mm."""
    return placed.x_mm + placed.along_mm / 2, placed.y_mm + placed.across_mm / 2


def mirrored_name(name: str) -> str:
    """What a corner is called where left and right are exchanged."""
    return NAMES[NAMES.index(name) ^ 1] if name in NAMES else name


def can_be_mirrored(cut_sheet: CutSheet, corners: Mapping[str, Corners]) -> bool:
    """Whether a sheet may be laid out with left and right exchanged, its blanks not turned over.

    cut_sheet, corners: as corners_in_use() takes them. A blank is a rectangle while the sheet is cut; only
    one from whose corners others are cut has to have the same corners on its left as on its right.
    """
    for host in {placed.host for placed in cut_sheet.placements if placed.host}:
        placed = next(placed for placed in cut_sheet.placements if placed.key == host)
        found = {(c.name, c.along_mm, c.across_mm) for c in corners_of(placed, corners.get(host, ()))}
        if found != {(mirrored_name(name), *sides) for name, *sides in found}:
            return False
    return True
