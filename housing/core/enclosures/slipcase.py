"""Slipcase: a case with one open side into which a sound volume slides."""

from housing.core.enclosures.form import Brief, Built, Form, least_glued
from housing.core.enclosures.options import Kind, Option
from housing.core.errors import FlapTooNarrow, FlapTooWide
from housing.core.panels import Align, Edge, GlueJoint, Panel, PanelTree
from objects.core.words import noted, say

GLUE_FLAP = Option("glue_flap", noted("Width of the glue flaps"), Kind.LENGTH, 20.0, is_above=True)


def build(brief: Brief) -> Built:
    """Side, back and far side in a row, caps on the near and far edge; the opening lies at the right.

    The caps' flaps are glued to the outside of the far side, so that nothing rubs the volume; the caps are a
    caliper deeper for it.
    """
    inner, flap = brief.inner, brief.choices.mm("glue_flap")
    wide, long, thick = inner.x_mm, inner.y_mm, inner.z_mm
    if flap > long / 2:
        raise FlapTooWide(
            say(
                "The glue flaps are {flap:.0f} mm wide, but half the case is {long:.0f} mm. Make them at "
                "most {long:.0f} mm.",
                flap=flap,
                long=long / 2,
            )
        )
    if flap < least_glued(brief):
        raise FlapTooNarrow(
            say(
                "The glue flap is {flap:.1f} mm wide; it needs {least_glued:.1f} mm on it, or too little "
                "is left to glue. Make it wider, or round less coarsely.",
                flap=flap,
                least_glued=least_glued(brief),
            )
        )
    far_side = Panel("far side", wide, long, Edge.LEFT, stage=1)
    back = Panel("back", thick, long + 2 * brief.t, Edge.LEFT, (far_side,))
    caps = tuple(
        Panel(
            f"{edge} cap", thick + brief.t, wide, edge,
            (Panel(f"{edge} glue flap", flap, None, edge, is_flap=True, stage=3),),
            align=Align.END, stage=2,
        )
        for edge in (Edge.NEAR, Edge.FAR)
    )  # fmt: skip
    joints = tuple(
        joint
        for edge in (Edge.NEAR, Edge.FAR)
        for joint in (
            GlueJoint(f"{edge} glue flap", "far side"), GlueJoint(f"{edge} cap", "back", is_edge=True),
        )
    )  # fmt: skip
    floor = Panel("side", long, wide, None, (back, *caps))
    return Built((brief.part("case", PanelTree(floor, joints, "y")),))


FORM = Form(
    key="slipcase",
    name=noted("Slipcase"),
    suits=noted("Bound volumes in sound condition on a shelf: they slide in, the spine stays visible."),
    limits=noted("Up to 450 mm long and 4 kg, because every use rubs the covers; nothing loose or flaking."),
    build=build,
    options=(GLUE_FLAP,),
    longest_mm=450,
    heaviest_g=4_000,
)
