"""The collection and its sheets in figures: how large objects are, and what becomes of the board."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

# Upper limits of the classes of longest sides, in the unit of the reader; round figures, assumed.
CLASSES = {
    "in": (4, 8, 12, 18, 24, 36, 48),
    "mm": (100, 200, 300, 450, 600, 900, 1200),
}
MM_OF = {"in": 25.4, "mm": 1.0}


@dataclass(frozen=True)
class SizeClass:
    """Objects whose longest side is above one limit and up to another, in the unit of the limits.

    above: 0 for the smallest; up_to: None for the largest. fitting, too_large: how many would go into one of
    the standard sizes, and how many into none.
    """

    above: float
    up_to: float | None
    fitting: int
    too_large: int


def size_classes(
    sides_mm: NDArray[np.float64], boxes_mm: NDArray[np.float64], unit: str
) -> tuple[SizeClass, ...]:
    """Objects by longest side, and of each class how many fit a box that there is.

    sides_mm: n rows of height, width and depth; boxes_mm: as many sizes as there are, clear inside, in the
    same order; unit: "in" or "mm". An object fits where it stands upright in the box, turned by a quarter if
    need be, with nothing around it: padding makes it less, laying it down makes it more.
    Returns every class, those without an object too.
    """
    limits = CLASSES[unit]
    longest = sides_mm.max(axis=1, initial=0.0)
    # counted to a hundredth of a millimetre, so that 4 in is not above 4 in
    place = np.searchsorted(np.array(limits) * MM_OF[unit] + 0.005, longest)
    fits = _fits_any(sides_mm, boxes_mm)
    bounds = (0, *limits, None)
    return tuple(
        SizeClass(
            float(bounds[i] or 0),
            None if (limit := bounds[i + 1]) is None else float(limit),
            int(np.count_nonzero(fits & (place == i))),
            int(np.count_nonzero(~fits & (place == i))),
        )
        for i in range(len(limits) + 1)
    )


def _fits_any(sides_mm: NDArray[np.float64], boxes_mm: NDArray[np.float64]) -> NDArray[np.bool_]:
    fits = np.zeros(len(sides_mm), dtype=bool)
    if not len(sides_mm):
        return fits
    height, (small, large) = sides_mm[:, 0], np.sort(sides_mm[:, 1:], axis=1).T
    for box_height, *floor in boxes_mm:
        least, most = sorted(floor)
        fits |= (height <= box_height) & (small <= least) & (large <= most)
    return fits


@dataclass(frozen=True)
class SheetUse:
    """What becomes of some sheets of board. Areas in mm², none below zero."""

    label: str
    blanks_mm2: float
    kept_mm2: float
    sheets_mm2: float
    sheets: int = 1

    @property
    def waste_mm2(self) -> float:
        """What is neither a blank nor an offcut kept: the trim, the kerf and pieces too small to keep."""
        return max(self.sheets_mm2 - self.blanks_mm2 - self.kept_mm2, 0.0)

    @property
    def percents(self) -> tuple[float, float, float]:
        """Shares that become blanks, offcuts and waste, in percent; zeros of no board."""
        if not self.sheets_mm2:
            return 0.0, 0.0, 0.0
        parts = self.blanks_mm2, self.kept_mm2, self.waste_mm2
        blanks, kept, waste = (100 * part / self.sheets_mm2 for part in parts)
        return blanks, kept, waste


def together(label: str, uses: Sequence[SheetUse]) -> SheetUse:
    """The use of several lots of sheets as one."""
    return SheetUse(
        label,
        sum(use.blanks_mm2 for use in uses),
        sum(use.kept_mm2 for use in uses),
        sum(use.sheets_mm2 for use in uses),
        sum(use.sheets for use in uses),
    )
