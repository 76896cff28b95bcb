"""What a panel tree gives when it lies flat: cut and score lines, marks, waste and the figures for labour."""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

from housing.core.panels import PanelTree, PlacedPanel, placed_panels

# Positions closer than this are one line: far below what a knife can follow, far above rounding error.
SAME_LINE_MM = 1e-6

type Span = tuple[float, float]  # start and end along a line
type Edge = tuple[float, float, float]  # where a line lies, and its start and end along it


@dataclass(frozen=True)
class Line:
    """A straight line on the blank, ends in mm from its near left corner."""

    x1: float
    y1: float
    x2: float
    y2: float

    @property
    def length_mm(self) -> float:
        return abs(self.x2 - self.x1) + abs(self.y2 - self.y1)

    @property
    def is_upright(self) -> bool:
        return self.x1 == self.x2


@dataclass(frozen=True)
class Score(Line):
    """A score line and the panel it folds up; is_flap tells a glued flap's hinge from a wall's fold."""

    panel: str
    is_flap: bool


@dataclass(frozen=True)
class Rectangle:
    """A rectangle on the blank: a panel or a piece of waste, in mm from the near left corner."""

    name: str
    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float

    @property
    def area_mm2(self) -> float:
        return self.width_mm * self.height_mm


@dataclass(frozen=True)
class Blank:
    """A flat blank, everything in mm from its near left corner, inside face up.

    cuts: the lines cut inside the bounding rectangle (slits beside the flaps, trims of the corners).
    marks_x, marks_y: running marks of the wall scores from the corner along both edges, ends included.
    flap_marks_x, flap_marks_y: positions of the flap hinges. trim_marks_x, trim_marks_y: where flaps end.
    """

    x_mm: float
    y_mm: float
    panels: tuple[Rectangle, ...]
    waste: tuple[Rectangle, ...]
    cuts: tuple[Line, ...]
    scores: tuple[Score, ...]
    marks_x: tuple[float, ...]
    marks_y: tuple[float, ...]
    flap_marks_x: tuple[float, ...]
    flap_marks_y: tuple[float, ...]
    trim_marks_x: tuple[float, ...]
    trim_marks_y: tuple[float, ...]
    flute_along: str
    glue_joints: int
    glue_length_mm: float

    @property
    def gross_area_mm2(self) -> float:
        return self.x_mm * self.y_mm

    @property
    def board_area_mm2(self) -> float:
        return sum(panel.area_mm2 for panel in self.panels)

    @property
    def outline_length_mm(self) -> float:
        return 2 * (self.x_mm + self.y_mm)

    @property
    def cut_length_mm(self) -> float:
        return sum(line.length_mm for line in self.cuts)

    @property
    def score_length_mm(self) -> float:
        return sum(line.length_mm for line in self.scores)

    @property
    def folds(self) -> int:
        return len(self.scores)

    @property
    def along_mm(self) -> float:
        """Size along the flutes."""
        return self.x_mm if self.flute_along == "x" else self.y_mm

    @property
    def across_mm(self) -> float:
        """Size across the flutes."""
        return self.y_mm if self.flute_along == "x" else self.x_mm


def flatten(tree: PanelTree) -> Blank:
    """Lay a panel tree flat and read off everything the maker needs.

    tree: panels in mm. Returns the blank in mm from its near left corner.
    Source: plane geometry; checked against a worked trade example and closed formulas in
        tests/housing/core/test_blank.py.
    """
    places = _from_corner(list(placed_panels(tree)))
    flaps = {joint.flap for joint in tree.joints}
    x_mm = max(place.x1 for place in places)
    y_mm = max(place.y1 for place in places)
    cuts, scores = _lines(places, flaps, x_mm, y_mm)
    marks_x = _positions((s.x1 for s in scores if s.is_upright and not s.is_flap), (0.0, x_mm))
    marks_y = _positions((s.y1 for s in scores if not s.is_upright and not s.is_flap), (0.0, y_mm))
    return Blank(
        x_mm=x_mm,
        y_mm=y_mm,
        panels=tuple(Rectangle(p.panel.name, p.x0, p.y0, p.x1 - p.x0, p.y1 - p.y0) for p in places),
        waste=_waste(places, x_mm, y_mm),
        cuts=cuts,
        scores=scores,
        marks_x=marks_x,
        marks_y=marks_y,
        flap_marks_x=_positions(s.x1 for s in scores if s.is_upright and s.is_flap),
        flap_marks_y=_positions(s.y1 for s in scores if not s.is_upright and s.is_flap),
        trim_marks_x=_positions(c.x1 for c in cuts if c.is_upright and not _among(c.x1, marks_x)),
        trim_marks_y=_positions(c.y1 for c in cuts if not c.is_upright and not _among(c.y1, marks_y)),
        flute_along=tree.flute_along,
        glue_joints=len(tree.joints),
        glue_length_mm=sum(joint.length_mm for joint in tree.joints),
    )


