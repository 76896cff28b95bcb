"""The panel tree laid flat: where every panel, score, cut and piece of waste lies on the blank."""

from collections.abc import Iterable
from itertools import pairwise

from boards.core.board import BoardSpec
from housing.core.blank import SAME_LINE_MM, Blank, CutOut, Line, Rectangle, Score
from housing.core.errors import PanelsCollide
from housing.core.marking_out import MarkingOut
from housing.core.panels import Align, Edge, Opening, Panel, PanelTree, Place, Shape
from housing.core.rounding import rounded

type Span = tuple[float, float]  # start and end along a line

LEFT, RIGHT, NEAR, FAR = Edge.LEFT, Edge.RIGHT, Edge.NEAR, Edge.FAR
EXACT = MarkingOut()


def flatten(tree: PanelTree, board: BoardSpec, marking_out: MarkingOut = EXACT) -> Blank:
    """Lay a panel tree flat and read off everything the maker needs.

    tree: panels by their clear sizes, mm. board: caliper in mm and fold share; each fold adds fold share x
    caliper to the panels it joins, unless the blank is drawn nominally. marking_out: way and step of drawing.
    Returns the blank in mm from its near left corner.
    Raises PanelsCollide when two panels would lie on the same board.
    Source: fold model (boards/core/board.py) and plane geometry; checked against a worked trade example and
        closed formulas in tests/housing/core/test_flattening.py.
    """
    places = _places(tree.floor, board, marking_out.is_compensated)
    if marking_out.step_mm:
        places = rounded(places, marking_out.step_mm)
    places, x_mm, y_mm = _from_corner(places)
    scores = _scores(places)
    flaps = {place[0].name for place in places if place[0].is_flap}
    marks_x = _positions([s.x1 for s in scores if s.x1 == s.x2 and not s.is_flap] + [0.0, x_mm])
    marks_y = _positions([s.y1 for s in scores if s.x1 != s.x2 and not s.is_flap] + [0.0, y_mm])
    cuts_x, cuts_y = _cuts(places, scores, x_mm, y_mm)
    panels = tuple(Rectangle(p.name, x0, y0, x1 - x0, y1 - y0) for p, _, x0, y0, x1, y1 in places)
    waste = _waste(places, x_mm, y_mm)
    _refuse_overlap(panels, waste, x_mm * y_mm)
    return Blank(
        x_mm=x_mm,
        y_mm=y_mm,
        panels=panels,
        waste=waste,
        cuts=(*cuts_x, *cuts_y),
        scores=scores,
        marks_x=marks_x,
        marks_y=marks_y,
        flap_marks_x=_positions([s.x1 for s in scores if s.x1 == s.x2 and s.is_flap]),
        flap_marks_y=_positions([s.y1 for s in scores if s.x1 != s.x2 and s.is_flap]),
        trim_marks_x=_without_marks(_positions([cut.x1 for cut in cuts_x]), marks_x) if flaps else (),
        trim_marks_y=_without_marks(_positions([cut.y1 for cut in cuts_y]), marks_y) if flaps else (),
        flute_along=tree.flute_along,
        glue_joints=len(tree.joints),
        glue_length_mm=_glue_length(tree, places, scores),
        openings=tuple(_cut_out(opening, place) for place in places for opening in place[0].openings),
    )


def _places(floor: Panel, board: BoardSpec, is_compensated: bool) -> list[Place]:
    """Every panel where it lies, from the floor's near left corner, parents before their children."""
    lost = board.fold_share * board.caliper_mm
    take = lost if is_compensated else 0.0
    # A wall whose end butts against a neighbour's inner face presses into it; more than half a caliper no
    # board gives way, so that much is taken off the wall.
    ease = max(0.0, lost - board.caliper_mm / 2)
    across = sum(panel.edge is LEFT or panel.edge is RIGHT for panel in floor.panels)
    assert floor.along_mm is not None, "a floor has no edge to be as long as"
    places: list[Place] = [
        (
            floor, -1, 0.0, 0.0,
            floor.along_mm + take * across, floor.reach_mm + take * (len(floor.panels) - across),
        )
    ]  # fmt: skip
    for index, (parent, _, x0, y0, x1, y1) in enumerate(places):
        for panel in parent.panels:
            edge = panel.edge
            upright = edge is LEFT or edge is RIGHT
            start, end = (y0, y1) if upright else (x0, x1)
            outward = beside = 0
            for further in panel.panels:
                if further.edge is edge:
                    outward += 1
                else:
                    beside += 1
            reach = panel.reach_mm if panel.is_flap else panel.reach_mm + take * (1 + outward)
            if panel.along_mm is None:
                if ease and not (panel.is_flap or beside):
                    butts = {sibling.edge for sibling in parent.panels}
                    start += ease if (NEAR if upright else LEFT) in butts else 0.0
                    end -= ease if (FAR if upright else RIGHT) in butts else 0.0
            else:
                along = panel.along_mm + take * beside
                if panel.align is Align.MIDDLE:
                    start = (start + end - along) / 2
                elif panel.align is Align.END:
                    start = end - along
                end = start + along
            if edge is LEFT:
                places.append((panel, index, x0 - reach, start, x0, end))
            elif edge is RIGHT:
                places.append((panel, index, x1, start, x1 + reach, end))
            elif edge is NEAR:
                places.append((panel, index, start, y0 - reach, end, y0))
            else:
                places.append((panel, index, start, y1, end, y1 + reach))
    return places


