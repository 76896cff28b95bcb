"""Two trays on a spine, made from one sheet: the lid cannot be lost."""

from housing.core.enclosures.corners import flap_width
from housing.core.enclosures.form import Brief, Built, Form
from housing.core.enclosures.options import Kind, Option
from housing.core.panels import Edge, GlueJoint, Panel, PanelTree
from objects.core.words import noted

CLEARANCE = Option(
    "clearance", noted("Clearance between the trays"), Kind.LENGTH, 1.5,
    noted("Along the spine both sides together, at the fore-edge once."), most=50,
)  # fmt: skip
ENDS = (Edge.LEFT, Edge.RIGHT)


def build(brief: Brief) -> Built:
    """Inner tray, spine and outer tray in a row; the spine runs along x, the fore-edge lies near."""
    inner, t, gap = brief.inner, brief.t, brief.choices.mm("clearance")
    long, wide, high = inner.x_mm, inner.y_mm, inner.z_mm
    outer_long, outer_wide = long + 4 * t + gap, wide + t + gap
    lid_fore = _fore_wall("lid ", Edge.FAR, high + t, outer_long, outer_wide, brief, 3)
    lid_walls = tuple(Panel(f"lid {end} wall", high + t, None, end, stage=3) for end in ENDS)
    lid = Panel("lid", outer_wide, outer_long, Edge.FAR, (*lid_walls, lid_fore), stage=6)
    floor = Panel(
        "floor",
        wide,
        long,
        None,
        (
            *(Panel(f"{end} wall", high, None, end) for end in ENDS),
            _fore_wall("", Edge.NEAR, high, long, wide, brief, 0),
            Panel("spine", high, outer_long, Edge.FAR, (lid,), stage=6),
        ),
    )
    joints = tuple(
        GlueJoint(f"{tray}fore {end} flap", f"{tray}{end} wall") for tray in ("", "lid ") for end in ENDS
    )
    # A federal pattern (US National Archives, 1993) runs the flutes across the spine.
    return Built((brief.part("box", PanelTree(floor, joints, "y")),), loose_steps=4)


def _fore_wall(
    tray: str, edge: Edge, high: float, long: float, receiving: float, brief: Brief, stage: int
) -> Panel:
    flap = flap_width(None, high + brief.take_up, receiving, brief) - brief.t
    flaps = tuple(
        Panel(f"{tray}fore {end} flap", flap, None, end, is_flap=True, stage=stage + 2) for end in ENDS
    )
    return Panel(f"{tray}fore wall", high, long + 2 * brief.t, edge, flaps, stage=stage + 1)


FORM = Form(
    key="clamshell",
    name=noted("Clamshell of two trays on a spine"),
    suits=noted(
        "Books, albums, bundles and small sets that are used often, where the lid must not get lost."
    ),
    limits=noted("Up to 500 mm along the spine and 5 kg, because two folds carry the lid at every opening."),
    build=build,
    options=(CLEARANCE,),
    longest_mm=500,
    heaviest_g=5_000,
)
