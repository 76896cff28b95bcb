"""Tray in one piece with four glued corner flaps: the base of most boxes, and an open tray for drawers."""

from boards.core.board import BoardSpec
from housing.core.clearances import INCH, InnerSize
from housing.core.enclosures.form import NOMINAL, BuiltForm, Form, FormOptions
from housing.core.errors import FlapTooWide
from housing.core.panels import Edge, Fold, GlueJoint, Panel, PanelTree

# Common practice, no source: corner flaps are trimmed to 2 1/2 in on walls tall enough for it.
DEFAULT_FLAP_MM = 2.5 * INCH


def build(inner: InnerSize, board: BoardSpec, options: FormOptions) -> BuiltForm:
    """An open tray around a clear inside; see tray_tree."""
    return BuiltForm(trees=(("tray", tray_tree(inner, board, options)),))


def tray_tree(inner: InnerSize, board: BoardSpec, options: FormOptions) -> PanelTree:
    """Panel tree of a tray whose corner flaps are glued outside the receiving walls.

    inner: wanted clear inside, mm. board: caliper in mm, fold share. options: flap width in mm and drawing.
    Returns panels in mm. The flap-bearing walls stand out one caliper beyond the floor at each end, so that
    the flaps clear the walls they wrap; flutes run along the floor's shorter side.
    Raises FlapTooWide when a flap is wider than the corner or than half the receiving wall.
    Source: scores moved by the fold model (boards/core/board.py); hinge moved out by one caliper, as a
        published instruction for hand-made board boxes with outside flaps gives it.
    """
    take_up = 0.0 if options.drawn == NOMINAL else board.fold_share * board.caliper_mm
    floor_x, floor_y, rise = inner.x_mm + 2 * take_up, inner.y_mm + 2 * take_up, inner.z_mm + take_up
    x_is_long = floor_x >= floor_y
    bearing_along_x = x_is_long == options.flaps_on_long_walls
    flap = flap_width(options.flap_width_mm, rise, floor_y if bearing_along_x else floor_x, board)
    build_walls = _walls_bearing_along_x if bearing_along_x else _walls_bearing_along_y
    folds, joints = build_walls(floor_x, floor_y, rise, flap - board.caliper_mm, board.caliper_mm)
    return PanelTree(
        floor=Panel("floor", floor_x, floor_y, folds), joints=joints, flute_along="y" if x_is_long else "x"
    )


def flap_width(asked_mm: float | None, rise_mm: float, receiving_mm: float, board: BoardSpec) -> float:
    """Width of a trimmed corner flap, measured from the floor's score line.

    asked_mm: wanted width or None for the default. rise_mm: wall height on the flat. receiving_mm: length of
    the wall it is glued to, which takes two flaps. All mm.
    Returns mm. Raises FlapTooWide with the limit when the flap does not fit or is lost in the caliper.
    Source: a flap is cut from the corner square, so it cannot be wider than the wall is high (geometry).
    """
    limit = min(rise_mm, receiving_mm / 2)
    flap = min(DEFAULT_FLAP_MM, limit) if asked_mm is None else asked_mm
    if flap > limit:
        raise FlapTooWide(
            f"The flap is {flap:.1f} mm wide, but the corner is {rise_mm:.1f} mm and half the wall it is "
            f"glued to is {receiving_mm / 2:.1f} mm. Make the flap at most {limit:.1f} mm, or leave it blank."
        )
    if flap <= board.caliper_mm:
        raise FlapTooWide(
            f"The flap is {flap:.1f} mm, no wider than the board is thick ({board.caliper_mm:.1f} mm), so "
            "nothing is left to glue. Use a higher wall, a wider flap or a thinner board."
        )
    return flap


def _walls_bearing_along_x(
    floor_x: float, floor_y: float, rise: float, free_flap: float, caliper: float
) -> tuple[tuple[Fold, ...], tuple[GlueJoint, ...]]:
    folds = [Fold(edge, Panel(f"{edge} wall", rise, floor_y)) for edge in (Edge.LEFT, Edge.RIGHT)]
    joints = []
    for edge in (Edge.NEAR, Edge.FAR):
        flaps = tuple(
            Fold(side, Panel(f"{edge} {side} flap", free_flap, rise)) for side in (Edge.LEFT, Edge.RIGHT)
        )
        wall = Panel(f"{edge} wall", floor_x + 2 * caliper, rise, flaps)
        folds.append(Fold(edge, wall, start_mm=-caliper))
        joints += [GlueJoint(fold.panel.name, f"{fold.edge} wall", rise) for fold in flaps]
    return tuple(folds), tuple(joints)


def _walls_bearing_along_y(
    floor_x: float, floor_y: float, rise: float, free_flap: float, caliper: float
) -> tuple[tuple[Fold, ...], tuple[GlueJoint, ...]]:
    folds = [Fold(edge, Panel(f"{edge} wall", floor_x, rise)) for edge in (Edge.NEAR, Edge.FAR)]
    joints = []
    for edge in (Edge.LEFT, Edge.RIGHT):
        flaps = tuple(
            Fold(side, Panel(f"{edge} {side} flap", rise, free_flap)) for side in (Edge.NEAR, Edge.FAR)
        )
        wall = Panel(f"{edge} wall", rise, floor_y + 2 * caliper, flaps)
        folds.append(Fold(edge, wall, start_mm=-caliper))
        joints += [GlueJoint(fold.panel.name, f"{fold.edge} wall", rise) for fold in flaps]
    return tuple(folds), tuple(joints)


FORM = Form(
    key="tray",
    name="Tray with glued corner flaps",
    suits="Sturdy objects in a drawer or on a shelf that are seen from above and need no dust cover.",
    has_lid=False,
    build=build,
)
