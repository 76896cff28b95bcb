"""The flat blank: every line, mark and figure the maker needs of one part."""

import math
from dataclasses import dataclass
from functools import cached_property

# Positions closer than this are one line: far below what a knife can follow, far above rounding error.
SAME_LINE_MM = 1e-6

INSIDE = "inside"
OUTSIDE = "outside"


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line on the blank, ends in mm from its near left corner."""

    x1: float
    y1: float
    x2: float
    y2: float

    @property
    def length_mm(self) -> float:
        return abs(self.x2 - self.x1) + abs(self.y2 - self.y1)

    @property
    def is_upright(self) -> bool:
        return self.x1 == self.x2


@dataclass(frozen=True, slots=True)
class Score(Line):
    """A score line: the panel it folds up, the panel that one hangs on and at which edge, and when.

    is_flap tells a flap's hinge from a wall's fold. stage: folded in the order of the numbers.
    """

    panel: str
    is_flap: bool
    parent: str = ""
    edge: str = ""
    stage: int = 0


@dataclass(frozen=True, slots=True)
class Rectangle:
    """A rectangle on the blank: a panel or a piece of waste, in mm from the near left corner."""

    name: str
    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float

    @property
    def area_mm2(self) -> float:
        return self.width_mm * self.height_mm


@dataclass(frozen=True, slots=True)
class CutOut(Rectangle):
    """An opening within its rectangle; panel: which it lies in; shape: see panels.Shape.

    open_edge: the edge of its rectangle that lies on the panel's rim, of a notch and of a slot cut from an
    edge; "" for an opening within the panel.
    """

    panel: str
    shape: str
    open_edge: str = ""

    @property
    def area_mm2(self) -> float:
        wide, high = self.width_mm, self.height_mm
        match self.shape:
            case "slit":
                return 0.0
            case "round":
                return math.pi / 4 * wide * high
            case "notch":
                return math.pi / 4 * wide * high
            case "slot":
                small = min(wide, high)
                return wide * high - (1 - math.pi / 4) * small * small
            case _:
                return wide * high

    @property
    def cut_length_mm(self) -> float:
        """Length of the cut; of a notch half the circumference of its ellipse (Ramanujan's formula)."""
        wide, high = self.width_mm, self.height_mm
        match self.shape:
            case "slit":
                return max(wide, high)
            case "round":
                return _circumference(wide / 2, high / 2)
            case "notch":
                upright = self.open_edge in ("left", "right")
                half, deep = (high / 2, wide) if upright else (wide / 2, high)
                return _circumference(half, deep) / 2
            case "slot":
                small = min(wide, high)
                return math.pi * small + 2 * (max(wide, high) - small)
            case _:
                open_side = {"": 0.0, "left": high, "right": high}.get(self.open_edge, wide)
                return 2 * (wide + high) - open_side


def _circumference(a: float, b: float) -> float:
    """Circumference of an ellipse of half axes a and b, to about 1 in 10 000. Source: Ramanujan 1914."""
    return math.pi * (3 * (a + b) - math.sqrt((3 * a + b) * (a + 3 * b)))


@dataclass(frozen=True)
class Blank:
    """A flat blank, everything in mm from its near left corner, inside face up.

    cuts: the lines cut inside the bounding rectangle (slits beside the flaps, trims of the corners).
    openings: what is cut out within panels.
    marks_x, marks_y: running marks of the wall scores from the corner along both edges, ends included.
    flap_marks_x, flap_marks_y: positions of the flap hinges. trim_marks_x, trim_marks_y: where flaps end.
    """

    x_mm: float
    y_mm: float
    panels: tuple[Rectangle, ...]
    waste: tuple[Rectangle, ...]
    cuts: tuple[Line, ...]
    scores: tuple[Score, ...]
    marks_x: tuple[float, ...]
    marks_y: tuple[float, ...]
    flap_marks_x: tuple[float, ...]
    flap_marks_y: tuple[float, ...]
    trim_marks_x: tuple[float, ...]
    trim_marks_y: tuple[float, ...]
    flute_along: str
    glue_joints: int
    glue_length_mm: float
    openings: tuple[CutOut, ...] = ()

    @property
    def gross_area_mm2(self) -> float:
        return self.x_mm * self.y_mm

    @cached_property
    def board_area_mm2(self) -> float:
        """What stays in the part: all panels without their openings."""
        panels = sum(panel.width_mm * panel.height_mm for panel in self.panels)
        return panels - sum(opening.area_mm2 for opening in self.openings)

    @property
    def outline_length_mm(self) -> float:
        return 2 * (self.x_mm + self.y_mm)

    @cached_property
    def cut_length_mm(self) -> float:
        """All cuts inside the bounding rectangle, those of the openings included."""
        lines = sum(abs(cut.x2 - cut.x1) + abs(cut.y2 - cut.y1) for cut in self.cuts)
        return lines + sum(opening.cut_length_mm for opening in self.openings)

    @cached_property
    def score_length_mm(self) -> float:
        return sum(abs(score.x2 - score.x1) + abs(score.y2 - score.y1) for score in self.scores)

    @property
    def folds(self) -> int:
        return len(self.scores)

    @property
    def along_mm(self) -> float:
        """Size along the flutes."""
        return self.x_mm if self.flute_along == "x" else self.y_mm

    @property
    def across_mm(self) -> float:
        """Size across the flutes."""
        return self.y_mm if self.flute_along == "x" else self.x_mm

    @property
    def corner_waste(self) -> list[tuple[float, float, int]]:
        """Sizes of what falls off at the edges, width and height in mm, each with how many there are."""
        counted: dict[tuple[float, float], int] = {}
        for piece in self.waste:
            size = round(piece.width_mm, 4), round(piece.height_mm, 4)
            counted[size] = counted.get(size, 0) + 1
        return [(*size, count) for size, count in counted.items()]
