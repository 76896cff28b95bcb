"""The closed enclosure in a line drawing, seen from the front and the right, with its outside size."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field

from housing.core.blank import Rectangle
from housing.core.drawing.openings import outline
from housing.core.drawing.svg import SMALL_MM, document, element, number, text, text_width
from housing.core.enclosures.form import Part
from housing.core.enclosures.seating import STAY, Turn, turn_of
from housing.core.errors import PaperTooSmall
from housing.core.folding import Bounds, Box3, Plate

# Isometric projection: all three axes foreshortened alike, the floor's edges at 30 degrees.
ACROSS, DOWN = 0.866, 0.5
LINE_MM = 0.25
GAP_MM = 1.5

type Point3 = tuple[float, float, float]
type Point = tuple[float, float]


@dataclass
class Solid:
    """A plate in its place: its box, and outlines of openings on its visible face."""

    box: Bounds
    openings: list[list[Point3]] = field(default_factory=list)


def closed_svg(
    parts: Sequence[Part],
    outside: Box3,
    *,
    title: str,
    format_length: Callable[[float], str],
    paper_width_mm: float = 75.0,
    paper_height_mm: float = 55.0,
) -> str:
    """Draw an enclosure with all its parts in place, as large as the paper allows.

    parts: as they were folded, the one it stands on first; those without a place are left out. outside: its
    sides, mm. title: for screen readers. format_length: writes mm for the reader.
    Returns an SVG at most as large as the paper. It shows proportions and is not to scale.
    Raises PaperTooSmall when the figures alone fill the paper.
    Source: isometric projection as in technical drawing; plates drawn from the back to the front.
    """
    solids = back_to_front(_solids(parts, outside))
    labels = [
        f"{format_length(outside.x_mm)} wide",
        f"{format_length(outside.y_mm)} deep",
        f"{format_length(outside.z_mm)} high",
    ]
    wide, deep, high = (text_width(label, SMALL_MM) for label in labels)
    left, right = max(wide, high) + GAP_MM, deep + GAP_MM
    above, below = SMALL_MM, SMALL_MM + GAP_MM
    flat_x = (outside.x_mm + outside.y_mm) * ACROSS
    flat_y = (outside.x_mm + outside.y_mm) * DOWN + outside.z_mm
    width_mm, height_mm = paper_width_mm - left - right - LINE_MM, paper_height_mm - above - below
    if min(width_mm, height_mm) <= 0:
        raise PaperTooSmall(
            f"A drawing {paper_width_mm:g} x {paper_height_mm:g} mm has no room beside its own figures. "
            "Give it a larger page."
        )
    scale = min(width_mm / flat_x, height_mm / flat_y)
    corner = tuple(min(solid.box[i] for solid in solids) for i in range(3))
    x, y, z = (side * scale for side in (outside.x_mm, outside.y_mm, outside.z_mm))
    origin = (left + LINE_MM / 2, above + y * DOWN + z)

    def paper(point: Point3) -> Point:
        across, back, up = ((at - start) * scale for at, start in zip(point, corner, strict=True))
        return origin[0] + (across + back) * ACROSS, origin[1] + (across - back) * DOWN - up

    drawn = [_face([paper(point) for point in face]) for solid in solids for face in _faces(solid)]
    description = f"Outside {labels[0]}, {labels[1]}, {labels[2]}; not to scale."
    return document(
        left + flat_x * scale + right + LINE_MM, above + flat_y * scale + below, title, description,
        [*drawn, *_sizes(labels, origin, (x, y, z))], "drawing closed-box",
    )  # fmt: skip


def back_to_front(solids: list[Solid]) -> list[Solid]:
    """Boxes in the order to paint them: what lies behind another first.

    Boxes may press into one another a little; the axis on which they part most decides. Where that goes round
    in a circle, the box farther back goes first. Source: painter's order, by repeated choice.
    """
    waiting = list(solids)
    ordered = []
    while waiting:
        free = [
            one for one in waiting if not any(_hides(other, one) for other in waiting if other is not one)
        ]
        chosen = min(free or waiting, key=lambda solid: _depth(solid.box))
        waiting.remove(chosen)
        ordered.append(chosen)
    return ordered


def _hides(back: Solid, front: Solid) -> bool:
    """Whether `back` has to be painted before `front`."""
    a, b = back.box, front.box
    behind = max(b[0] - a[3], a[1] - b[4], b[2] - a[5])
    before = max(a[0] - b[3], b[1] - a[4], a[2] - b[5])
    return behind > before


def _depth(box: Bounds) -> float:
    return box[0] + box[3] - box[1] - box[4] + box[2] + box[5]


def _solids(parts: Sequence[Part], outside: Box3) -> list[Solid]:
    if not parts[0].blank.scores:  # a roll on its tube, or other things that are no box of board
        return [Solid((0.0, 0.0, 0.0, outside.x_mm, outside.y_mm, outside.z_mm))]
    placed = [(part, turn_of(part, parts[0])) for part in parts]
    return [
        _solid(part, plate, turn) for part, turn in placed if turn is not None for plate in part.folded.plates
    ]


def _solid(part: Part, plate: Plate, turn: Turn) -> Solid:
    box = turn.of(plate.bounds)
    across = turn.axes.index(plate.across)
    face = box[1] if across == 1 else box[across + 3]
    panel = next(panel for panel in part.blank.panels if panel.name == plate.name)
    openings = []
    for opening in part.blank.openings:
        if opening.panel == plate.name:
            points = [_in_space(plate, panel, point) for point in outline(opening)]
            turned = [(point if turn is STAY else _turned(turn, point)) for point in points]
            openings.append([_on_face(point, across, face) for point in turned])
    return Solid(box, openings)


def _in_space(plate: Plate, panel: Rectangle, point: Point) -> Point3:
    at = list(plate.bounds[:3])
    for runs, offset in ((plate.x_runs, point[0] - panel.x_mm), (plate.y_runs, point[1] - panel.y_mm)):
        i = abs(runs) - 1
        at[i] = plate.bounds[i] + offset if runs > 0 else plate.bounds[i + 3] - offset
    return at[0], at[1], at[2]


def _turned(turn: Turn, point: Point3) -> Point3:
    box = turn.of((*point, *point))
    return box[:3]


def _on_face(point: Point3, axis: int, at: float) -> Point3:
    moved = [*point]
    moved[axis] = at
    return moved[0], moved[1], moved[2]


def _faces(solid: Solid) -> Iterator[list[Point3]]:
    """The three faces that look at the reader, and what is cut out of them."""
    x0, y0, z0, x1, y1, z1 = solid.box
    yield [(x0, y0, z1), (x0, y1, z1), (x1, y1, z1), (x1, y0, z1)]
    yield [(x0, y0, z0), (x0, y0, z1), (x1, y0, z1), (x1, y0, z0)]
    yield [(x1, y0, z0), (x1, y0, z1), (x1, y1, z1), (x1, y1, z0)]
    yield from solid.openings


def _face(points: list[Point]) -> str:
    d = "M" + " L".join(f"{number(x)} {number(y)}" for x, y in points)
    closed = f"{d} Z" if len(points) > 2 else d
    return element("path", class_="closed", d=closed, fill="#fff", stroke="#000", stroke_width=LINE_MM)


def _sizes(labels: list[str], origin: Point, sides: Point3) -> Iterator[str]:
    """Figures beside the three edges that meet the eye first."""
    x, y, z = sides

    def paper(across: float, back: float, up: float) -> Point:
        return origin[0] + (across + back) * ACROSS, origin[1] + (across - back) * DOWN - up

    wide_x, wide_y = paper(x / 2, 0, 0)
    deep_x, deep_y = paper(x, y / 2, 0)
    high_x, high_y = paper(0, 0, z / 2)
    wide_y += SMALL_MM
    high_y = min(high_y + 0.36 * SMALL_MM, wide_y - 1.3 * SMALL_MM)
    yield text(wide_x - GAP_MM, wide_y, labels[0], "dim", SMALL_MM, "end")
    yield text(deep_x + GAP_MM, deep_y + SMALL_MM, labels[1], "dim", SMALL_MM)
    yield text(high_x - GAP_MM, high_y, labels[2], "dim", SMALL_MM, "end")
