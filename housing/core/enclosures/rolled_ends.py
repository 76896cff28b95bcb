"""Tray whose end walls are double: rolled over the flaps of the side walls, which they hold without glue."""

from housing.core.enclosures.form import Brief
from housing.core.errors import FlapTooNarrow
from housing.core.panels import Edge, Panel, PanelTree
from objects.core.words import say


def rolled_tree(brief: Brief, on_long: bool = True) -> PanelTree:
    """Panel tree of a tray with double end walls.

    brief: clear inside in mm and board. on_long: the flaps grow from the long walls.
    Returns clear panel sizes in mm. From outside to inside an end wall is its outer leaf, a flap and its
    inner leaf; between the two scores of its rim lies one caliper for the flap.
    Raises FlapTooNarrow where the walls are no higher than the board is thick.
    Source: geometry. A federal archives specification (US National Archives, 1993) lets the two scores of a
        double wall lie at most two board thicknesses apart; here it is one and what both folds take up.
    """
    inner, t = brief.inner, brief.t
    x_is_long = inner.x_mm >= inner.y_mm
    along_x = x_is_long == on_long
    ends = (Edge.LEFT, Edge.RIGHT) if along_x else (Edge.NEAR, Edge.FAR)
    sides = (Edge.NEAR, Edge.FAR) if along_x else (Edge.LEFT, Edge.RIGHT)
    length, width = (inner.x_mm, inner.y_mm) if along_x else (inner.y_mm, inner.x_mm)
    rise = inner.z_mm
    flap = min(63.5, 0.9 * width / 2, rise)
    if flap < 2 * t:
        raise FlapTooNarrow(
            say(
                "The flap is {flap:.1f} mm wide on a board {t:.1f} mm thick, too little for the end wall "
                "to hold; it needs {t2:.1f} mm. Use a larger tray or a thinner board.",
                flap=flap,
                t=t,
                t2=2 * t,
            )
        )
    walls = [
        Panel(
            f"{edge} wall", rise, length + 2 * t, edge,
            tuple(Panel(f"{edge} {end} flap", flap, rise, end, is_flap=True, stage=1) for end in ends),
        )
        for edge in sides
    ] + [
        Panel(
            f"{end} wall", rise, None, end,
            (Panel(f"{end} rim", t, None, end, (Panel(f"{end} inner wall", rise, width, end, stage=3),),
                   stage=3),),
            stage=2,
        )
        for end in ends
    ]  # fmt: skip
    # A rim rounded up reaches further in, so the outer leaves stand a step further apart each.
    floor_length = length + 4 * t + 2 * brief.step
    x_mm, y_mm = (floor_length, width) if along_x else (width, floor_length)
    return PanelTree(Panel("floor", y_mm, x_mm, None, tuple(walls)), (), "y" if x_is_long else "x")
