"""The blank folded up in space: plates of real thickness, the clear inside they leave and their outside."""

from dataclasses import dataclass

from boards.core.board import BoardSpec
from housing.core.blank import Blank

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

    bounds: its corners nearest to and farthest from the origin, mm; the origin is the floor's near left corner
    at the height of its inner face. parent: the panel it is folded from, "" for the floor.
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
    floor: as far as the plates that are met there, and where none is met as far as the part itself reaches;
    upward no farther than the lowest wall that bounds it.
    Source: rigid rotation; the fold model is anchored on stated additions for creased cases
        (boards/core/board.py), worked values are in tests/housing/core/test_folding.py.
    """
    plates = _plates(blank, board.caliper_mm, board.fold_share * board.caliper_mm)
    boxes = [plate.bounds for plate in plates]
    bounds: Bounds = (
        min(box[0] for box in boxes), min(box[1] for box in boxes), min(box[2] for box in boxes),
        max(box[3] for box in boxes), max(box[4] for box in boxes), max(box[5] for box in boxes),
    )  # fmt: skip
    return Folded(tuple(plates), _clear(boxes), bounds)


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


def _clear(boxes: list[Bounds]) -> Bounds:
    """The free box above the middle of the floor; see fold."""
    floor = boxes[0]
    x, y = (floor[0] + floor[3]) / 2, (floor[1] + floor[4]) / 2
    above = [box for box in boxes[1:] if box[0] < x < box[3] and box[1] < y < box[4] and box[2] > -1e-6]
    roof = min((box[2] for box in above), default=None)
    # Low enough to meet the lowest wall: just above the floor's inner face.
    z = min((box[5] for box in boxes if box[5] > 0.0), default=0.0) * 1e-3
    tops = []
    left = right = near = far = None
    for box in boxes[1:]:
        if not box[2] <= z <= box[5]:
            continue
        if box[1] < y < box[4]:
            if box[3] <= x:
                left = box[3] if left is None or box[3] > left else left
                tops.append(box[5])
            elif box[0] >= x:
                right = box[0] if right is None or box[0] < right else right
                tops.append(box[5])
        elif box[0] < x < box[3]:
            if box[4] <= y:
                near = box[4] if near is None or box[4] > near else near
                tops.append(box[5])
            elif box[1] >= y:
                far = box[1] if far is None or box[1] < far else far
                tops.append(box[5])
    top = roof if roof is not None else min(tops, default=0.0)
    return (
        floor[0] if left is None else left, floor[1] if near is None else near, 0.0,
        floor[3] if right is None else right, floor[4] if far is None else far, top,
    )  # fmt: skip
