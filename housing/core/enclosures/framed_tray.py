"""Travelling tray for a framed work: a low tray and four folded blocks around the frame's corners."""

from housing.core.clearances import INCH
from housing.core.enclosures.corners import CORNERS, tray_tree
from housing.core.enclosures.form import Brief, Built, Form, Seat, Supply
from housing.core.enclosures.options import Kind, Option
from housing.core.errors import PartTooSmall
from housing.core.panels import Align, Edge, GlueJoint, Panel, PanelTree
from objects.core.words import noted, say

LEG = Option("corner_leg", noted("Leg of a corner block"), Kind.LENGTH, 100.0, least=30, most=500)
DEPTH = Option(
    "frame_depth", noted("Depth of the frame"), Kind.LENGTH, None,
    noted("Blank for the tray's height less 1 in below and above."), least=10,
)  # fmt: skip


def build(brief: Brief) -> Built:
    """A tray with the room for pads asked for, and four corner blocks for the frame."""
    flap, on_long = brief.choices.mm_or_none("flap_width"), brief.choices.is_on("flaps_on_long_walls")
    tray = brief.part("tray", tray_tree(brief, flap, on_long=on_long))
    leg, high = brief.choices.mm("corner_leg"), brief.inner.z_mm
    depth = brief.choices.mm_or_none("frame_depth") or (high - 2 * INCH if high > 3 * INCH else high * 0.6)
    if depth > high or 2 * leg > min(brief.inner.x_mm, brief.inner.y_mm):
        most = min(brief.inner.x_mm, brief.inner.y_mm) / 2
        raise PartTooSmall(
            say(
                "Corner blocks of {leg:.0f} mm for a frame {depth:.0f} mm deep do not go into a tray "
                "{high:.0f} mm high. Make the legs at most {most:.0f} mm and the frame no deeper than "
                "the tray.",
                leg=leg,
                depth=depth,
                high=high,
                most=most,
            )
        )
    block = corner_block(brief, leg, depth)
    blocks = tuple(brief.part(f"corner block {i}", block, Seat.APART) for i in range(1, 5))
    pads = (Supply("foam pads under the frame and beside its corner blocks"),)
    return Built((tray, *blocks), supplies=pads)


def corner_block(brief: Brief, leg: float, depth: float) -> PanelTree:
    """A block over one corner of a frame: face, edge and back, and an end closed by a glued flap.

    leg: length along both sides of the frame as drawn, mm. depth: of the frame, clear, mm.
    The blank is 2 legs and the depth with two take-ups wide, a leg and the depth with two take-ups high.
    """
    t, take = brief.t, brief.take_up
    tab = Panel("glue flap", min(depth, leg / 2), depth, Edge.RIGHT, is_flap=True, stage=3)
    end = Panel(
        "end", depth + take + min(take, t / 2), leg - t - take, Edge.FAR, (tab,),
        is_flap=True, align=Align.START, stage=2,
    )  # fmt: skip
    face = Panel("face", leg, None, Edge.LEFT, (end,), is_flap=True)
    back = Panel("back", leg, None, Edge.RIGHT, is_flap=True, stage=1)
    return PanelTree(Panel("edge", leg, depth, None, (face, back)), (GlueJoint("glue flap", "edge"),), "y")


FORM = Form(
    key="framed_tray",
    name=noted("Travelling tray for a framed work"),
    suits=noted("Framed works and panels that travel lying flat within the building."),
    limits=noted(
        "Up to 1500 mm long and 15 kg, because two people carry it and its floor is a single board."
    ),
    build=build,
    options=(*CORNERS, LEG, DEPTH),
    longest_mm=1500,
    heaviest_g=15_000,
)
