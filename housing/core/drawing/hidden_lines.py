"""What shows of a heap of boxes seen from the front, the right and above: edges, without those hidden."""

from collections.abc import Iterable, Iterator, Sequence

import numpy as np

from housing.core.drawing.solids import Point3, Solids
from housing.core.folding import Bounds

type Segment = tuple[Point3, Point3]
type Span = tuple[float, float]

# Isometric projection: all three axes foreshortened alike, the floor's edges at 30 degrees.
ACROSS, DOWN = 0.866, 0.5
# Towards the eye along a line of sight x and z grow and y falls, each as fast as the others.
EYE = (1.0, -1.0, 1.0)
OTHERS = ((1, 2), (0, 2), (0, 1))

SAME_MM = 0.05  # planes nearer than this are one: less than a hand-cut blank is true
TINY = 1e-6
AT_ONCE = 200  # lines looked at together, so that memory stays small


def project(point: Point3) -> tuple[float, float]:
    """A point in mm as it is drawn, to the right and downward."""
    x, y, z = point
    return (x + y) * ACROSS, (x - y) * DOWN - z


def visible_lines(solids: Solids) -> tuple[list[Segment], list[Segment]]:
    """The edges that are seen, and what is seen of the outlines on the faces.

    solids: boxes in mm; they may overlap, and faces in one plane that touch are one face.
    Returns two lists of lines in space, mm, their order without meaning.
    Source: the boxes are united on the grid of all their planes; an edge is hidden where a face towards the
        eye lies before it on the line of sight, which is a linear inequality along the edge.
    """
    grid = [
        _planes([box[axis] for box in solids.boxes] + [box[axis + 3] for box in solids.boxes])
        for axis in range(3)
    ]
    full = _united(solids.boxes, grid)
    edges, faces = _edges_and_faces(full, grid)
    lines = [piece for edge in edges for piece in _without_mouths(edge, solids.mouths)]
    strokes = [pair for outline in solids.outlines for pair in zip(outline, outline[1:], strict=False)]
    return list(_seen(lines, faces)), list(_seen(strokes, faces))


def _planes(values: Iterable[float]) -> np.ndarray:
    kept: list[float] = []
    for value in sorted(values):
        if not kept or value - kept[-1] > SAME_MM:
            kept.append(value)
    return np.array(kept)


def _united(boxes: Sequence[Bounds], grid: list[np.ndarray]) -> np.ndarray:
    """Which cells of the grid are filled, with an empty row of cells all around."""
    full = np.zeros([len(planes) + 1 for planes in grid], dtype=bool)
    for box in boxes:
        index = [
            slice(*(int(np.searchsorted(planes, box[side] + TINY, "right")) for side in (axis, axis + 3)))
            for axis, planes in enumerate(grid)
        ]
        full[tuple(index)] = True
    return full


def _edges_and_faces(
    full: np.ndarray, grid: list[np.ndarray]
) -> tuple[list[Segment], list[tuple[int, np.ndarray]]]:
    """Edges of all faces turned to the eye, each once, and those faces cut into rectangles, by their axis.

    A rectangle is its plane, then the two spans along the other axes.
    """
    marked = [np.zeros([len(planes) + 1 for planes in grid], dtype=bool) for _ in range(3)]
    faces = []
    for axis, (u, v) in enumerate(OTHERS):
        inner, outer = (
            (slice(None, -1), slice(1, None)) if EYE[axis] > 0 else (slice(1, None), slice(None, -1))
        )
        cut: list[slice] = [slice(None)] * 3
        cut[axis] = inner
        behind = full[tuple(cut)]
        cut[axis] = outer
        before = full[tuple(cut)]
        open_ = np.moveaxis(behind & ~before, axis, 0)  # one mask for each plane
        rectangles = []
        for plane in np.flatnonzero(open_.any(axis=(1, 2))):
            mask = open_[plane]
            across_u = mask[1:, :] != mask[:-1, :]  # borders that run along v, at planes of u
            across_v = mask[:, 1:] != mask[:, :-1]
            where: list[int | slice] = [0, 0, 0]
            where[axis], where[u], where[v] = int(plane), slice(0, -1), slice(None)
            marked[v][tuple(where)] |= across_u
            where[u], where[v] = slice(None), slice(0, -1)
            marked[u][tuple(where)] |= across_v
            for u0, u1, v0, v1 in _rectangles(mask):
                rectangles.append(
                    (grid[axis][plane], grid[u][u0 - 1], grid[u][u1 - 1], grid[v][v0 - 1], grid[v][v1 - 1])
                )
        faces.append((axis, np.array(rectangles).reshape(-1, 5)))
    return [edge for axis in range(3) for edge in _joined_edges(marked[axis], axis, grid)], faces