def _from_corner(places: list[Place]) -> tuple[list[Place], float, float]:
    left = min(place[2] for place in places)
    near = min(place[3] for place in places)
    moved = [
        (panel, parent, x0 - left, y0 - near, x1 - left, y1 - near)
        for panel, parent, x0, y0, x1, y1 in places
    ]
    return moved, max(place[4] for place in moved), max(place[5] for place in moved)


def _positions(values: Iterable[float]) -> tuple[float, ...]:
    kept: list[float] = []
    for value in sorted(values):
        if not kept or value - kept[-1] >= SAME_LINE_MM:
            kept.append(value)
    return tuple(kept)


def _without_marks(values: tuple[float, ...], marks: tuple[float, ...]) -> tuple[float, ...]:
    return tuple(value for value in values if all(abs(value - mark) >= SAME_LINE_MM for mark in marks))


def _scores(places: list[Place]) -> tuple[Score, ...]:
    found = []
    for panel, above, x0, y0, x1, y1 in places[1:]:
        parent, _, px0, py0, px1, py1 = places[above]
        edge = panel.edge
        if edge is LEFT or edge is RIGHT:
            ax = bx = px0 if edge is LEFT else px1
            ay, by = max(y0, py0), min(y1, py1)
        else:
            ay = by = py0 if edge is NEAR else py1
            ax, bx = max(x0, px0), min(x1, px1)
        assert edge is not None
        found.append(Score(ax, ay, bx, by, panel.name, panel.is_flap, parent.name, edge.value, panel.stage))
    return tuple(found)


def _cuts(
    places: list[Place], scores: tuple[Score, ...], x_mm: float, y_mm: float
) -> tuple[list[Line], list[Line]]:
    """Upright and level cuts: edges of panels that are neither folds nor on the bounding rectangle."""
    upright = [edge for p in places for edge in ((p[2], p[3], p[5]), (p[4], p[3], p[5]))]
    level = [edge for p in places for edge in ((p[3], p[2], p[4]), (p[5], p[2], p[4]))]
    upright_folds = [(s.x1, s.y1, s.y2) for s in scores if s.x1 == s.x2]
    level_folds = [(s.y1, s.x1, s.x2) for s in scores if s.x1 != s.x2]
    return (
        [Line(at, start, at, end) for at, start, end in _cut_edges(upright, upright_folds, x_mm)],
        [Line(start, at, end, at) for at, start, end in _cut_edges(level, level_folds, y_mm)],
    )


def _cut_edges(
    edges: list[tuple[float, float, float]], folds: list[tuple[float, float, float]], limit: float
) -> list[tuple[float, float, float]]:
    """Edges inside the bounding rectangle that are not folds, joined where they touch."""
    lines: list[tuple[float, list[Span]]] = []
    edges.sort()
    for at, start, end in edges:
        if lines and at - lines[-1][0] < SAME_LINE_MM:
            lines[-1][1].append((start, end))
        elif SAME_LINE_MM < at < limit - SAME_LINE_MM:
            lines.append((at, [(start, end)]))
    found = []
    for at, spans in lines:
        folded = [fold[1:] for fold in folds if -SAME_LINE_MM < fold[0] - at < SAME_LINE_MM]
        for start, end in _without(_joined(spans), _joined(folded)):
            found.append((at, start, end))
    return found


def _joined(spans: list[Span]) -> list[Span]:
    if len(spans) < 2:
        return spans
    spans.sort()
    joined = [spans[0]]
    for start, end in spans[1:]:
        last = joined[-1]
        if start <= last[1] + SAME_LINE_MM:
            if end > last[1]:
                joined[-1] = (last[0], end)
        else:
            joined.append((start, end))
    return joined


def _without(spans: list[Span], taken: list[Span]) -> list[Span]:
    left = []
    for start, end in spans:
        at = start
        for taken_start, taken_end in taken:
            if taken_end <= at or taken_start >= end:
                continue
            if taken_start - at > SAME_LINE_MM:
                left.append((at, taken_start))
            if taken_end > at:
                at = taken_end
        if end - at > SAME_LINE_MM:
            left.append((at, end))
    return left


