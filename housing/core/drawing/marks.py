"""Running marks along an edge: where their labels go so that none lies on another."""

from collections.abc import Sequence
from dataclasses import dataclass

from housing.core.drawing.svg import TEXT_MM, text_width
from housing.core.drawing.symbols import READ_MM

EDGE_GAP_MM = 0.8  # between the edge and the line that leads out from it
BEND_MM = 3.0  # how far a leading line runs askew when its label had to move
ROW_MM = 4.2  # a row of labels
TEXT_GAP_MM = 0.8  # between a leading line and its label
LABEL_GAP_MM = 1.6  # between one label and the next line


@dataclass(frozen=True)
class Mark:
    """A mark on an edge: where, in mm on paper from the edge's start, and its label.

    kind: "wall" for scores of walls and the ends, "flap" for flap hinges, "trim" for trims, "opening" for
    where openings begin and end.
    leans: 1 when the label stands behind the mark along the edge, -1 when it stands before it.
    """

    at: float
    label: str
    kind: str
    leans: int


@dataclass(frozen=True)
class Leader:
    """A line leading out from a mark: points as (along the edge, away from it), mm on paper."""

    mark: Mark
    points: tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class Label:
    """A label beside the end of its leader: where its text begins or ends along the edge, which it does by
    `leans`, and the row it stands in, from `out` away from the edge to `out` + ROW_MM."""

    mark: Mark
    along: float
    out: float

    @property
    def size_mm(self) -> float:
        return _size(self.mark)


@dataclass(frozen=True)
class EdgeMarks:
    """Everything outside one edge; depth_mm away from it, from first_mm to last_mm along it."""

    leaders: tuple[Leader, ...]
    labels: tuple[Label, ...]
    depth_mm: float
    first_mm: float
    last_mm: float


def lay_out(marks: Sequence[Mark], start_out: float = EDGE_GAP_MM, most_rows: int = 1) -> EdgeMarks:
    """Place labels in rows: wall scores and ends near the edge, then flap hinges and trims, then openings.

    marks: on one edge, mm on paper. start_out: how far from the edge the leaders may first bend, mm.
    most_rows: rows that each of the three may take, so that many labels need not spread beyond the edge.
    Returns leaders and labels in mm. Labels keep the order of their marks; where two would overlap they are
    moved apart, by the least sum of squares, and their leaders bend.
    Source: coordinate dimensioning as in technical drawing; least squares under an order is isotonic
        regression, solved by pooling neighbours.
    """
    ordered = sorted(marks, key=lambda mark: (mark.at, mark.leans))
    tracks = {mark: [(mark.at, EDGE_GAP_MM), (mark.at, start_out)] for mark in ordered}
    labels: list[Label] = []
    out = start_out
    placed: set[Mark] = set()
    for here in _rows(ordered, most_rows):
        through = [mark for mark in ordered if mark not in placed]
        wanted = [tracks[mark][-1][0] for mark in through]
        spans = [_span(mark, at, mark in here) for mark, at in zip(through, wanted, strict=True)]
        moved = [at + shift for at, shift in zip(wanted, _shifts(spans), strict=True)]
        if any(abs(to - at) > 1e-6 for to, at in zip(moved, wanted, strict=True)):
            out += BEND_MM
        for mark, at in zip(through, moved, strict=True):
            tracks[mark] += [(at, out), (at, out + ROW_MM)]
            if mark in here:
                labels.append(Label(mark, at + mark.leans * TEXT_GAP_MM, out))
        placed.update(here)
        out += ROW_MM
    leaders = tuple(Leader(mark, _straightened(track)) for mark, track in tracks.items())
    reach = [end for label in labels for end in _extent(label)]
    return EdgeMarks(leaders, tuple(labels), out, min(reach, default=0.0), max(reach, default=0.0))


def _rows(ordered: Sequence[Mark], most_rows: int) -> list[set[Mark]]:
    """Marks by the row they are labelled in, from the edge outwards; rows of a kind take marks in turn."""
    rows = []
    for kinds in (("wall",), ("flap", "trim"), ("opening",)):
        alike = [mark for mark in ordered if mark.kind in kinds]
        count = min(most_rows, (len(alike) + 1) // 2)
        rows += [set(alike[row::count]) for row in range(count)]
    return rows


def _size(mark: Mark) -> float:
    return TEXT_MM if mark.kind == "wall" else READ_MM


def _extent(label: Label) -> tuple[float, float]:
    far = label.along + label.mark.leans * text_width(label.mark.label, label.size_mm)
    return min(label.along, far), max(label.along, far)


def _span(mark: Mark, at: float, has_label: bool) -> tuple[float, float]:
    """What a mark takes up along the edge in a row: its label, or only its leader passing through."""
    if not has_label:
        return at, at
    reach = TEXT_GAP_MM + text_width(mark.label, _size(mark)) + LABEL_GAP_MM
    return (at, at + reach) if mark.leans > 0 else (at - reach, at)


def _shifts(spans: Sequence[tuple[float, float]]) -> list[float]:
    """How far each span must move so that none overlaps the one before it."""
    taken = 0.0
    blocks: list[list[float]] = []  # sum and count of where each block's spans want to begin
    for start, end in spans:
        blocks.append([start - taken, 1.0])
        taken += end - start
        while len(blocks) > 1 and blocks[-2][0] / blocks[-2][1] > blocks[-1][0] / blocks[-1][1]:
            total, count = blocks.pop()
            blocks[-1][0] += total
            blocks[-1][1] += count
    shifts: list[float] = []
    taken = 0.0
    placed = iter([total / count for total, count in blocks for _ in range(int(count))])
    for start, end in spans:
        shifts.append(next(placed) + taken - start)
        taken += end - start
    return shifts


def _straightened(track: list[tuple[float, float]]) -> tuple[tuple[float, float], ...]:
    """The track without points that lie on the straight between their neighbours."""
    kept = track[:1]
    for before, point, after in zip(track, track[1:], track[2:], strict=False):
        if max(abs(before[0] - point[0]), abs(after[0] - point[0])) > 1e-6:
            kept.append(point)
    return (*kept, track[-1])