def _rectangles(mask: np.ndarray) -> Iterator[tuple[int, int, int, int]]:
    """A mask cut into rectangles, each as wide as it goes and then as deep."""
    left = mask.copy()
    for u in np.flatnonzero(mask.any(axis=1)):
        while left[u].any():
            v0 = int(np.argmax(left[u]))
            gaps = np.flatnonzero(~left[u, v0:])
            v1 = v0 + int(gaps[0]) if len(gaps) else left.shape[1]
            u1 = int(u) + 1
            while u1 < left.shape[0] and left[u1, v0:v1].all():
                u1 += 1
            left[u:u1, v0:v1] = False
            yield int(u), u1, v0, v1


def _joined_edges(marked: np.ndarray, axis: int, grid: list[np.ndarray]) -> Iterator[Segment]:
    """Runs of marked stretches between grid planes as lines."""
    u, v = OTHERS[axis]
    rows = np.moveaxis(marked, axis, 2)  # u, v, then along the edge; along it cells, else planes
    for i, j in np.argwhere(rows.any(axis=2)):
        stretch = np.flatnonzero(np.diff(np.concatenate(([False], rows[i, j], [False]))))
        for start, end in zip(stretch[::2], stretch[1::2], strict=True):
            a, b = [0.0, 0.0, 0.0], [0.0, 0.0, 0.0]
            a[u] = b[u] = float(grid[u][i])
            a[v] = b[v] = float(grid[v][j])
            a[axis], b[axis] = float(grid[axis][start - 1]), float(grid[axis][end - 1])
            yield (a[0], a[1], a[2]), (b[0], b[1], b[2])


def _without_mouths(edge: Segment, mouths: Sequence[Bounds]) -> list[Segment]:
    """An edge without what runs across the mouth of an opening."""
    pieces = [edge]
    for mouth in mouths:
        kept = []
        for start, end in pieces:
            axis = max(range(3), key=lambda i: abs(end[i] - start[i]))
            lies_in = all(
                mouth[i] - SAME_MM <= start[i] <= mouth[i + 3] + SAME_MM for i in range(3) if i != axis
            )
            if not lies_in or start[axis] >= mouth[axis + 3] or end[axis] <= mouth[axis]:
                kept.append((start, end))
                continue
            for low, high in ((start[axis], mouth[axis]), (mouth[axis + 3], end[axis])):
                if high - low > SAME_MM:
                    kept.append((_at(start, axis, low), _at(start, axis, high)))
        pieces = kept
    return pieces


def _at(point: Point3, axis: int, value: float) -> Point3:
    moved = list(point)
    moved[axis] = value
    return moved[0], moved[1], moved[2]


def _seen(lines: Iterable[Segment], faces: list[tuple[int, np.ndarray]]) -> Iterator[Segment]:
    found = list(lines)
    for at in range(0, len(found), AT_ONCE):
        some = found[at : at + AT_ONCE]
        for (start, end), hidden in zip(some, _hidden(some, faces), strict=True):
            for a, b in _bare(hidden):
                yield _between(start, end, a), _between(start, end, b)


def _between(start: Point3, end: Point3, share: float) -> Point3:
    x, y, z = (a + (b - a) * share for a, b in zip(start, end, strict=True))
    return x, y, z


def _hidden(lines: Sequence[Segment], faces: list[tuple[int, np.ndarray]]) -> list[list[Span]]:
    """Of each line the parts, from 0 to 1, before which a face lies; they may overlap."""
    ends = np.array(lines).reshape(-1, 2, 3)[:, :, :, None]  # line, start or end, axis; then face
    hidden: list[list[Span]] = [[] for _ in lines]
    for axis, rectangles in faces:
        u, v = OTHERS[axis]
        plane, u0, u1, v0, v1 = rectangles.T
        far = (plane - ends[:, :, axis]) * EYE[axis]  # way from the line to the plane
        at_u, at_v = ends[:, :, u] + EYE[u] * far, ends[:, :, v] + EYE[v] * far
        low, high = np.zeros((len(lines), len(plane))), np.ones((len(lines), len(plane)))
        for inside in (
            far - SAME_MM / 2, at_u - u0 + TINY, u1 - at_u + TINY, at_v - v0 + TINY, v1 - at_v + TINY,
        ):  # fmt: skip
            f0, f1 = inside[:, 0], inside[:, 1]
            with np.errstate(divide="ignore", invalid="ignore"):
                meets = f0 / (f0 - f1)
            low = np.where((f0 < 0) & (f1 >= 0), np.maximum(low, meets), low)
            high = np.where((f1 < 0) & (f0 >= 0), np.minimum(high, meets), high)
            high = np.where((f0 < 0) & (f1 < 0), -1.0, high)
        for line, face in np.argwhere(high - low > TINY):
            hidden[line].append((float(low[line, face]), float(high[line, face])))
    return hidden


def _bare(hidden: Iterable[Span]) -> list[Span]:
    """Parts of a line, from 0 to 1, that are not hidden."""
    bare, at = [], 0.0
    for low, high in sorted(hidden):
        if low - at > TINY:
            bare.append((at, low))
        at = max(at, high)
    if 1.0 - at > TINY:
        bare.append((at, 1.0))
    return bare
