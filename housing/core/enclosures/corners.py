"""Walls with glued corner flaps, the construction that most forms share."""

from housing.core.clearances import INCH
from housing.core.enclosures.form import Brief, least_glued
from housing.core.enclosures.options import Kind, Option
from housing.core.enclosures.rolled_ends import rolled_tree
from housing.core.errors import FlapTooNarrow, FlapTooWide
from housing.core.panels import Edge, GlueJoint, Opening, Panel, PanelTree
from objects.core.words import noted, say

# Common practice, no source: corner flaps are trimmed to 2 1/2 in on walls tall enough for it.
DEFAULT_FLAP_MM = 2.5 * INCH

FLAP_WIDTH = Option(
    "flap_width",
    noted("Flap width"),
    Kind.LENGTH,
    None,
    noted("Blank for 63.5 mm, less on low or short walls."),
    is_above=True,
)
FLAPS_ON_LONG = Option("flaps_on_long_walls", noted("Flaps grow from the long walls"), Kind.YES_NO, True)
DOUBLE_WALL = Option(
    "double_wall",
    noted("Double end walls, rolled over"),
    Kind.YES_NO,
    False,
    noted("The end walls fold over the flaps and hold them; no glue."),
)
CORNERS = (FLAP_WIDTH, FLAPS_ON_LONG)
BASE = (*CORNERS, DOUBLE_WALL)

ENDS = {False: (Edge.NEAR, Edge.FAR), True: (Edge.LEFT, Edge.RIGHT)}


def base_tree(brief: Brief) -> PanelTree:
    """The tray a form's own choices ask for: glued corners, or double end walls without glue."""
    on_long = brief.choices.is_on("flaps_on_long_walls")
    if brief.choices.is_on("double_wall"):
        return rolled_tree(brief, on_long)
    return tray_tree(brief, brief.choices.mm_or_none("flap_width"), on_long=on_long)


def loose_steps(brief: Brief) -> int:
    """By how many rounding steps the inside of base_tree may come out larger than asked."""
    return 5 if brief.choices.is_on("double_wall") else 2


def tray_tree(
    brief: Brief,
    flap_mm: float | None = None,
    *,
    on_long: bool = True,
    along_x: bool | None = None,
    unglued: Edge | None = None,
    bearing_openings: tuple[Opening, ...] = (),
    receiving_openings: tuple[Opening, ...] = (),
    floor_openings: tuple[Opening, ...] = (),
) -> PanelTree:
    """Panel tree of a tray whose corner flaps are glued outside the receiving walls.

    brief: clear inside in mm and board. flap_mm: width of the flaps, None for the default. on_long: they grow
    from the long walls; along_x: from the near and far walls, whichever are long. unglued: the edge of a wall
    whose flaps stay loose. openings: of the walls with flaps, of the walls these are glued to, of the floor.
    Returns clear panel sizes in mm; the walls that bear flaps reach across the outsides of those that receive
    them; flutes run along the floor's shorter side.
    Raises FlapTooWide when a flap is wider than the corner or than half the receiving wall, FlapTooNarrow
    when too little is left to glue.
    Source: geometry; the hinge moved out by one caliper, as a published instruction for hand-made board boxes
        with outside flaps gives it.
    """
    inner, t = brief.inner, brief.t
    x_is_long = inner.x_mm >= inner.y_mm
    along_x = x_is_long == on_long if along_x is None else along_x
    bearing, receiving = ENDS[not along_x], ENDS[along_x]
    length, other = (inner.x_mm, inner.y_mm) if along_x else (inner.y_mm, inner.x_mm)
    flap = flap_width(flap_mm, inner.z_mm + brief.take_up, other + 2 * brief.take_up, brief)
    walls = [Panel(f"{edge} wall", inner.z_mm, None, edge, openings=receiving_openings) for edge in receiving]
    joints = []
    for edge in bearing:
        flaps = tuple(
            Panel(f"{edge} {side} flap", flap - t, None, side, is_flap=True, stage=2) for side in receiving
        )
        walls.append(
            Panel(f"{edge} wall", inner.z_mm, length + 2 * t, edge, flaps, stage=1, openings=bearing_openings)
        )
        if edge is not unglued:
            joints += [GlueJoint(f"{edge} {side} flap", f"{side} wall") for side in receiving]
    floor = Panel("floor", inner.y_mm, inner.x_mm, None, tuple(walls), openings=floor_openings)
    return PanelTree(floor, tuple(joints), "y" if x_is_long else "x")


def flap_width(asked_mm: float | None, rise_mm: float, receiving_mm: float, brief: Brief) -> float:
    """Width of a trimmed corner flap, measured from the floor's score line.

    asked_mm: wanted width or None for the default. rise_mm: height of the walls on the flat. receiving_mm:
    length of the wall it is glued to, which takes two flaps. All mm. brief: for the board and the rounding.
    Returns mm. Raises FlapTooWide or FlapTooNarrow with the limit.
    Source: a flap is cut from the corner square, so it cannot be wider than the wall is high (geometry).
    """
    limit = min(rise_mm, receiving_mm / 2)
    flap = min(DEFAULT_FLAP_MM, limit) if asked_mm is None else asked_mm
    if flap > limit:
        raise FlapTooWide(
            say(
                "The flap is {flap:.1f} mm wide, but the corner is {rise_mm:.1f} mm and half the wall it "
                "is glued to is {receiving_mm:.1f} mm. Make the flap at most {limit:.1f} mm, or leave it "
                "blank.",
                flap=flap,
                rise_mm=rise_mm,
                receiving_mm=receiving_mm / 2,
                limit=limit,
            )
        )
    # Its hinge lies a caliper outside the floor's score; of the rest, what its fold takes up touches nothing.
    least = brief.t + least_glued(brief)
    if flap < least:
        raise FlapTooNarrow(
            say(
                "The flap is {flap:.1f} mm wide; on a board {t:.1f} mm thick it needs at least "
                "{least:.1f} mm, or too little is left to glue. Use a higher wall, a wider flap, a "
                "thinner board or a finer rounding.",
                flap=flap,
                t=brief.t,
                least=least,
            )
        )
    return flap
