"""How a blank is marked out on the board: with or without compensation, and to which step of the rule."""

from dataclasses import dataclass

from housing.core.clearances import INCH
from housing.core.errors import SizeRefused

COMPENSATED = "compensated"
NOMINAL = "nominal"
STEPS_MM = {"": 0.0, "1/16 in": INCH / 16, "1/8 in": INCH / 8, "1 mm": 1.0}


@dataclass(frozen=True, slots=True)
class MarkingOut:
    """The maker's way of drawing a blank.

    drawn: "compensated" moves the scores so that the clear inside is what was asked; "nominal" draws the
        wanted size straight on the board, as hand practice does, and the inside comes out smaller.
    step_mm: positions are rounded to this step of the rule, 0 for no rounding. A position is rounded, never
        a panel, so that errors do not add up; and no panel comes out smaller than it was worked out.
    Raises SizeRefused for another way of drawing or a negative step.
    """

    drawn: str = COMPENSATED
    step_mm: float = 0.0

    def __post_init__(self) -> None:
        if self.drawn not in (COMPENSATED, NOMINAL):
            raise SizeRefused(f"A blank is drawn “compensated” or “nominal”, not “{self.drawn}”.")
        if self.step_mm < 0:
            raise SizeRefused(f"The rounding step is {self.step_mm:g} mm; it must be 0 (none) or above.")

    @property
    def is_compensated(self) -> bool:
        return self.drawn == COMPENSATED
