"""How much lining an enclosure takes."""

from housing.core.clearances import MM2_PER_M2
from housing.core.folding import Box3


def lined_area_m2(inside: Box3) -> float:
    """Area of the lining: the floor and the four walls of the clear inside.

    inside: clear inside, mm. Returns m2, without waste or overlap.
    Source: plane geometry; which faces are lined is common practice, no source.
    """
    floor = inside.x_mm * inside.y_mm
    walls = 2 * (inside.x_mm + inside.y_mm) * inside.z_mm
    return (floor + walls) / MM2_PER_M2