def _waste(places: list[Place], x_mm: float, y_mm: float) -> tuple[Rectangle, ...]:
    """Rectangles of the bounding rectangle that no panel covers, as wide as they will go."""
    found: list[list[float]] = []  # x0, y0, x1, y1
    xs = _positions([edge for p in places for edge in (p[2], p[4])])
    open_ended: list[list[float]] = []
    for x0, x1 in pairwise(xs):
        middle = (x0 + x1) / 2
        covered = _joined([(p[3], p[5]) for p in places if p[2] < middle < p[4]])
        ending, open_ended = open_ended, []
        for y0, y1 in _without([(0.0, y_mm)], covered):
            for piece in ending:
                if piece[1] == y0 and piece[3] == y1:
                    piece[2] = x1
                    break
            else:
                piece = [x0, y0, x1, y1]
                found.append(piece)
            open_ended.append(piece)
    return tuple(Rectangle("corner waste", x0, y0, x1 - x0, y1 - y0) for x0, y0, x1, y1 in found)


def _refuse_overlap(panels: tuple[Rectangle, ...], waste: tuple[Rectangle, ...], gross: float) -> None:
    """What panels and waste have too much of together, two panels share."""
    covered = sum(p.width_mm * p.height_mm for p in panels) + sum(w.width_mm * w.height_mm for w in waste)
    if covered - gross > 1e-6 * gross + 1e-3:
        first, second = _overlapping(panels)
        raise PanelsCollide(
            f"On the flat blank the {first} and the {second} would lie on the same board. "
            "Make the flaps narrower, or choose another form for this size."
        )


def _overlapping(panels: tuple[Rectangle, ...]) -> tuple[str, str]:
    def shared(a: Rectangle, b: Rectangle) -> float:
        wide = min(a.x_mm + a.width_mm, b.x_mm + b.width_mm) - max(a.x_mm, b.x_mm)
        high = min(a.y_mm + a.height_mm, b.y_mm + b.height_mm) - max(a.y_mm, b.y_mm)
        return max(wide, 0.0) * max(high, 0.0)

    pairs = [(shared(a, b), a.name, b.name) for i, a in enumerate(panels) for b in panels[:i]]
    return max(pairs)[1:]


def _glue_length(tree: PanelTree, places: list[Place], scores: tuple[Score, ...]) -> float:
    if not tree.joints:
        return 0.0
    of_fold = {score.panel: score.length_mm for score in scores}
    lengths = 0.0
    for joint in tree.joints:
        if joint.is_edge:
            panel, _, x0, y0, x1, y1 = next(place for place in places if place[0].name == joint.flap)
            lengths += x1 - x0 if panel.edge in (LEFT, RIGHT) else y1 - y0
        else:
            lengths += of_fold[joint.flap]
    return lengths


def _cut_out(opening: Opening, place: Place) -> CutOut:
    """An opening of a panel where it lies on the blank."""
    panel, _, x0, y0, x1, y1 = place
    edge = panel.edge or FAR
    upright = edge is LEFT or edge is RIGHT
    along_from, along_to = (y0, y1) if upright else (x0, x1)
    along = (along_from + along_to) / 2 if opening.at_along_mm is None else along_from + opening.at_along_mm
    reach = x1 - x0 if upright else y1 - y0
    out = reach / 2 if opening.at_out_mm is None else opening.at_out_mm
    out = reach - out if opening.from_rim else out
    a0, o0 = along - opening.along_mm / 2, out - opening.out_mm / 2
    open_edge = _open_edge(opening, edge, o0, reach)
    if edge is LEFT:
        x, y = x1 - o0 - opening.out_mm, a0
    elif edge is RIGHT:
        x, y = x0 + o0, a0
    elif edge is NEAR:
        x, y = a0, y1 - o0 - opening.out_mm
    else:
        x, y = a0, y0 + o0
    wide, high = (opening.out_mm, opening.along_mm) if upright else (opening.along_mm, opening.out_mm)
    return CutOut(opening.name, x, y, wide, high, panel.name, opening.shape.value, open_edge)


def _open_edge(opening: Opening, edge: Edge, from_fold: float, reach: float) -> str:
    """The edge of the blank's panel an opening is cut in from, if any; a slit has none."""
    if opening.shape is Shape.SLIT:
        return ""
    if abs(from_fold + opening.out_mm - reach) < SAME_LINE_MM:
        return edge.value
    if abs(from_fold) < SAME_LINE_MM:
        return {LEFT: RIGHT, RIGHT: LEFT, NEAR: FAR, FAR: NEAR}[edge].value
    return ""
