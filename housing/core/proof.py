"""The proof of an enclosure: folded in space, its inside measured, its plates and joints looked at."""

from collections.abc import Iterator
from itertools import combinations

from boards.core.board import BoardSpec
from housing.core.blank import Blank
from housing.core.enclosures import Enclosure
from housing.core.enclosures.form import BOARD, Part, Seat
from housing.core.enclosures.seating import turn_of
from housing.core.folding import Bounds, Plate
from housing.core.panels import GlueJoint

NEAR_MM = 1e-6  # rounding error of the computation
TOUCH_MM = 1e-3  # faces closer than this lie on one another
NEAR_SHARE = 1e-6  # rounding error of a share
GLUED_SHARE = 0.5  # of a flap at least lies on what it is glued to; assumed, the rest may stand over

type Named = tuple[str, str, Bounds]  # plate, its parent, a box of it


def faults(enclosure: Enclosure) -> list[str]:
    """What is wrong with an enclosure once it is folded; an empty list is the proof that it works.

    A face may lie as far from where it should as the rounding of positions allows (tolerance_mm of the
    enclosure); the clear inside may be so much larger than asked, never smaller.
    Looks at: the clear inside against what was asked, and that no plate stands in it; plates that run into
    one another by more than the squeeze the board allows; glue joints that do not lie face to face; parts
    that do not slide over or into one another; panels and waste that do not make up the blank.
    Returns sentences. Source: solid geometry of axis-parallel boxes, written apart from what made the parts.
    """
    tolerance_mm = enclosure.tolerance_mm + NEAR_MM
    found = list(_inside(enclosure, tolerance_mm)) if enclosure.is_compensated else []
    for part in enclosure.parts:
        found += _areas(part)
        if part.material == BOARD:
            found += _collisions(boxes_of(part), enclosure.board, part.name, tolerance_mm)
            found += _joints(part, tolerance_mm)
    return found + list(_between(enclosure))


def squeeze_mm(board: BoardSpec) -> float:
    """How far one plate may press into another at a corner: what a fold takes up, at most half a caliper."""
    return min(board.fold_share, 0.5) * board.caliper_mm


def boxes_of(part: Part) -> list[Named]:
    """The plates of a part as solid boxes, those with openings in several pieces around them."""
    found: list[Named] = []
    for plate in part.folded.plates:
        found += [(plate.name, plate.parent, box) for box in _around_openings(plate, part.blank)]
    return found


def _inside(enclosure: Enclosure, tolerance: float) -> Iterator[str]:
    asked, got = enclosure.asked, enclosure.inside
    for axis, wanted, is_ in (
        ("x", asked.x_mm, got.x_mm), ("y", asked.y_mm, got.y_mm), ("z", asked.z_mm, got.z_mm)
    ):  # fmt: skip
        if is_ < wanted - NEAR_MM:
            yield f"The clear inside along {axis} is {is_:.4f} mm, less than the {wanted:.4f} mm asked."
        if is_ > wanted + tolerance:
            yield f"The clear inside along {axis} is {is_:.4f} mm for {wanted:.4f} mm asked: too loose."
    x0, y0, z0, x1, y1, z1 = enclosure.parts[0].folded.clear
    for name, _, box in boxes_of(enclosure.parts[0]):
        if _depth(box, (x0, y0, z0, x1, y1, z1)) > tolerance:
            yield f"The {name} stands in the clear inside."


def _collisions(boxes: list[Named], board: BoardSpec, part: str, tolerance: float) -> Iterator[str]:
    """Neighbours at a fold share the strip that it takes up on both; other plates at most the squeeze."""
    squeeze, fold = squeeze_mm(board), board.fold_share * board.caliper_mm
    for (one, one_parent, a), (other, other_parent, b) in combinations(boxes, 2):
        if one == other:
            continue
        depth, second, _ = sorted(_shared(a, b))
        if one_parent == other or other_parent == one:
            if depth > 0 and second > fold + tolerance:
                yield f"Of the {part}, the {one} and the {other} share {second:.4f} mm at their fold."
        elif depth > squeeze + tolerance:
            yield (
                f"Of the {part}, the {one} and the {other} run {depth:.4f} mm into one another; the board "
                f"gives {squeeze:.4f} mm."
            )


def _joints(part: Part, tolerance: float) -> Iterator[str]:
    plates = {plate.name: plate for plate in part.folded.plates}
    for joint in part.joints:
        share = _face_share(plates[joint.flap], plates[joint.to], joint, tolerance)
        if share < (NEAR_SHARE if joint.is_edge else GLUED_SHARE - NEAR_SHARE):
            yield f"Of the {part.name}, {share:.0%} of the {joint.flap} lies on the {joint.to}, no glue face."


