"""Box with its lid in one piece: the back wall goes on into a lid with skirts on three sides."""

from housing.core.enclosures.corners import FLAP_WIDTH, flap_width
from housing.core.enclosures.form import Brief, Built, Form
from housing.core.enclosures.options import Kind, Option
from housing.core.errors import SizeRefused
from housing.core.panels import Edge, GlueJoint, Panel, PanelTree
from objects.core.words import noted, say

SKIRT = Option(
    "lid_depth",
    noted("Depth of the lid's skirt"),
    Kind.LENGTH,
    40.0,
    noted("Less on low boxes."),
    is_above=True,
)
CLEARANCE = Option("lid_clearance", noted("Lid clearance on each side"), Kind.LENGTH, 2.0, most=50)
ENDS = (Edge.LEFT, Edge.RIGHT)


def build(brief: Brief) -> Built:
    """Tray with glued corners whose far wall carries the lid; the lid's skirts come down outside."""
    inner, t, gap, skirt = (
        brief.inner,
        brief.t,
        brief.choices.mm("lid_clearance"),
        brief.choices.mm("lid_depth"),
    )
    long, wide, high = inner.x_mm, inner.y_mm, inner.z_mm
    if skirt > high:
        raise SizeRefused(say(
            "The lid's skirt is {skirt:.1f} mm deep, but the box is only {high:.1f} mm high inside. "
            "Make it at most {high:.1f} mm.",
            skirt=skirt, high=high,
        ))  # fmt: skip
    flap = flap_width(brief.choices.mm_or_none("flap_width"), high, wide, brief) - t
    skirt_flap = flap_width(None, skirt + brief.take_up, wide, brief) - t
    lid_long, lid_wide = long + 4 * t + 2 * gap, wide + t + gap
    front = _wall("lid front", Edge.FAR, skirt, lid_long + 2 * t, skirt_flap, None, 3)
    sides = tuple(Panel(f"lid {end} skirt", skirt, None, end, stage=3) for end in ENDS)
    lid = Panel("lid", lid_wide, lid_long, Edge.FAR, (*sides, front), stage=6)
    near = _wall("near wall", Edge.NEAR, high, long + 2 * t, flap, None, 0)
    far = _wall("far wall", Edge.FAR, high, long + 2 * t, flap, high, 0, lid)
    ends = tuple(Panel(f"{end} wall", high, None, end) for end in ENDS)
    joints = tuple(
        GlueJoint(f"{wall} {end} flap", f"{end} wall") for wall in ("near wall", "far wall") for end in ENDS
    ) + tuple(GlueJoint(f"lid front {end} flap", f"lid {end} skirt") for end in ENDS)
    floor = Panel("floor", wide, long, None, (*ends, near, far))
    return Built((brief.part("box", PanelTree(floor, joints, "y")),), loose_steps=4)


def _wall(
    name: str,
    edge: Edge,
    high: float,
    long: float,
    flap: float,
    flap_along: float | None,
    stage: int,
    *more: Panel,
) -> Panel:
    flaps = (
        Panel(f"{name} {end} flap", flap, flap_along, end, is_flap=True, stage=stage + 2) for end in ENDS
    )
    return Panel(name, high, long, edge, (*flaps, *more), stage=stage + 1)


FORM = Form(
    key="hinged_lid",
    name=noted("Hinged-lid box in one piece"),
    suits=noted("Light objects taken out often, one hand on the lid, one on it; nothing can be mixed up."),
    limits=noted("Up to 450 mm long and 4 kg, because the hinge is a single fold of the board."),
    build=build,
    options=(FLAP_WIDTH, SKIRT, CLEARANCE),
    longest_mm=450,
    heaviest_g=4_000,
)
