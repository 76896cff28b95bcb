"""The plates of folded parts as boxes and outlines in space, ready to be drawn."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from housing.core.blank import Blank, CutOut, Rectangle
from housing.core.drawing.openings import outline
from housing.core.enclosures.form import Part
from housing.core.enclosures.seating import STAY, Turn
from housing.core.folding import Bounds, Folded, Plate

type Point3 = tuple[float, float, float]

NARROW = 2.0  # openings no wider than so many thicknesses are slots that another part fills


@dataclass(frozen=True)
class Solids:
    """Boxes that may press into one another, outlines on their faces, and where an opening breaks a rim.

    boxes: mm. outlines: points of lines drawn on faces towards the eye, mm. mouths: boxes in which no edge is
    drawn, because an opening runs out over the rim there.
    """

    boxes: list[Bounds] = field(default_factory=list)
    outlines: list[list[Point3]] = field(default_factory=list)
    mouths: list[Bounds] = field(default_factory=list)

    def add(self, other: "Solids") -> None:
        self.boxes.extend(other.boxes)
        self.outlines.extend(other.outlines)
        self.mouths.extend(other.mouths)


def solids_of(part: Part, turn: Turn = STAY) -> Solids:
    """The plates of a part, its corners filled square and its openings cut, moved to their place.

    part: flat and folded, mm. turn: where it goes. Returns mm.
    Openings with straight sides are cut through; rounded ones and slits are outlines on the face seen.
    """
    found = Solids()
    openings: dict[str, list[CutOut]] = {}
    for opening in part.blank.openings:
        openings.setdefault(opening.panel, []).append(opening)
    for plate in part.folded.plates:
        pieces = [plate.bounds]
        for opening in openings.get(plate.name, ()):
            box = opening_box(opening, plate, part.blank)
            thick = plate.bounds[plate.across + 3] - plate.bounds[plate.across]
            if opening.shape != "rectangle":
                flat = _outline(opening, plate, part.blank, turn)
                found.outlines.append([turn_point(turn, point) for point in flat])
                if opening.open_edge:
                    found.mouths.append(turn.of(box))
            elif min(opening.width_mm, opening.height_mm) > NARROW * thick:
                pieces = [rest for piece in pieces for rest in _without(piece, box, plate.across)]
        found.boxes.extend(turn.of(piece) for piece in pieces)
    found.boxes.extend(turn.of(corner) for corner in _corners(part.folded))
    return found


def opening_box(opening: CutOut, plate: Plate, blank: Blank) -> Bounds:
    """An opening of a folded panel as the box it takes out of its plate, mm."""
    panel = _panel(plate, blank)
    low, high = list(plate.bounds[:3]), list(plate.bounds[3:])
    for runs, start, long in (
        (plate.x_runs, opening.x_mm - panel.x_mm, opening.width_mm),
        (plate.y_runs, opening.y_mm - panel.y_mm, opening.height_mm),
    ):
        ends = _along(plate, runs, start), _along(plate, runs, start + long)
        low[abs(runs) - 1], high[abs(runs) - 1] = min(ends), max(ends)
    return (low[0], low[1], low[2], high[0], high[1], high[2])


def turn_point(turn: Turn, point: Point3) -> Point3:
    """A point moved."""
    x, y, z = (
        sign * point[axis] + shift
        for axis, sign, shift in zip(turn.axes, turn.signs, turn.shift, strict=True)
    )
    return x, y, z


def _corners(folded: Folded) -> Iterable[Bounds]:
    """The square corner at each fold, which the fold leaves open outside or presses together inside."""
    plates = {plate.name: plate for plate in folded.plates}
    for plate in folded.plates:
        if not plate.parent:
            continue
        parent = plates[plate.parent]
        low, high = [0.0] * 3, [0.0] * 3
        for axis in range(3):
            spans = [
                (each.bounds[axis], each.bounds[axis + 3])
                for each in (parent, plate)
                if each.across == axis or axis not in (parent.across, plate.across)
            ]
            low[axis], high[axis] = max(span[0] for span in spans), min(span[1] for span in spans)
        if all(a < b for a, b in zip(low, high, strict=True)):
            yield (low[0], low[1], low[2], high[0], high[1], high[2])


def _without(box: Bounds, hole: Bounds, across: int) -> Iterable[Bounds]:
    """What a hole through a plate leaves of it: up to four boxes around the hole."""
    u, v = (axis for axis in range(3) if axis != across)
    if (
        hole[u] >= box[u + 3] or hole[u + 3] <= box[u] or hole[v] >= box[v + 3] or hole[v + 3] <= box[v]
    ):  # fmt: skip
        yield box
        return
    inner_u = max(box[u], hole[u]), min(box[u + 3], hole[u + 3])
    for span_u, span_v in (
        ((box[u], hole[u]), (box[v], box[v + 3])),
        ((hole[u + 3], box[u + 3]), (box[v], box[v + 3])),
        (inner_u, (box[v], hole[v])),
        (inner_u, (hole[v + 3], box[v + 3])),
    ):
        if span_u[0] < span_u[1] and span_v[0] < span_v[1]:
            rest = list(box)
            rest[u], rest[u + 3] = span_u
            rest[v], rest[v + 3] = span_v
            yield (rest[0], rest[1], rest[2], rest[3], rest[4], rest[5])


def _outline(opening: CutOut, plate: Plate, blank: Blank, turn: Turn) -> list[Point3]:
    """The line around an opening on the face of its plate that is turned to the eye, before it is moved."""
    across = plate.across
    to_axis = turn.axes.index(across)
    # The eye is at the right, in front and above: it sees faces to the right, to the front and upward.
    is_high = (turn.signs[to_axis] > 0) == (to_axis != 1)
    level = plate.bounds[across + 3 if is_high else across]
    panel = _panel(plate, blank)
    flat = outline(opening)
    found = []
    for x, y in flat if opening.shape in ("slit", "notch") else [*flat, flat[0]]:
        point = [level, level, level]
        point[abs(plate.x_runs) - 1] = _along(plate, plate.x_runs, x - panel.x_mm)
        point[abs(plate.y_runs) - 1] = _along(plate, plate.y_runs, y - panel.y_mm)
        found.append((point[0], point[1], point[2]))
    return found


def _panel(plate: Plate, blank: Blank) -> Rectangle:
    return next(panel for panel in blank.panels if panel.name == plate.name)


def _along(plate: Plate, runs: int, way_mm: float) -> float:
    """A coordinate in space of a place on a flat panel, so far from its left or near edge."""
    axis = abs(runs) - 1
    return plate.bounds[axis] + way_mm if runs > 0 else plate.bounds[axis + 3] - way_mm


def around(boxes: Sequence[Bounds]) -> Bounds:
    """The least box around some boxes."""
    x0s, y0s, z0s, x1s, y1s, z1s = zip(*boxes, strict=True)
    return min(x0s), min(y0s), min(z0s), max(x1s), max(y1s), max(z1s)
