"""From the object's size to the clear inside of its enclosure."""

from collections.abc import Sequence
from dataclasses import dataclass

from housing.core.errors import SizeRefused
from objects.core.lengths import LARGEST_MM, MM_PER_INCH

INCH = float(MM_PER_INCH)
MM2_PER_M2 = 1e6


@dataclass(frozen=True)
class Allowances:
    """Room left around the object, in mm.

    height_mm: added once to the height. side_mm: added on each of the four sides.
    Source: one inch on the height and one on either side is common practice for padded boxes, no source.
    """

    height_mm: float = INCH
    side_mm: float = INCH

    def __post_init__(self) -> None:
        if self.height_mm < 0 or self.side_mm < 0:
            raise SizeRefused(
                f"The allowances are {self.height_mm:g} mm on the height and {self.side_mm:g} mm a side; "
                "an allowance cannot be negative, since the object would not fit."
            )


@dataclass(frozen=True)
class InnerSize:
    """Clear inside of an enclosure in mm: x along the front, y front to back, z upward."""

    x_mm: float
    y_mm: float
    z_mm: float

    def __post_init__(self) -> None:
        for name, value in (("width", self.x_mm), ("depth", self.y_mm), ("height", self.z_mm)):
            if not 0 < value <= LARGEST_MM:
                raise SizeRefused(
                    f"The inner {name} comes to {value:g} mm; it must be above 0 and at most "
                    f"{LARGEST_MM:g} mm. Check the object's measurements and the allowances."
                )


@dataclass(frozen=True)
class ObjectSize:
    """Outer size of an object as it lies in its box, in mm."""

    height_mm: float
    width_mm: float
    depth_mm: float


def inner_size(size: ObjectSize, allowances: Allowances) -> InnerSize:
    """Clear inside wanted for an object.

    size: the object, mm. allowances: room around it, mm.
    Returns the clear inside in mm; the object's width lies along x and its depth along y.
    Raises SizeRefused when a side comes out at 0 or below or above 20 m.
    Source: common practice, no source; worked example in tests/housing/core/test_clearances.py.
    """
    return InnerSize(
        x_mm=size.width_mm + 2 * allowances.side_mm,
        y_mm=size.depth_mm + 2 * allowances.side_mm,
        z_mm=size.height_mm + allowances.height_mm,
    )


def lined(inner: InnerSize, lining_mm: float) -> InnerSize:
    """Clear inside before a lining of floor and walls goes in. lining_mm: its thickness, mm. Source: sums."""
    return InnerSize(inner.x_mm + 2 * lining_mm, inner.y_mm + 2 * lining_mm, inner.z_mm + lining_mm)


def side_by_side(sizes: Sequence[ObjectSize], gap_mm: float) -> ObjectSize:
    """Size of a set of objects standing in one row, left to right.

    sizes: one or more, mm. gap_mm: space kept between neighbours, mm.
    Returns the row's size: widths and gaps added, the greatest depth and height.
    Raises SizeRefused for an empty set or a negative gap.
    Source: sum of the sides.
    """
    if not sizes:
        raise SizeRefused("A set needs at least one object.")
    if gap_mm < 0:
        raise SizeRefused(f"The gap between objects is {gap_mm:g} mm; it cannot be negative.")
    return ObjectSize(
        height_mm=max(size.height_mm for size in sizes),
        width_mm=sum(size.width_mm for size in sizes) + gap_mm * (len(sizes) - 1),
        depth_mm=max(size.depth_mm for size in sizes),
    )
