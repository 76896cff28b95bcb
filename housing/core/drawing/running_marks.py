"""Running marks around a sheet: labels that stand upright on its edges, moved apart where cuts lie close."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from boards.core.nesting.shapes import CutSheet, Sheet
from housing.core.drawing.svg import path, text, text_width

# Height of the figures and how far one row of them lies from the next, mm on paper; the largest that has room
# is taken.
SIZES = ((2.8, 3.3), (2.4, 2.9), (2.0, 2.4))
TICK_MM = 1.2  # straight out from the edge
BEND_MM = 3.2  # where a leader ends and its label begins
GAP_MM = 0.6
SAME_MM = 0.5  # on the board: cuts closer than this, such as both sides of a gap, are told together

type Point = tuple[float, float]


@dataclass(frozen=True)
class Mark:
    """A mark on both of two facing edges: where on the board, mm from the corner, and its figure."""

    at_mm: float
    label: str


@dataclass(frozen=True)
class Marks:
    """The marks of one pair of edges. size_mm: of the figures. is_whole: whether none had to be left out."""

    marks: tuple[Mark, ...]
    size_mm: float
    pitch_mm: float
    is_whole: bool

    @property
    def depth_mm(self) -> float:
        """How far they reach from the edge."""
        longest = max((text_width(mark.label, self.size_mm) for mark in self.marks), default=0.0)
        return BEND_MM + GAP_MM + longest + GAP_MM


def marks_of(cut_sheet: CutSheet, sheet: Sheet, upright: bool) -> list[tuple[float, float]]:
    """Where lines are marked on two facing edges of a sheet, mm from its corner, and how long each line is.

    upright: the lines from near to far, which are marked on the near and the far edge. Both ends of the edge
    come with them. Where blanks lie anyhow the lines are their edges. Cuts within corners that fall off have
    no mark on the sheet.
    """
    side = sheet.along_mm if upright else sheet.across_mm
    found = [(0.0, 1e9), (side, 1e9)]
    for cut in cut_sheet.cuts:
        if cut.host is None and (cut.x0_mm == cut.x1_mm) is upright:
            long = abs(cut.x1_mm - cut.x0_mm) + abs(cut.y1_mm - cut.y0_mm)
            found.append((cut.x0_mm if upright else cut.y0_mm, long))
    if not any(not cut.is_trim and cut.host is None for cut in cut_sheet.cuts):
        for placed in cut_sheet.placements:
            if placed.host is None:
                at, long = (placed.x_mm, placed.along_mm) if upright else (placed.y_mm, placed.across_mm)
                other = placed.across_mm if upright else placed.along_mm
                found += [(at, other), (at + long, other)]
    kept: list[tuple[float, float]] = []
    for at, long in sorted(found):
        if kept and at - kept[-1][0] < SAME_MM:
            kept[-1] = kept[-1][0], max(kept[-1][1], long)
        else:
            kept.append((at, long))
    return kept


def choose(found: Iterable[tuple[float, float]], write: Callable[[float], str], room_mm: float) -> Marks:
    """Labels for marks as large as there is room for; if need be, only those of the longest lines.

    found: as marks_of() gives them. write: a figure without its unit. room_mm: on paper, along the edge.
    """
    told: dict[str, tuple[float, float]] = {}
    for at, long in sorted(found):  # those that are written alike are one
        first, longest = told.get(write(at), (at, long))
        told[write(at)] = first, max(longest, long)
    ordered = list(told.values())
    for size, pitch in SIZES:
        if len(ordered) * pitch <= room_mm:
            return Marks(tuple(Mark(at, write(at)) for at, _ in ordered), size, pitch, True)
    size, pitch = SIZES[-1]
    kept = sorted(sorted(ordered, key=lambda each: -each[1])[: max(2, int(room_mm / pitch))])
    return Marks(tuple(Mark(at, write(at)) for at, _ in kept), size, pitch, False)


def spread(wanted: Sequence[float], pitch: float, low: float, high: float) -> list[float]:
    """Places in order, a pitch apart and within limits, by the least sum of squares from those wanted.

    Source: least squares under an order is isotonic regression, solved by pooling neighbours; limits by
        clipping its outcome.
    """
    blocks: list[list[float]] = []
    for number, at in enumerate(wanted):
        blocks.append([at - number * pitch, 1.0])
        while len(blocks) > 1 and blocks[-2][0] / blocks[-2][1] > blocks[-1][0] / blocks[-1][1]:
            total, count = blocks.pop()
            blocks[-1][0] += total
            blocks[-1][1] += count
    flat = [total / count for total, count in blocks for _ in range(int(count))]
    last = high - (len(wanted) - 1) * pitch
    return [min(max(at, low), last) + number * pitch for number, at in enumerate(flat)]


def drawn(
    marks: Marks, at: Callable[[float], float], edge: float, out: int, upright: bool, low: float, high: float
) -> Iterator[str]:
    """The marks along one edge, as SVG.

    at: where on paper, along the edge, a place of the board lies. edge: where the edge lies across it. out:
    1 where paper grows away from it, -1 where it falls. upright: of lines from near to far, whose figures are
    turned. low, high: between which their middles must stay, mm on paper.
    """
    ordered = sorted(marks.marks, key=lambda mark: at(mark.at_mm))
    wanted = [at(mark.at_mm) for mark in ordered]
    places = spread(wanted, marks.pitch_mm, low, high)
    drop = 0.36 * marks.size_mm
    for mark, start, place in zip(ordered, wanted, places, strict=True):
        ways = [(start, 0.0), (start, TICK_MM), (place, BEND_MM)]
        points = [(along, edge + out * far) if upright else (edge + out * far, along) for along, far in ways]
        yield path(points, "dim", 0.13)
        beyond = edge + out * (BEND_MM + GAP_MM)
        if upright:  # read from the right; on the near edge the text ends at the leader
            yield text(
                place + drop, beyond, mark.label, "mark", marks.size_mm, "end" if out > 0 else "start", -90
            )
        else:
            yield text(beyond, place + drop, mark.label, "mark", marks.size_mm, "start" if out > 0 else "end")
