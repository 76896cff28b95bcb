"""The blank folded up in space: plates of real thickness, the clear inside they leave and their outside."""

import math
from dataclasses import dataclass

from boards.core.board import BoardSpec
from housing.core.blank import Blank

NEAR_MM = 1e-6  # less is rounding error

type Vector = tuple[float, float, float]
type Bounds = tuple[float, float, float, float, float, float]  # x0, y0, z0, x1, y1, z1


@dataclass(frozen=True, slots=True)
class Box3:
    """Sides of a box in mm: x along the front, y front to back, z upward."""

    x_mm: float
    y_mm: float
    z_mm: float


@dataclass(frozen=True, slots=True)
class Plate:
    """A panel as it stands once folded, a plate as thick as the board.

    bounds: its corners nearest to and farthest from the origin, mm; the origin is the floor's near left
    corner at the height of its inner face. parent: the panel it is folded from, "" for the floor.
    x_runs, y_runs: where the flat blank's x and y run in space: 1, 2, 3 for x, y, z, negative when backwards.
    """

    name: str
    parent: str
    bounds: Bounds
    x_runs: int
    y_runs: int

    @property
    def across(self) -> int:
        """The axis through the board, 0 to 2."""
        return 5 - abs(self.x_runs) - abs(self.y_runs)


@dataclass(frozen=True, slots=True)
class Folded:
    """A folded part: its plates, and the bounds of its clear inside and of its outside, mm."""

    plates: tuple[Plate, ...]
    clear: Bounds
    bounds: Bounds

    @property
    def inside(self) -> Box3:
        return sides_of(self.clear)

    @property
    def outside(self) -> Box3:
        return sides_of(self.bounds)


def sides_of(bounds: Bounds) -> Box3:
    """Sides of a box given by its corners, mm."""
    x0, y0, z0, x1, y1, z1 = bounds
    return Box3(x1 - x0, y1 - y0, z1 - z0)


def fold(blank: Blank, board: BoardSpec) -> Folded:
    """Fold a blank along its scores and measure what comes out.

    blank: as drawn, mm, inside face up. board: caliper in mm and fold share.
    Each panel turns by a right angle about an axis that lies fold share x caliper below the inner face, under
    the score: so much is lost inside, the rest of the caliper is gained outside.
    Returns plates, clear inside and outside, mm. The clear inside is what is free above the middle of the
    floor: as far as the walls that are met there, and where none is met as far as the floor itself reaches;
    upward as far as the lowest plate that lies above, or the rim of the lowest of those walls.
    Source: rigid rotation; the fold model is anchored on stated additions for creased cases
        (boards/core/board.py), worked values are in tests/housing/core/test_folding.py.
    """
    plates = _plates(blank, board.caliper_mm, board.fold_share * board.caliper_mm)
    boxes = [plate.bounds for plate in plates]
    bounds: Bounds = (
        min(box[0] for box in boxes), min(box[1] for box in boxes), min(box[2] for box in boxes),
        max(box[3] for box in boxes), max(box[4] for box in boxes), max(box[5] for box in boxes),
    )  # fmt: skip
    return Folded(tuple(plates), _clear(plates), bounds)


def _plates(blank: Blank, caliper: float, depth: float) -> list[Plate]:
    """Plates by rotating frame after frame: each has an origin on its inner face and three unit vectors."""
    floor = blank.panels[0]
    rectangles = {panel.name: panel for panel in blank.panels}
    # A panel's frame maps its flat position (x, y) to origin + x u + y v; n points away from the inner face.
    frames: dict[str, tuple[Vector, Vector, Vector, Vector]] = {
        floor.name: (
            (-floor.x_mm, -floor.y_mm, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)
        )
    }  # fmt: skip
    plates = [Plate(floor.name, "", (0.0, 0.0, -caliper, floor.width_mm, floor.height_mm, 0.0), 1, 2)]
    for score in blank.scores:
        (ox, oy, oz), u, v, n = frames[score.parent]
        out, sign, at = (
            (u, -1.0, score.x1) if score.edge == "left"
            else (u, 1.0, score.x1) if score.edge == "right"
            else (v, -1.0, score.y1) if score.edge == "near"
            else (v, 1.0, score.y1)
        )  # fmt: skip
        # Turning up: what pointed out (sign x out) now points along n, and n now points back.
        back = (-sign * out[0], -sign * out[1], -sign * out[2])
        turned = (sign * n[0], sign * n[1], sign * n[2])
        # The point of the inner face above the score, moved by the rotation about the axis below it.
        hx = ox + at * out[0] - depth * n[0] + depth * back[0] - at * turned[0]
        hy = oy + at * out[1] - depth * n[1] + depth * back[1] - at * turned[1]
        hz = oz + at * out[2] - depth * n[2] + depth * back[2] - at * turned[2]
        if out is u:
            u = turned
        else:
            v = turned
        n = back
        frames[score.panel] = (hx, hy, hz), u, v, n
        panel = rectangles[score.panel]
        px, py, wide, high = panel.x_mm, panel.y_mm, panel.width_mm, panel.height_mm
        x0, y0, z0 = hx + px * u[0] + py * v[0], hy + px * u[1] + py * v[1], hz + px * u[2] + py * v[2]
        x1 = x0 + wide * u[0] + high * v[0] - caliper * n[0]
        y1 = y0 + wide * u[1] + high * v[1] - caliper * n[1]
        z1 = z0 + wide * u[2] + high * v[2] - caliper * n[2]
        plates.append(
            Plate(
                score.panel, score.parent,
                (
                    x0 if x0 < x1 else x1, y0 if y0 < y1 else y1, z0 if z0 < z1 else z1,
                    x1 if x0 < x1 else x0, y1 if y0 < y1 else y0, z1 if z0 < z1 else z0,
                ),
                _runs(u), _runs(v),
            )
        )  # fmt: skip
    return plates


def _runs(unit: Vector) -> int:
    x, y, z = unit
    return round(x) if x else 2 * round(y) if y else 3 * round(z)


def _clear(plates: list[Plate]) -> Bounds:
    """The free box above the middle of the floor; see fold."""
    floor = plates[0].bounds
    x, y = (floor[0] + floor[3]) / 2, (floor[1] + floor[4]) / 2
    walls = [plate.bounds for plate in plates[1:] if plate.across != 2 and plate.bounds[5] > 0.0]
    # Half as high as the lowest wall: above flaps that lie on the floor, below every rim.
    level = min((wall[5] for wall in walls), default=0.0) / 2
    left, near, right, far = -math.inf, -math.inf, math.inf, math.inf
    rim = math.inf
    for x0, y0, z0, x1, y1, z1 in walls:
        if z0 > level:
            continue
        if y0 < y < y1:
            if x1 <= x:
                left, rim = max(left, x1), min(rim, z1)
            elif x0 >= x:
                right, rim = min(right, x0), min(rim, z1)
        elif x0 < x < x1:
            if y1 <= y:
                near, rim = max(near, y1), min(rim, z1)
            elif y0 >= y:
                far, rim = min(far, y0), min(rim, z1)
    left, near = max(left, floor[0]), max(near, floor[1])
    right, far = min(right, floor[3]), min(far, floor[4])
    for plate in plates[1:]:
        x0, y0, z0, x1, y1, _ = plate.bounds
        is_over = min(x1, right) - max(x0, left) > NEAR_MM and min(y1, far) - max(y0, near) > NEAR_MM
        if plate.across == 2 and z0 > -NEAR_MM and is_over:
            rim = min(rim, z0)
    return left, near, 0.0, right, far, rim if rim < math.inf else 0.0