def _between(enclosure: Enclosure) -> Iterator[str]:
    """Lids must clear what they cover; what stands inside may be off by the rounding."""
    first = enclosure.parts[0]
    placed = []
    for part in enclosure.parts:
        turn = turn_of(part, first)
        if turn is not None:
            placed.append((part, [turn.of(box) for _, _, box in boxes_of(part)]))
    for (one, a), (other, b) in combinations(placed, 2):
        is_over = other.seat is Seat.OVER
        if is_over and not enclosure.is_compensated:
            continue  # drawn nominally a lid may bind, of which the notes tell
        depth = max((_depth(x, y) for x in a for y in b), default=0.0)
        if depth > NEAR_MM + (0.0 if is_over else enclosure.tolerance_mm):
            yield f"The {one.name} and the {other.name} run {depth:.4f} mm into one another."


def _areas(part: Part) -> Iterator[str]:
    blank = part.blank
    rest = blank.gross_area_mm2 - sum(piece.area_mm2 for piece in blank.waste)
    panels = sum(panel.area_mm2 for panel in blank.panels)
    if abs(rest - panels) > 1e-6 * blank.gross_area_mm2 + 1e-3:
        yield f"The blank of the {part.name} less its waste is {rest:.2f} mm², its panels {panels:.2f} mm²."
    for opening in blank.openings:
        panel = next(panel for panel in blank.panels if panel.name == opening.panel)
        if not (
            panel.x_mm - NEAR_MM <= opening.x_mm
            and opening.x_mm + opening.width_mm <= panel.x_mm + panel.width_mm + NEAR_MM
            and panel.y_mm - NEAR_MM <= opening.y_mm
            and opening.y_mm + opening.height_mm <= panel.y_mm + panel.height_mm + NEAR_MM
        ):
            yield f"Of the {part.name}, the {opening.name} reaches beyond the {opening.panel}."


def _shared(a: Bounds, b: Bounds) -> list[float]:
    """What two boxes share along each axis, mm; negative where they lie apart."""
    return [min(a[i + 3], b[i + 3]) - max(a[i], b[i]) for i in range(3)]


def _depth(a: Bounds, b: Bounds) -> float:
    """How far two boxes run into one another: the least move along an axis that parts them, mm."""
    return min(_shared(a, b))


def _face_share(flap: Plate, to: Plate, joint: GlueJoint, tolerance: float) -> float:
    """Share of the flap's face, or of the edge, that lies on the other plate, moved by the tolerance."""
    axes = range(3) if joint.is_edge else (flap.across,)
    best = 0.0
    for axis in axes:  # along which the two faces look at one another
        gap = max(flap.bounds[axis], to.bounds[axis]) - min(flap.bounds[axis + 3], to.bounds[axis + 3])
        if abs(gap) > TOUCH_MM + tolerance:
            continue
        shared = own = 1.0
        for i in (i for i in range(3) if i != axis):
            low, high = max(flap.bounds[i], to.bounds[i]), min(flap.bounds[i + 3], to.bounds[i + 3])
            side = flap.bounds[i + 3] - flap.bounds[i]
            shared *= min(max(high - low + tolerance, 0.0), side)
            own *= side
        best = max(best, shared / own if own else 0.0)
    return best


def _around_openings(plate: Plate, blank: Blank) -> list[Bounds]:
    """A plate parted into boxes around the rectangles of its openings."""
    openings = [o for o in blank.openings if o.panel == plate.name and o.shape != "slit"]
    if not openings:
        return [plate.bounds]
    panel = next(panel for panel in blank.panels if panel.name == plate.name)
    x, y = plate.x_runs, plate.y_runs
    boxes = [plate.bounds]
    for opening in openings:
        a0, a1 = _along(plate.bounds, x, opening.x_mm - panel.x_mm, opening.width_mm)
        b0, b1 = _along(plate.bounds, y, opening.y_mm - panel.y_mm, opening.height_mm)
        boxes = [rest for box in boxes for rest in _without(box, (abs(x) - 1, a0, a1), (abs(y) - 1, b0, b1))]
    return boxes


def _along(box: Bounds, axis: int, start: float, length: float) -> tuple[float, float]:
    """From where to where in space something lies that lies so on the flat; see Plate.x_runs for the axis."""
    i = abs(axis) - 1
    if axis > 0:
        return box[i] + start, box[i] + start + length
    return box[i + 3] - start - length, box[i + 3] - start


def _without(box: Bounds, a: tuple[int, float, float], b: tuple[int, float, float]) -> Iterator[Bounds]:
    """What is left of a box around a hole that goes through it, bounded on two axes."""
    for i, start, end in (a, b):
        low, high = max(box[i], start), min(box[i + 3], end)
        if high <= low:
            yield box
            return
    left = list(box)
    for i, start, end in (a, b):
        if start > left[i]:
            yield _set(left, i + 3, start)
        if end < left[i + 3]:
            yield _set(left, i, end)
        left[i], left[i + 3] = max(left[i], start), min(left[i + 3], end)


def _set(box: list[float], i: int, value: float) -> Bounds:
    changed = [*box]
    changed[i] = value
    x0, y0, z0, x1, y1, z1 = changed
    return (x0, y0, z0, x1, y1, z1)
