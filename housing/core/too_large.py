"""Ways out when a blank is larger than every sheet of its board."""

from collections.abc import Sequence
from dataclasses import dataclass

from housing.core.joining import OVERLAP_MM, parts_needed
from objects.core.words import say

NEAR_MM = 1e-3


@dataclass(frozen=True)
class SheetFace:
    """A sheet a blank might be cut from, mm, trim already taken off: name, along and across the flutes."""

    name: str
    along_mm: float
    across_mm: float

    def holds(self, along_mm: float, across_mm: float) -> bool:
        return along_mm <= self.along_mm + NEAR_MM and across_mm <= self.across_mm + NEAR_MM


def joined_parts(along_mm: float, across_mm: float, sheet: SheetFace) -> int:
    """How many parts, joined with an overlap, make a blank that one sheet cannot hold.

    along_mm, across_mm: the blank, mm. sheet: usable face, mm.
    Returns the number of parts, 1 or more; each joint takes OVERLAP_MM.
    Source: arithmetic; n parts of length s joined with overlap o reach n s - (n - 1) o.
    """
    return parts_needed(along_mm, sheet.along_mm) * parts_needed(across_mm, sheet.across_mm)


def ways_out(
    along_mm: float, across_mm: float, own: Sequence[SheetFace], others: Sequence[SheetFace]
) -> tuple[str, ...]:
    """What can be done with a blank that fits no sheet of its board as its flutes run.

    along_mm, across_mm: the blank, mm. own: sheets of its board; others: sheets of other boards.
    Returns sentences, the easiest way first: turning, another sheet, joined parts.
    Source: geometry.
    """
    turned = [sheet.name for sheet in own if sheet.holds(across_mm, along_mm)]
    elsewhere = [sheet.name for sheet in others if sheet.holds(along_mm, across_mm)]
    roomy = [sheet for sheet in own if min(sheet.along_mm, sheet.across_mm) > 2 * OVERLAP_MM]
    ways = []
    if turned:
        ways.append(
            say(
                "Turned against the flutes it fits {turned}; allow turning in the campaign.", turned=turned[0]
            )
        )
    if elsewhere:
        ways.append(say("It fits {elsewhere}; choose a design on that board.", elsewhere=elsewhere[0]))
    if roomy:
        best = min(roomy, key=lambda sheet: (joined_parts(along_mm, across_mm, sheet), sheet.name))
        count = joined_parts(along_mm, across_mm, best)
        ways.append(
            say(
                "Or make it of {count} parts cut from {best_name}, joined with an overlap of "
                "{overlap_mm:.0f} mm.",
                count=count,
                best_name=best.name,
                overlap_mm=OVERLAP_MM,
            )
        )
    return tuple(ways)
