"""An enclosure folding up: its panels as nested rectangles with hinges, and the order they turn in."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from housing.core.blank import Blank, CutOut, Rectangle, Score
from housing.core.drawing.openings import outline
from housing.core.drawing.svg import number
from housing.core.enclosures.form import Part, Seat
from housing.core.enclosures.seating import around, turn_of
from housing.core.folding import Bounds
from objects.core.phrases import joined

GAP_SHARE = 0.06  # of the largest blank, between one blank and the next
LAID_OUT = 1.9  # how much wider than deep the blanks are laid out together, about
MOST_CLOSER = 2.4  # how much larger the closed enclosure may be shown than the blanks
TILT = math.radians(56)  # of the table towards the eye, as folding.css has it
IN_VIEW = 2 / 3  # height of the picture in parts of its width, as folding.css has it
# By seat, degrees about the upright axis and before that about the axis from left to right that put a part
# upside down or upright; y runs downward as on a screen.
OPPOSITE = {"near": "far", "far": "near", "left": "right", "right": "left"}
TURNS = {Seat.OVER: (0, -180), Seat.ACROSS_X: (0, -90), Seat.ACROSS_Y: (-90, -90)}


@dataclass(frozen=True)
class PanelView:
    """A panel within the one it hangs on, mm, y downward.

    left, top: of its rectangle from its parent's upper left corner. edge: of the parent it is folded from, ""
    for a floor. step: with which of the view's steps it folds, from 0. face: an SVG path around it and its
    openings. rims: its edges that are cut, where the thickness of the board shows. panels: those that hang
    on it.
    """

    name: str
    left: float
    top: float
    width: float
    height: float
    edge: str
    is_flap: bool
    step: int
    face: str
    rims: tuple[str, ...]
    panels: "tuple[PanelView, ...]"


@dataclass(frozen=True)
class PartView:
    """A part on the table, and how it goes to its place at the end; mm, y downward, z towards the eye.

    left, top: where its floor's near left corner lies. thick: of its board. depth: how far below the inner
    face its folds turn. to_x, to_y, to_z: how far that corner moves. over: how high it is held on the way.
    turn_x, turn_z: degrees it turns. step: when, from 0; None for a part that stays.
    """

    name: str
    left: float
    top: float
    thick: float
    depth: float
    to_x: float
    to_y: float
    to_z: float
    over: float
    turn_x: int
    turn_z: int
    step: int | None
    floor: PanelView


@dataclass(frozen=True)
class FoldingView:
    """All parts side by side on the table, and the steps from flat to closed.

    steps: what is folded or put in its place, in words, in order. across: sides of a square that holds the
    blanks however they are turned, mm. middle, closed_middle: of the blanks and of the closed enclosure, mm.
    closer: how much larger the closed enclosure may be shown.
    """

    parts: tuple[PartView, ...]
    steps: tuple[str, ...]
    across: float
    middle: tuple[float, float, float]
    closed_middle: tuple[float, float, float]
    closer: float


def folding_view(parts: Sequence[Part], fold_share: float) -> FoldingView:
    """The nested panels of an enclosure and the steps they fold in.

    parts: flat and folded, mm, the one it stands on first. fold_share: share of the caliper that lies
    between the inner face and the axis a fold turns about.
    Returns mm with y downward. Folds run in the order of their stages, in all parts together; then what
    stands inside is put in, then what goes over is turned and put on.
    Source: rigid rotation about each score, as the folded part is worked out (housing/core/folding.py).
    """
    stages = sorted({score.stage for part in parts for score in part.blank.scores})
    steps = [
        _folded([score for part in parts for score in part.blank.scores if score.stage == s]) for s in stages
    ]
    step_of = {stage: step for step, stage in enumerate(stages)}
    put_in = [part for part in parts if part.seat in (Seat.INSIDE, Seat.ACROSS_X, Seat.ACROSS_Y)]
    put_on = [part for part in parts if part.seat is Seat.OVER]
    put_step: dict[str, int] = {}
    for moved, words in ((put_in, "put in"), (put_on, "put on")):
        if moved:
            put_step.update({part.name: len(steps) for part in moved})
            steps.append(f"{_listed([part.name for part in moved])} {words}")
    places, wide, high = _laid_out([part.blank for part in parts])
    first = _corner(parts[0].blank, places[0])
    views, final = [], list[Bounds]()
    for part, place in zip(parts, places, strict=True):
        corner = _corner(part.blank, place)
        view, box = _part(part, parts[0], corner, first, put_step.get(part.name), step_of, fold_share)
        views.append(view)
        final.append(box)
    closed = around(final)
    across = math.hypot(wide, high)
    return FoldingView(
        parts=tuple(views),
        steps=tuple(steps),
        across=across,
        middle=(wide / 2, high / 2, 0.0),
        closed_middle=((closed[0] + closed[3]) / 2, (closed[1] + closed[4]) / 2, (closed[2] + closed[5]) / 2),
        closer=_closer(closed, across),
    )


def _closer(closed: Bounds, across: float) -> float:
    """How much larger a closed enclosure may be shown so that it stays in view however it is turned."""
    floor, high = math.hypot(closed[3] - closed[0], closed[4] - closed[1]), closed[5] - closed[2]
    drawn_high = floor * math.cos(TILT) + high * math.sin(TILT)
    return min(max(0.9 * min(across / floor, IN_VIEW * across / drawn_high), 1.0), MOST_CLOSER)


def _part(
    part: Part,
    first: Part,
    corner: tuple[float, float],
    first_corner: tuple[float, float],
    step: int | None,
    step_of: dict[int, int],
    fold_share: float,
) -> tuple[PartView, Bounds]:
    """A part on the table, and the box it ends up in there, y downward."""
    blank, bounds = part.blank, part.folded.bounds
    turn_z, turn_x = TURNS.get(part.seat, (0, 0))
    own = _turned(bounds, turn_x, turn_z)
    seat = turn_of(part, first)
    if step is None or seat is None:
        at, to = corner, (0.0, 0.0, 0.0)
    else:
        x0, y0, z0, x1, y1, z1 = seat.of(bounds)
        target = (x0, -y1, z0)
        at = first_corner
        to = (
            at[0] + target[0] - own[0] - corner[0],
            at[1] + target[1] - own[1] - corner[1],
            target[2] - own[2],
        )  # fmt: skip
    box: Bounds = (
        corner[0] + to[0] + own[0], corner[1] + to[1] + own[1], to[2] + own[2],
        corner[0] + to[0] + own[3], corner[1] + to[1] + own[4], to[2] + own[5],
    )  # fmt: skip
    thick = -part.folded.plates[0].bounds[2]
    view = PartView(
        name=part.name,
        left=corner[0],
        top=corner[1],
        thick=thick,
        depth=fold_share * thick,
        to_x=to[0],
        to_y=to[1],
        to_z=to[2],
        over=first.folded.bounds[5] - own[2] + thick,
        turn_x=turn_x if step is not None else 0,
        turn_z=turn_z if step is not None else 0,
        step=step,
        floor=_panel(blank, blank.panels[0], None, step_of),
    )
    return view, box


def _turned(bounds: Bounds, turn_x: int, turn_z: int) -> Bounds:
    """Bounds about the floor's corner, y downward, after a turn about x and then about z by right angles."""
    points = []
    for x in (bounds[0], bounds[3]):
        for y in (-bounds[1], -bounds[4]):
            for z in (bounds[2], bounds[5]):
                c, s = round(math.cos(math.radians(turn_x))), round(math.sin(math.radians(turn_x)))
                _, b, at_z = x, y * c - z * s, y * s + z * c
                c, s = round(math.cos(math.radians(turn_z))), round(math.sin(math.radians(turn_z)))
                points.append((x * c - b * s, x * s + b * c, at_z))
    xs, ys, zs = zip(*points, strict=True)
    return min(xs), min(ys), min(zs), max(xs), max(ys), max(zs)


