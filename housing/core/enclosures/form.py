"""What every enclosure form declares: its name, whom it suits, and how to build its panel trees."""

from collections.abc import Callable
from dataclasses import dataclass

from boards.core.board import BoardSpec
from housing.core.clearances import INCH, InnerSize
from housing.core.errors import SizeRefused
from housing.core.panels import PanelTree

COMPENSATED = "compensated"
NOMINAL = "nominal"


@dataclass(frozen=True)
class FormOptions:
    """Choices a maker has, lengths in mm.

    flap_width_mm: glued corner flap after trimming, None for the trade's default.
    flaps_on_long_walls: the flaps grow from the long walls and are glued outside the short ones.
    lid_depth_mm: skirt of the lid. lid_clearance_mm: gap on each side between base and lid.
    drawn: "compensated" moves the scores so that the clear inside is what was asked; "nominal" draws the
        wanted size straight on the board, as hand practice does, and the inside comes out smaller.
    Source: 2 1/2 in flaps, 1/8 in a side for the lid and a 3 1/2 in skirt are common practice, no source.
    """

    flap_width_mm: float | None = None
    flaps_on_long_walls: bool = True
    lid_depth_mm: float = 3.5 * INCH
    lid_clearance_mm: float = INCH / 8
    drawn: str = COMPENSATED

    def __post_init__(self) -> None:
        if self.flap_width_mm is not None and not self.flap_width_mm > 0:
            raise SizeRefused(f"The flap width is {self.flap_width_mm:g} mm; it must be above 0.")
        if not self.lid_depth_mm > 0:
            raise SizeRefused(f"The lid depth is {self.lid_depth_mm:g} mm; it must be above 0.")
        if self.lid_clearance_mm < 0:
            raise SizeRefused(
                f"The lid clearance is {self.lid_clearance_mm:g} mm a side; a negative one would not go on."
            )
        if self.drawn not in (COMPENSATED, NOMINAL):
            raise SizeRefused(f"A blank is drawn “compensated” or “nominal”, not “{self.drawn}”.")


@dataclass(frozen=True)
class BuiltForm:
    """Panel trees of an enclosure by part name, the part that holds the object first, and notes."""

    trees: tuple[tuple[str, PanelTree], ...]
    notes: tuple[str, ...] = ()


@dataclass(frozen=True)
class Form:
    """An enclosure form of the trade: key and name, one sentence on what it suits, and its builder."""

    key: str
    name: str
    suits: str
    has_lid: bool
    build: Callable[[InnerSize, BoardSpec, FormOptions], BuiltForm]
