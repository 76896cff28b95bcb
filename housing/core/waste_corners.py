"""The waste at a blank's corners as the nesting uses it: to cut smaller blanks from what falls off."""

from collections.abc import Iterable

from boards.core.nesting import Corners
from housing.core.blank import SAME_LINE_MM

Sides = tuple[float, float]
NOTHING: Sides = (0.0, 0.0)


def waste_corners(
    x_mm: float, y_mm: float, waste: Iterable[tuple[float, float, float, float]], flute_along: str
) -> Corners:
    """The rectangles of waste at a blank's four corners, along and across its flutes.

    x_mm, y_mm: sides of the blank. waste: near left corner and sides of each piece of waste, mm from the
    blank's near left corner. flute_along: the side along which flutes run, "x" or "y".
    Returns sides in mm for near left, near right, far left and far right, as the blank lies with its flutes
    from left to right; with flutes along y it is turned by 90 degrees to the left for that. Nothing if no
    corner falls off. Waste elsewhere, such as a notch within an edge, is left alone.
    Source: the geometry of the flat blank; turning to the left brings x, y to (y_mm - y), x.
    """
    at: dict[tuple[bool, bool], Sides] = {}
    for x, y, wide, high in waste:
        left, right = x < SAME_LINE_MM, x + wide > x_mm - SAME_LINE_MM
        near, far = y < SAME_LINE_MM, y + high > y_mm - SAME_LINE_MM
        if left != right and near != far:
            at[right, far] = max(
                at.get((right, far), NOTHING), (wide, high), key=lambda side: side[0] * side[1]
            )
    if not at:
        return ()
    lying = [at.get((right, far), NOTHING) for far in (False, True) for right in (False, True)]
    if flute_along == "x":
        return tuple(lying)
    near_left, near_right, far_left, far_right = (side[::-1] for side in lying)
    return far_left, near_left, far_right, near_right
