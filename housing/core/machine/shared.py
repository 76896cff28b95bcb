"""Straight lines that lie on each other: what of a line is not drawn yet, so that nothing is cut twice."""

from collections import defaultdict
from collections.abc import Iterable, Iterator

from housing.core.machine.strokes import SAME_MM, Point, Stroke, run

type Span = tuple[float, float]


class Drawn:
    """The upright and level lines drawn so far; others and arcs are never shared."""

    def __init__(self, within_mm: float = SAME_MM) -> None:
        self.within = within_mm
        self.spans: dict[tuple[bool, int], list[tuple[float, float, float]]] = defaultdict(list)

    def add(self, strokes: Iterable[Stroke]) -> None:
        """Remember the straight lines of some strokes."""
        for stroke in strokes:
            for start, end, bulge in stroke.lines:
                if not bulge and (key := self._key(start, end)):
                    upright, at, low, high = key
                    self.spans[upright, round(at)].append((at, low, high))

    def left_of(self, stroke: Stroke) -> list[Stroke]:
        """What of a stroke is not drawn yet: itself, if that is all of it, else the runs that remain."""
        kept = [
            part
            for start, end, bulge in stroke.lines
            for part in ([(start, end, bulge)] if bulge else self._free(start, end))
        ]
        if kept == stroke.lines:
            return [stroke]
        return list(_runs(stroke.layer, kept))

    def _key(self, start: Point, end: Point) -> tuple[bool, float, float, float] | None:
        if abs(start[0] - end[0]) < self.within:
            return True, start[0], min(start[1], end[1]), max(start[1], end[1])
        if abs(start[1] - end[1]) < self.within:
            return False, start[1], min(start[0], end[0]), max(start[0], end[0])
        return None

    def _free(self, start: Point, end: Point) -> list[tuple[Point, Point, float]]:
        key = self._key(start, end)
        if key is None:
            return [(start, end, 0.0)]
        upright, at, low, high = key
        taken = sorted(
            (begins, ends)
            for number in {round(at) - 1, round(at), round(at) + 1}
            for there, begins, ends in self.spans.get((upright, number), ())
            if abs(there - at) < self.within
        )
        free = list(_without((low, high), taken, self.within))
        if free == [(low, high)]:
            return [(start, end, 0.0)]
        is_back = (start[1], start[0])[not upright] > (end[1], end[0])[not upright]
        parts = [(_at(upright, at, a), _at(upright, at, b), 0.0) for a, b in free]
        return [(b, a, 0.0) for a, b, _ in reversed(parts)] if is_back else parts


def _at(upright: bool, at: float, along: float) -> Point:
    return (at, along) if upright else (along, at)


def _without(span: Span, taken: Iterable[Span], within: float) -> Iterator[Span]:
    """What of a span is in none of some others, which come in order."""
    at = span[0]
    for begins, ends in taken:
        if ends <= at or begins >= span[1]:
            continue
        if begins - at > within:
            yield at, begins
        at = max(at, ends)
    if span[1] - at > within or at == span[0]:
        yield at, span[1]


def _runs(layer: str, lines: list[tuple[Point, Point, float]]) -> Iterator[Stroke]:
    """Lines put together to runs where one begins at the end of the one before, round the first one too."""
    runs: list[list[tuple[Point, Point, float]]] = []
    for line in lines:
        if runs and _meet(runs[-1][-1][1], line[0]):
            runs[-1].append(line)
        else:
            runs.append([line])
    if len(runs) > 1 and _meet(runs[-1][-1][1], runs[0][0][0]):
        runs[0] = runs.pop() + runs[0]
    for some in runs:
        bulges = tuple(bulge for _, _, bulge in some)
        points = (*(start for start, _, _ in some), some[-1][1])
        if any(bulges):
            yield Stroke(layer, points, (*bulges, 0.0))
        else:
            yield run(layer, points)


def _meet(a: Point, b: Point) -> bool:
    return abs(a[0] - b[0]) < SAME_MM and abs(a[1] - b[1]) < SAME_MM
