"""What the computation needs to know of a board."""

from dataclasses import dataclass

from objects.core.refusals import Refusal
from objects.core.words import say


class BoardRefused(Refusal):
    """A board's figures are impossible; the message says which."""


@dataclass(frozen=True)
class BoardSpec:
    """A board as the geometry sees it.

    caliper_mm: thickness, above 0.
    fold_share: share of one caliper lost on the inside at each right-angle fold, from 0 (cut-scored on the
        outside, folded away from the cut) over 0.5 (creased) to 1 (relieved from the inside), no unit.
    grammage_g_m2: mass of the board, None when not known.
    is_fluted: corrugated board has flutes and so a direction; solid board has a grain instead.
    Raises BoardRefused for a caliper at or below 0 or a share outside 0 to 1.
    Source: the creased case (0.5) reproduces the inside and outside additions packaging makers state for
        C-flute cases (3/16, 3/8, 5/16 and 5/8 in at a caliper of 5/32 in).
    """

    caliper_mm: float
    fold_share: float = 0.5
    grammage_g_m2: float | None = None
    is_fluted: bool = True

    def __post_init__(self) -> None:
        if not self.caliper_mm > 0:
            raise BoardRefused(
                say(
                    "The board's caliper is {caliper_mm:g} mm; it must be above 0. Measure it and "
                    "correct it.",
                    caliper_mm=self.caliper_mm,
                )
            )
        if not 0 <= self.fold_share <= 1:
            raise BoardRefused(
                say(
                    "The board's fold share is {fold_share:g}; it must lie between 0 and 1.",
                    fold_share=self.fold_share,
                )
            )
