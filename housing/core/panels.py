"""The panel tree: flat panels joined at folds, from which everything else about a part is derived."""

from dataclasses import dataclass
from enum import StrEnum


class Edge(StrEnum):
    """Edge of a panel as it lies flat, inside face up: x to the right, y away from the maker."""

    LEFT = "left"
    RIGHT = "right"
    NEAR = "near"
    FAR = "far"

    @property
    def is_upright(self) -> bool:
        """Whether a fold at this edge runs along y."""
        return self is Edge.LEFT or self is Edge.RIGHT


class Align(StrEnum):
    """Where a panel lies along the edge it is folded from: start is the left or the near end."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


class Shape(StrEnum):
    """Outline of an opening within its rectangle."""

    RECTANGLE = "rectangle"
    SLOT = "slot"  # half circles at both ends of its longer side, as of a hand hole
    ROUND = "round"
    NOTCH = "notch"  # half an ellipse, open at the panel's free edge
    SLIT = "slit"  # a single cut that takes nothing away, as for a tie


@dataclass(frozen=True, slots=True)
class Opening:
    """A cut-out of a panel, mm as drawn; nothing is added for the board.

    along_mm, out_mm: its size along the fold and away from it (for a floor: along x and along y).
    at_along_mm, at_out_mm: where its middle lies, from the panel's left or near end and from the fold;
        None for the middle of the panel. From the rim instead of the fold where `from_rim`.
    """

    name: str
    shape: Shape
    along_mm: float
    out_mm: float
    at_along_mm: float | None = None
    at_out_mm: float | None = None
    from_rim: bool = False


@dataclass(frozen=True, slots=True)
class Panel:
    """A rectangular panel and the panels folded up from its edges, by a right angle towards the inside.

    reach_mm: clear size away from the fold. along_mm: clear size along the fold, None for as long as the
        edge it is folded from. Of a floor, which has no fold of its own, they lie along y and x. "Clear" is
        what is free between the inner faces at both its ends once all is folded; the engine adds what the
        board takes up at each fold, so that a form holds no constant of the board.
    edge: of the panel it is folded from, None for a floor. align: where along that edge it lies.
    is_flap: a glued or tucked flap. Its reach is as it is trimmed, counted from its own score.
    stage: when it is folded, in the order of the numbers.
    """

    name: str
    reach_mm: float
    along_mm: float | None = None
    edge: Edge | None = None
    panels: "tuple[Panel, ...]" = ()
    is_flap: bool = False
    align: Align = Align.MIDDLE
    stage: int = 0
    openings: tuple[Opening, ...] = ()


@dataclass(frozen=True, slots=True)
class GlueJoint:
    """A flap glued face to face to another panel, or with `is_edge` a panel's own edge glued to a face.

    Its length is that of the flap's fold; of an edge joint the panel's reach.
    """

    flap: str
    to: str
    is_edge: bool = False


@dataclass(frozen=True, slots=True)
class PanelTree:
    """One part of an enclosure before it is folded: its panels from the floor outwards, and its glue joints.

    flute_along: "x" or "y", the axis of the flat part along which flutes or grain run.
    """

    floor: Panel
    joints: tuple[GlueJoint, ...] = ()
    flute_along: str = "y"


# Where a panel lies on the flat: the panel, the index of the one it is folded from (-1 for the floor), and
# its near left and far right corner, x0, y0, x1, y1 in mm.
type Place = tuple[Panel, int, float, float, float, float]
