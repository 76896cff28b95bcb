"""The panel tree closed: clear inside and outside size of a folded part."""

from dataclasses import dataclass

from boards.core.board import BoardSpec
from housing.core.panels import Edge, PanelTree


@dataclass(frozen=True)
class Box3:
    """Sides of a box in mm: x along the front, y front to back, z upward."""

    x_mm: float
    y_mm: float
    z_mm: float


@dataclass(frozen=True)
class ClosedPart:
    """A folded part: its clear inside and its outside, mm."""

    inside: Box3
    outside: Box3


def close(tree: PanelTree, board: BoardSpec) -> ClosedPart:
    """Fold the walls up by a right angle and measure inside and outside.

    tree: a floor with walls folded from its edges, mm. board: caliper in mm and fold share.
    Returns clear inside and outside, mm. Each fold takes fold share x caliper from the inside and gives the
    rest of the caliper to the outside; each wall that receives glued flaps grows one caliper outward.
    Source: fold model anchored on stated additions for creased cases (see boards/core/board.py);
        worked values in tests/housing/core/test_folding.py.
    """
    lost = board.fold_share * board.caliper_mm
    gained = (1 - board.fold_share) * board.caliper_mm
    walls = {fold.edge: fold.panel for fold in tree.floor.folds}
    wrapped = {joint.wall for joint in tree.joints}

    def across(size: float, edges: tuple[Edge, Edge]) -> tuple[float, float]:
        inside = outside = size
        for edge in edges:
            if edge in walls:
                inside -= lost
                outside += gained
                outside += board.caliper_mm if walls[edge].name in wrapped else 0.0
        return inside, outside

    inside_x, outside_x = across(tree.floor.x_mm, (Edge.LEFT, Edge.RIGHT))
    inside_y, outside_y = across(tree.floor.y_mm, (Edge.NEAR, Edge.FAR))
    rises = [p.x_mm if edge.is_upright else p.y_mm for edge, p in walls.items()]
    return ClosedPart(
        inside=Box3(inside_x, inside_y, min(rises) - lost if rises else 0.0),
        outside=Box3(outside_x, outside_y, max(rises) + gained if rises else board.caliper_mm),
    )
