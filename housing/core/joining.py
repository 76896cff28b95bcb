"""A blank larger than every sheet, made of parts that are joined with an overlap."""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from housing.core.blank import SAME_LINE_MM, Blank, Line, Rectangle
from housing.core.errors import SizeRefused
from objects.core.words import say, say_count

# Width of board that two joined parts share, glued face to face: assumed; wide enough for two beads of glue.
OVERLAP_MM = 50.0
STEP_MM = 5.0  # how finely a place for a joint is looked for


@dataclass(frozen=True)
class JoinedPart:
    """One part: its own blank, and where its corner lies on the whole blank, mm."""

    blank: Blank
    x_mm: float
    y_mm: float


@dataclass(frozen=True)
class Joined:
    """All parts of a blank, the joints between them and what they take.

    laps: joints. lap_length_mm: their lengths together; lap_area_mm2: board that lies double. crosses:
    whether a joint had to be laid over a score, a cut or an opening.
    """

    parts: tuple[JoinedPart, ...]
    laps: int
    lap_length_mm: float
    lap_area_mm2: float
    crosses: bool

    @property
    def sentence(self) -> str:
        """What to do, with the usual caution (common practice, no source)."""
        joints = say_count("{count} joint", "{count} joints", self.laps)
        said = say(
            "Make it of {count} parts, joined with an overlap of {overlap_mm:.0f} mm: {joints}, "
            "{lap_length_mm:.0f} mm of glue face. A joined floor sags: glue a whole sheet over it, "
            "and ask a conservator for heavy objects.",
            count=len(self.parts),
            overlap_mm=OVERLAP_MM,
            joints=joints,
            lap_length_mm=self.lap_length_mm,
        )
        return said + (
            " " + say("A joint lies over a fold or a cut; glue it after folding.") if self.crosses else ""
        )


def split(blank: Blank, along_mm: float, across_mm: float, overlap_mm: float = OVERLAP_MM) -> Joined:
    """Part a blank so that every part fits a sheet, with as few parts as there can be.

    blank: mm. along_mm, across_mm: usable face of the sheet along and across the flutes. overlap_mm: of each
    joint.
    Joints are laid where no score, cut or opening is, as near to even parts as that allows.
    Raises SizeRefused for a sheet that is not twice as wide as the overlap.
    Source: n parts of length s joined with overlap o reach n s - (n - 1) o.
    """
    if min(along_mm, across_mm) <= 2 * overlap_mm:
        raise SizeRefused(
            say(
                "A sheet of {along_mm:.0f} x {across_mm:.0f} mm is too small for parts joined with an "
                "overlap of {overlap_mm:.0f} mm. Use a larger sheet.",
                along_mm=along_mm,
                across_mm=across_mm,
                overlap_mm=overlap_mm,
            )
        )
    side_x, side_y = (along_mm, across_mm) if blank.flute_along == "x" else (across_mm, along_mm)
    spans_x, crosses_x = _spans(blank.x_mm, side_x, overlap_mm, _lines(blank, True))
    spans_y, crosses_y = _spans(blank.y_mm, side_y, overlap_mm, _lines(blank, False))
    parts = tuple(
        JoinedPart(_clipped(blank, x0, y0, x1, y1), x0, y0) for y0, y1 in spans_y for x0, x1 in spans_x
    )
    joints_x, joints_y = len(spans_x) - 1, len(spans_y) - 1
    board = sum(part.blank.board_area_mm2 for part in parts)
    lengths = joints_x * blank.y_mm + joints_y * blank.x_mm
    laps = joints_x * len(spans_y) + joints_y * len(spans_x)
    return Joined(parts, laps, lengths, board - blank.board_area_mm2, crosses_x or crosses_y)


def parts_needed(size: float, side: float, overlap: float = OVERLAP_MM) -> int:
    """How many parts no longer than `side` reach `size`, each joined to the next with an overlap; mm."""
    return max(math.ceil((size - overlap) / (side - overlap) - SAME_LINE_MM), 1)


