"""The closed box in a small line drawing, seen from the front and the right, with its outside size."""

from collections.abc import Callable, Iterator

from housing.core.drawing.svg import SMALL_MM, document, path, text, text_width
from housing.core.errors import PaperTooSmall
from housing.core.folding import Box3

# Isometric projection: all three axes foreshortened alike, the floor's edges at 30 degrees.
ACROSS, DOWN = 0.866, 0.5
LINE_MM = 0.35
GAP_MM = 1.5
WALL_SHARE = 0.04  # thickness of an open tray's wall as drawn, in parts of its shortest side

Point3 = tuple[float, float, float]


def closed_svg(
    outside: Box3,
    *,
    has_lid: bool,
    lid_depth_mm: float,
    title: str,
    format_length: Callable[[float], str],
    paper_width_mm: float = 75.0,
    paper_height_mm: float = 55.0,
) -> str:
    """Draw a closed box, or an open tray, as large as the paper allows.

    outside: sides of the closed box, mm. has_lid: draws the lid's lower edge lid_depth_mm below the top;
    without one the tray is seen open. title: for screen readers. format_length: writes mm for the reader.
    Returns an SVG at most as large as the paper. It shows proportions and is not to scale.
    Raises PaperTooSmall when the figures alone fill the paper.
    Source: isometric projection, as in technical drawing.
    """
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
    x, y, z = (side * scale for side in (outside.x_mm, outside.y_mm, outside.z_mm))
    origin = (left + LINE_MM / 2, above + y * DOWN + z)

    def paper(point: Point3) -> tuple[float, float]:
        across, back, up = point
        return origin[0] + (across + back) * ACROSS, origin[1] + (across - back) * DOWN - up

    lines = _box(x, y, z)
    lines += _lid_edge(x, y, z - min(lid_depth_mm * scale, z)) if has_lid else _opening(x, y, z)
    drawn = [path([paper(point) for point in points], "closed", LINE_MM) for points in lines]
    description = f"Outside {labels[0]}, {labels[1]}, {labels[2]}; not to scale."
    return document(
        left + flat_x * scale + right + LINE_MM, above + flat_y * scale + below, title, description,
        [*drawn, *_sizes(labels, paper, (x, y, z))], "drawing closed-box",
    )  # fmt: skip


def _box(x: float, y: float, z: float) -> list[list[Point3]]:
    """The outline, and the three edges that meet in the corner nearest to the eye."""
    rim = [(0, 0, z), (0, y, z), (x, y, z)]
    foot = [(x, y, 0), (x, 0, 0), (0, 0, 0)]
    near = (x, 0, z)
    return [[*rim, *foot, rim[0]], [(0, 0, z), near, (x, y, z)], [near, (x, 0, 0)]]


def _lid_edge(x: float, y: float, up: float) -> list[list[Point3]]:
    return [[(0, 0, up), (x, 0, up), (x, y, up)]]


def _opening(x: float, y: float, z: float) -> list[list[Point3]]:
    """The inner rim of an open tray, and what shows of its far corner and floor past the near rim."""
    wall = WALL_SHARE * min(x, y)
    left, right, near, far = wall, x - wall, wall, y - wall
    rim = [(left, near, z), (left, far, z), (right, far, z), (right, near, z), (left, near, z)]
    shown = min(z, right - left, far - near)
    lines: list[list[Point3]] = [rim, [(left, far, z), (left, far, z - shown)]]
    if shown == z:
        lines.append([(left, near + z, 0), (left, far, 0), (right - z, far, 0)])
    return lines


def _sizes(labels: list[str], paper: Callable[[Point3], tuple[float, float]], sides: Point3) -> Iterator[str]:
    x, y, z = sides
    wide_x, wide_y = paper((x / 2, 0, 0))
    deep_x, deep_y = paper((x, y / 2, 0))
    high_x, high_y = paper((0, 0, z / 2))
    wide_y += SMALL_MM
    high_y = min(high_y + 0.36 * SMALL_MM, wide_y - 1.3 * SMALL_MM)
    yield text(wide_x - GAP_MM, wide_y, labels[0], "dim", SMALL_MM, "end")
    yield text(deep_x + GAP_MM, deep_y + SMALL_MM, labels[1], "dim", SMALL_MM)
    yield text(high_x - GAP_MM, high_y, labels[2], "dim", SMALL_MM, "end")
