"""Separate lids that slide over a finished base, flaps and all."""

from housing.core.clearances import INCH, InnerSize
from housing.core.enclosures.corners import tray_tree
from housing.core.enclosures.form import Brief, Part, Seat
from housing.core.enclosures.options import Kind, Option
from housing.core.errors import SizeRefused
from housing.core.folding import Box3
from housing.core.panels import Opening, Shape
from objects.core.words import noted, say

TIGHT_MM = 0.1  # below what a hand-cut lid can be held to; assumed

# Common practice, no source: 1/8 in on each side of the base and a skirt of 3 1/2 in.
LID_DEPTH = Option("lid_depth", noted("Lid depth"), Kind.LENGTH, 88.9, is_above=True)
LID_CLEARANCE = Option(
    "lid_clearance",
    noted("Lid clearance on each side"),
    Kind.LENGTH,
    INCH / 8,
    noted("The gap between base and lid."),
    most=100,
)
WINDOW = Option(
    "window_margin",
    noted("Window in the lid, left to the edge"),
    Kind.LENGTH,
    None,
    noted("Blank for none; polyester film is glued behind it."),
    least=15,
)


def lid_over(
    brief: Brief,
    base: Box3,
    depth_mm: float,
    *,
    on_long: bool = True,
    notches: tuple[Opening, ...] = (),
    window_mm: float | None = None,
    seat: Seat = Seat.OVER,
) -> tuple[Part, tuple[str, ...]]:
    """A lid that slides over a finished base, and notes.

    base: the base outside, flap layers included, mm. depth_mm: clear depth of the skirt. on_long: its flaps
    grow from its long walls. notches: openings of the walls that bear them. window_mm: margin around a window
    in its top, None for no window.
    Returns the lid, turned over its base, and a note when it binds. The flap width asked for is the base's
    and does not bind the lid, whose skirt may be lower than the flap is wide.
    Raises SizeRefused for a base size at or below 0 and for a window that leaves no opening.
    Source: measuring over the finished base and adding a clearance is common practice, no source. Drawn
        nominally, the true slip is two take-ups less than the two clearances.
    """
    if min(base.x_mm, base.y_mm) <= 0:
        raise SizeRefused(
            say(
                "The base is {x_mm:g} x {y_mm:g} mm outside; both must be above 0. Measure it again.",
                x_mm=base.x_mm,
                y_mm=base.y_mm,
            )
        )
    gap = brief.choices.mm("lid_clearance")
    inner = InnerSize(base.x_mm + 2 * gap, base.y_mm + 2 * gap, depth_mm)
    tree = tray_tree(
        brief.inside_of(inner),
        on_long=on_long,
        bearing_openings=notches,
        floor_openings=() if window_mm is None else (_window(inner, window_mm),),
    )
    lid = brief.part("lid", tree, seat)
    slip = min(lid.inside.x_mm - base.x_mm, lid.inside.y_mm - base.y_mm)
    if slip > TIGHT_MM:
        return lid, ()
    return lid, (
        f"The lid leaves {max(slip, 0.0):.1f} mm over the base in all and will bind"
        + ("." if brief.marking_out.is_compensated else ": drawn nominally, the folds take up the clearance.")
        + " Ask for more clearance, or draw the blank compensated.",
    )


def depth_over(brief: Brief, base: Box3) -> tuple[float, tuple[str, ...]]:
    """The lid depth asked for, cut down to the height of its base with a note; mm."""
    asked = brief.choices.mm("lid_depth")
    if asked <= base.z_mm:
        return asked, ()
    return base.z_mm, (
        f"The lid was asked {asked:.0f} mm deep but the base is only {base.z_mm:.0f} mm high, so the lid "
        "reaches to the foot of the base.",
    )


def _window(inner: InnerSize, margin_mm: float) -> Opening:
    wide, deep = inner.x_mm - 2 * margin_mm, inner.y_mm - 2 * margin_mm
    if min(wide, deep) < 20:
        most = (min(inner.x_mm, inner.y_mm) - 20) / 2
        raise SizeRefused(
            say(
                "A margin of {margin_mm:.0f} mm leaves no window in a lid of {x_mm:.0f} x {y_mm:.0f} mm. "
                "Leave at most {most:.0f} mm, or leave the window out.",
                margin_mm=margin_mm,
                x_mm=inner.x_mm,
                y_mm=inner.y_mm,
                most=most,
            )
        )
    return Opening("window", Shape.RECTANGLE, wide, deep)