def _from_corner(places: list[PlacedPanel]) -> list[PlacedPanel]:
    left = min(place.x0 for place in places)
    near = min(place.y0 for place in places)
    return [
        PlacedPanel(p.panel, p.parent, p.fold_edge, p.x0 - left, p.y0 - near, p.x1 - left, p.y1 - near)
        for p in places
    ]


def _positions(values: Iterable[float], ends: Iterable[float] = ()) -> tuple[float, ...]:
    kept: list[float] = []
    for value in sorted([*values, *ends]):
        if not kept or value - kept[-1] >= SAME_LINE_MM:
            kept.append(value)
    return tuple(kept)


def _among(value: float, others: Iterable[float]) -> bool:
    return any(abs(value - other) < SAME_LINE_MM for other in others)


def _lines(
    places: list[PlacedPanel], flaps: set[str], x_mm: float, y_mm: float
) -> tuple[tuple[Line, ...], tuple[Score, ...]]:
    by_name = {place.panel.name: place for place in places}
    scores = tuple(
        Score(*_fold_line(p, by_name[p.parent]), panel=p.panel.name, is_flap=p.panel.name in flaps)
        for p in places
        if p.parent is not None
    )
    upright = [(at, p.y0, p.y1) for p in places for at in (p.x0, p.x1)]
    level = [(at, p.x0, p.x1) for p in places for at in (p.y0, p.y1)]
    upright_folds = [(s.x1, s.y1, s.y2) for s in scores if s.is_upright]
    level_folds = [(s.y1, s.x1, s.x2) for s in scores if not s.is_upright]
    cuts = [Line(at, start, at, end) for at, start, end in _cut_edges(upright, upright_folds, x_mm)]
    cuts += [Line(start, at, end, at) for at, start, end in _cut_edges(level, level_folds, y_mm)]
    return tuple(cuts), scores


def _fold_line(place: PlacedPanel, parent: PlacedPanel) -> tuple[float, float, float, float]:
    assert place.fold_edge is not None
    if place.fold_edge.is_upright:
        x = parent.x0 if place.fold_edge == "left" else parent.x1
        return x, max(place.y0, parent.y0), x, min(place.y1, parent.y1)
    y = parent.y0 if place.fold_edge == "near" else parent.y1
    return max(place.x0, parent.x0), y, min(place.x1, parent.x1), y


def _cut_edges(edges: list[Edge], folds: list[Edge], limit: float) -> Iterable[Edge]:
    """Panel edges inside the bounding rectangle that are not folds, joined where they touch."""
    lines: list[tuple[float, list[Span]]] = []
    for at, start, end in sorted(edges):
        if lines and at - lines[-1][0] < SAME_LINE_MM:
            lines[-1][1].append((start, end))
        elif SAME_LINE_MM < at < limit - SAME_LINE_MM:
            lines.append((at, [(start, end)]))
    for at, spans in lines:
        folded = [(start, end) for where, start, end in folds if abs(where - at) < SAME_LINE_MM]
        yield from ((at, start, end) for start, end in _without(_joined(spans), _joined(folded)))


def _joined(spans: Iterable[Span]) -> list[Span]:
    joined: list[Span] = []
    for start, end in sorted(spans):
        if joined and start <= joined[-1][1] + SAME_LINE_MM:
            joined[-1] = (joined[-1][0], max(end, joined[-1][1]))
        else:
            joined.append((start, end))
    return joined


def _without(spans: list[Span], taken: list[Span]) -> Iterable[Span]:
    for start, end in spans:
        at = start
        for taken_start, taken_end in taken:
            if taken_end <= at or taken_start >= end:
                continue
            if taken_start - at > SAME_LINE_MM:
                yield at, taken_start
            at = max(at, taken_end)
        if end - at > SAME_LINE_MM:
            yield at, end


def _waste(places: list[PlacedPanel], x_mm: float, y_mm: float) -> tuple[Rectangle, ...]:
    """Rectangles of the bounding rectangle that no panel covers, as wide as they will go."""
    found: list[Rectangle] = []
    xs = _positions((v for p in places for v in (p.x0, p.x1)), (0.0, x_mm))
    for x0, x1 in pairwise(xs):
        middle = (x0 + x1) / 2
        covered = _joined((p.y0, p.y1) for p in places if p.x0 < middle < p.x1)
        for y0, y1 in _without([(0.0, y_mm)], covered):
            left = x0
            for before in found:
                if before.x_mm + before.width_mm == x0 and (before.y_mm, before.height_mm) == (y0, y1 - y0):
                    left = before.x_mm
                    found.remove(before)
                    break
            found.append(Rectangle("corner waste", left, y0, x1 - left, y1 - y0))
    return tuple(found)