def _lines(blank: Blank, upright: bool) -> list[float]:
    """Positions along an axis at which something is scored, cut or open."""
    found = [
        line.x1 if upright else line.y1 for line in (*blank.scores, *blank.cuts) if line.is_upright is upright
    ]
    for o in blank.openings:
        start, size = (o.x_mm, o.width_mm) if upright else (o.y_mm, o.height_mm)
        found += [start, start + size / 2, start + size]
    return found


def _spans(
    size: float, side: float, overlap: float, lines: Sequence[float]
) -> tuple[list[tuple[float, float]], bool]:
    """Where each part begins and ends along an axis, and whether a joint crosses a line."""
    count = parts_needed(size, side, overlap)
    spans, start, crosses = [], 0.0, False
    for left in range(count - 1, 0, -1):
        least, most = size - left * (side - overlap), min(start + side, size)
        even = start + (size - start + left * overlap) / (left + 1)
        steps = math.floor((most - least) / STEP_MM + SAME_LINE_MM)
        near_even = min(max(even, least), most)
        ends = [near_even, *(least + i * STEP_MM for i in range(steps + 1))]
        ends.sort(key=lambda end: abs(end - even))
        free = [end for end in ends if not any(end - overlap - 1 < at < end + 1 for at in lines)]
        crosses = crosses or not free
        end = (free or ends)[0]
        spans.append((start, end))
        start = end - overlap
    return [*spans, (start, size)], crosses


def _clipped(blank: Blank, x0: float, y0: float, x1: float, y1: float) -> Blank:
    """What of a blank lies within a rectangle, as a blank of its own."""

    def rectangles[R: Rectangle](found: Iterable[R]) -> Iterator[R]:
        for piece in found:
            left, near = max(piece.x_mm, x0), max(piece.y_mm, y0)
            right = min(piece.x_mm + piece.width_mm, x1)
            far = min(piece.y_mm + piece.height_mm, y1)
            if (
                right - left >= -SAME_LINE_MM
                and far - near >= -SAME_LINE_MM
                and ((right - left) * (far - near) > SAME_LINE_MM or piece.area_mm2 == 0)
            ):
                yield replace(
                    piece, x_mm=left - x0, y_mm=near - y0, width_mm=right - left, height_mm=far - near
                )

    def lines[L: Line](found: Iterable[L]) -> Iterator[L]:
        for line in found:
            a, b = max(line.x1, x0), min(line.x2, x1)
            c, d = max(line.y1, y0), min(line.y2, y1)
            on_rim = line.is_upright and (a in (x0, x1)) or not line.is_upright and (c in (y0, y1))
            if a <= b and c <= d and (b - a) + (d - c) > SAME_LINE_MM and not on_rim:
                yield replace(line, x1=a - x0, x2=b - x0, y1=c - y0, y2=d - y0)

    scores, cuts = tuple(lines(blank.scores)), tuple(lines(blank.cuts))

    def within(marks: tuple[float, ...], low: float, high: float, *ends: float) -> tuple[float, ...]:
        inner = (mark - low for mark in marks if low + SAME_LINE_MM < mark < high - SAME_LINE_MM)
        return tuple(sorted((*ends, *inner)))

    return replace(
        blank,
        x_mm=x1 - x0,
        y_mm=y1 - y0,
        panels=tuple(rectangles(blank.panels)),
        waste=tuple(rectangles(blank.waste)),
        cuts=cuts,
        scores=scores,
        marks_x=within(blank.marks_x, x0, x1, 0.0, x1 - x0),
        marks_y=within(blank.marks_y, y0, y1, 0.0, y1 - y0),
        flap_marks_x=within(blank.flap_marks_x, x0, x1),
        flap_marks_y=within(blank.flap_marks_y, y0, y1),
        trim_marks_x=within(blank.trim_marks_x, x0, x1),
        trim_marks_y=within(blank.trim_marks_y, y0, y1),
        openings=tuple(rectangles(blank.openings)),
    )