def _panel(blank: Blank, panel: Rectangle, score: Score | None, step_of: dict[int, int]) -> PanelView:
    """A panel and what hangs on it; its place is counted from its parent's upper left corner."""
    parent = panel if score is None else next(each for each in blank.panels if each.name == score.parent)
    rectangles = {each.name: each for each in blank.panels}
    hung = [each for each in blank.scores if each.parent == panel.name]
    folded = {each.edge for each in hung} | (set() if score is None else {OPPOSITE[score.edge]})
    return PanelView(
        name=panel.name,
        left=panel.x_mm - parent.x_mm,
        # A floor's upper left corner lies as far above its near left one, which the part is placed by.
        top=-panel.height_mm if score is None else _top(parent) - _top(panel),
        width=panel.width_mm,
        height=panel.height_mm,
        edge="" if score is None else score.edge,
        is_flap=score is not None and score.is_flap,
        step=0 if score is None else step_of[score.stage],
        face=_face(panel, [opening for opening in blank.openings if opening.panel == panel.name]),
        rims=tuple(edge for edge in OPPOSITE if edge not in folded),
        panels=tuple(_panel(blank, rectangles[each.panel], each, step_of) for each in hung),
    )


def _top(panel: Rectangle) -> float:
    return panel.y_mm + panel.height_mm


