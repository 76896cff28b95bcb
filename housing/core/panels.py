"""The panel tree: flat panels joined at folds, from which everything else about a part is derived."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple


class Edge(StrEnum):
    """Edge of a panel as it lies flat, inside face up: x to the right, y away from the maker."""

    LEFT = "left"
    RIGHT = "right"
    NEAR = "near"
    FAR = "far"

    @property
    def is_upright(self) -> bool:
        """Whether a fold at this edge runs along y."""
        return self in (Edge.LEFT, Edge.RIGHT)


@dataclass(frozen=True)
class Panel:
    """A rectangular panel lying flat, sides in mm, with the panels folded up from its edges."""

    name: str
    x_mm: float
    y_mm: float
    folds: "tuple[Fold, ...]" = ()


@dataclass(frozen=True)
class Fold:
    """A right-angle fold that joins a further panel to an edge.

    start_mm: where the further panel begins along the edge, from the edge's left or near end; negative when
        it stands out beyond the edge, as a wall does whose flaps wrap round the outside.
    """

    edge: Edge
    panel: Panel
    start_mm: float = 0.0


@dataclass(frozen=True)
class GlueJoint:
    """A flap glued to the outside of a wall; length_mm is the height of the glued face."""

    flap: str
    wall: str
    length_mm: float


@dataclass(frozen=True)
class PanelTree:
    """One part of an enclosure before it is folded: its panels from the floor outwards, and its glue joints.

    flute_along: "x" or "y", the axis of the flat part along which flutes or grain run.
    """

    floor: Panel
    joints: tuple[GlueJoint, ...] = ()
    flute_along: str = "y"


class PlacedPanel(NamedTuple):
    """A panel where it lies on the flat, corners in mm from the floor's near left corner."""

    panel: Panel
    parent: str | None
    fold_edge: Edge | None
    x0: float
    y0: float
    x1: float
    y1: float


def placed_panels(tree: PanelTree) -> Iterator[PlacedPanel]:
    """Every panel of the tree where it lies on the flat, the floor first.

    Yields positions in mm from the floor's near left corner (so walls may lie at negative positions).
    Source: plane geometry.
    """
    floor = PlacedPanel(tree.floor, None, None, 0.0, 0.0, tree.floor.x_mm, tree.floor.y_mm)
    waiting = [floor]
    while waiting:
        place = waiting.pop(0)
        yield place
        waiting.extend(_beside(place, fold) for fold in place.panel.folds)


def _beside(place: PlacedPanel, fold: Fold) -> PlacedPanel:
    panel = fold.panel
    if fold.edge.is_upright:
        y0 = place.y0 + fold.start_mm
        x0 = place.x0 - panel.x_mm if fold.edge is Edge.LEFT else place.x1
    else:
        x0 = place.x0 + fold.start_mm
        y0 = place.y0 - panel.y_mm if fold.edge is Edge.NEAR else place.y1
    return PlacedPanel(panel, place.panel.name, fold.edge, x0, y0, x0 + panel.x_mm, y0 + panel.y_mm)
