"""What is known of an object, or of all objects of a box, when a design is chosen for it."""

from dataclasses import dataclass, field
from enum import StrEnum
from functools import cached_property

type Sides = tuple[float | None, float | None, float | None]

# All of these: common practice, no source.
FLAT = 8.0  # the middle side over the thinnest, at least
TALL = 2.0  # the height over the narrower side of the base, at least
LONG = 3.0  # the largest side over the middle one, at least
COMPACT = 2.0  # the largest side over the thinnest, at most


class Shape(StrEnum):
    """What the sides of an object come to; the keys are those of the stored rules."""

    FLAT = "flat"
    TALL = "tall"
    LONG = "long"
    COMPACT = "compact"


class Flag(StrEnum):
    """What else a rule may ask about an object; the keys are those of the stored rules."""

    PROJECTING = "projecting"
    DELICATE = "delicate"
    UNSTABLE = "unstable"
    HAZARDOUS = "hazardous"
    SEVERAL = "several"
    OFTEN_USED = "often_used"
    MUST_STAND = "must_stand"


def shape_of(height_mm: float, width_mm: float, depth_mm: float) -> Shape | None:
    """The shape of an object by its sides, mm; None where no word fits.

    Tried in this order: flat, the thinnest side at most an eighth of the middle one; tall, the height the
    largest side and at least twice the narrower side of the base; long, the largest side at least three times
    the middle one; compact, the largest side at most twice the thinnest.
    Source: common practice, no source.
    """
    thin, middle, large = sorted((height_mm, width_mm, depth_mm))
    if thin * FLAT <= middle:
        return Shape.FLAT
    if height_mm == large and height_mm >= TALL * min(width_mm, depth_mm):
        return Shape.TALL
    if large >= LONG * middle:
        return Shape.LONG
    return Shape.COMPACT if large <= COMPACT * thin else None


@dataclass(frozen=True)
class ObjectFacts:
    """What the rules look at.

    sides_mm: height, width and depth, None where not known. weight_g: as far as weighed, None where nothing
    is; is_weight_whole: whether everything was weighed. so: flags that hold; unknown: flags on which nothing
    is recorded.
    """

    classification: str = ""
    materials: str = ""
    sides_mm: Sides = (None, None, None)
    weight_g: float | None = None
    is_weight_whole: bool = True
    so: frozenset[str] = field(default_factory=frozenset)
    unknown: frozenset[str] = field(default_factory=frozenset)

    @cached_property
    def known_mm(self) -> tuple[float, ...]:
        """The sides that are known, the thinnest first."""
        return tuple(sorted(side for side in self.sides_mm if side is not None))

    @property
    def is_measured(self) -> bool:
        return len(self.known_mm) == len(self.sides_mm)

    @cached_property
    def shape(self) -> Shape | None:
        """Flat, tall, long or compact; None where no word fits or a side is not known."""
        height, width, depth = self.sides_mm
        if height is None or width is None or depth is None:
            return None
        return shape_of(height, width, depth)

    @cached_property
    def folded_materials(self) -> str:
        return " ".join(self.materials.casefold().split())

    @cached_property
    def folded_classification(self) -> str:
        return self.classification.strip().casefold()