def _face(panel: Rectangle, openings: Sequence[CutOut]) -> str:
    """A path around a panel and around its openings, from its upper left corner."""
    wide, high = number(panel.width_mm), number(panel.height_mm)
    drawn = [f"M0 0H{wide}V{high}H0Z"]
    for opening in openings:
        points = " L".join(f"{number(x - panel.x_mm)} {number(_top(panel) - y)}" for x, y in outline(opening))
        drawn.append(f"M{points}" + ("" if opening.shape == "slit" else "Z"))
    return "".join(drawn)


def _laid_out(blanks: Sequence[Blank]) -> tuple[list[tuple[float, float]], float, float]:
    """Upper left corners of blanks laid out in rows, and the width and depth of all together, mm."""
    gap = GAP_SHARE * max(max(blank.x_mm, blank.y_mm) for blank in blanks)
    area = sum((blank.x_mm + gap) * (blank.y_mm + gap) for blank in blanks)
    widest = max(max(blank.x_mm for blank in blanks), math.sqrt(LAID_OUT * area))
    places: list[tuple[float, float]] = []
    x = y = deep = wide = 0.0
    for blank in blanks:
        if x and x + blank.x_mm > widest * 1.1:
            x, y, deep = 0.0, y + deep + gap, 0.0
        places.append((x, y))
        wide, deep = max(wide, x + blank.x_mm), max(deep, blank.y_mm)
        x += blank.x_mm + gap
    return places, wide, y + deep


def _corner(blank: Blank, place: tuple[float, float]) -> tuple[float, float]:
    """Where a floor's near left corner lies when its blank's upper left corner lies at a place."""
    floor = blank.panels[0]
    return place[0] + floor.x_mm, place[1] + blank.y_mm - floor.y_mm


def _folded(scores: Sequence[Score]) -> str:
    return f"{_listed([score.panel for score in scores])} folded up"


def _listed(names: Sequence[str]) -> str:
    """Names of panels or parts; many are told by what they are: left wall, right wall, … → walls."""
    distinct = list(dict.fromkeys(names))
    if len(distinct) > 2:
        distinct = [f"{kind}s" for kind in dict.fromkeys(_kind(name) for name in distinct)]
    return joined(distinct)


def _kind(name: str) -> str:
    words = [word for word in name.split(" ") if not word.isdigit()]
    return words[-1]
