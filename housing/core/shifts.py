"""How far the lines of a blank are moved for the thickness of the board, told so that a ruler agrees."""

from dataclasses import dataclass

from boards.core.board import BoardSpec
from housing.core.blank import SAME_LINE_MM, Blank
from housing.core.marking_out import MarkingOut
from objects.core.words import say

MOST_CALIPERS = 1.5  # flaps that fold farther from a wall's score lie beside no wall


@dataclass(frozen=True, slots=True)
class Shift:
    """What the board's thickness does to a blank, mm.

    fold_mm: lost inside at each fold; is_added: whether panels are drawn that much larger a fold.
    hinges_mm: how far the folds of flaps lie beyond the fold of the wall beside them, the least and the most;
    None where there are no such flaps.
    """

    fold_mm: float
    is_added: bool
    hinges_mm: tuple[float, float] | None

    def sentences(self) -> list[str]:
        """What a maker who checks with a ruler should know; lengths as "12.3 mm"."""
        lost = f"{self.fold_mm:.1f}".removesuffix(".0") + " mm"
        if not self.fold_mm:
            told = [say("Shift for thickness: none at the folds, which take nothing off the inside.")]
        elif self.is_added:
            told = [
                say(
                    "Shift for thickness: each fold takes {length} off the inside; a panel is drawn that "
                    "much longer for each fold at its ends.",
                    length=lost,
                )
            ]
        else:
            told = [
                say(
                    "Shift for thickness: none, drawn nominally. The inside comes out {length} smaller for "
                    "each fold.",
                    length=lost,
                )
            ]
        if self.hinges_mm is not None:
            low, high = (f"{value:.1f}".removesuffix(".0") + " mm" for value in self.hinges_mm)
            told.append(
                say("Flaps fold {length} beside the wall's score, to lie outside the wall.", length=high)
                if low == high
                else say("Flaps fold {low} to {high} beside the wall's score.", low=low, high=high)
            )
        return told


def shift_of(blanks: list[Blank], board: BoardSpec, marking_out: MarkingOut) -> Shift:
    """The shift in the blanks of one enclosure.

    blanks: as drawn, mm. board: caliper in mm and fold share. marking_out: whether folds are made up for.
    Source: the fold model (boards/core/board.py); the shift of the hinges is read off the blanks.
    """
    most = MOST_CALIPERS * board.caliper_mm + marking_out.step_mm
    hinges = [gap for blank in blanks for gap in _hinge_gaps(blank) if gap <= most]
    return Shift(
        fold_mm=board.fold_share * board.caliper_mm,
        is_added=marking_out.is_compensated,
        hinges_mm=(min(hinges), max(hinges)) if hinges else None,
    )


def _hinge_gaps(blank: Blank) -> list[float]:
    """How far each flap's fold lies from the nearest fold of a wall that runs the same way."""
    found = []
    for hinges, walls, long in (
        (blank.flap_marks_x, blank.marks_x, blank.x_mm),
        (blank.flap_marks_y, blank.marks_y, blank.y_mm),
    ):
        inner = [mark for mark in walls if SAME_LINE_MM < mark < long - SAME_LINE_MM]
        gaps = [min((abs(hinge - wall) for wall in inner), default=0.0) for hinge in hinges]
        found += [gap for gap in gaps if gap > 0.05]  # less shows on no rule
    return found
