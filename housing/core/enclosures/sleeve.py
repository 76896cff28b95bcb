"""Sleeve: a tube of four walls, open at both ends, that goes around a tray, a book or a frame."""

from housing.core.enclosures.form import Brief, Built, Form, least_glued
from housing.core.enclosures.options import Kind, Option
from housing.core.errors import FlapTooNarrow, FlapTooWide
from housing.core.panels import Edge, GlueJoint, Panel, PanelTree
from objects.core.words import noted, say

GLUE_FLAP = Option("glue_flap", noted("Width of the glue flap"), Kind.LENGTH, 30.0, is_above=True)


def build(brief: Brief) -> Built:
    """Floor, right wall, top and left wall in a row; a flap goes under the floor and is glued there.

    The flap lies outside, so that nothing catches inside; the left wall is a caliper longer for it, and a
    step of the rule, lest rounding shut it out.
    """
    inner, flap = brief.inner, brief.choices.mm("glue_flap")
    if flap > inner.x_mm:
        raise FlapTooWide(
            say(
                "The glue flap is {flap:.0f} mm wide, but the sleeve only {x_mm:.0f} mm. Make it at most "
                "{x_mm:.0f} mm.",
                flap=flap,
                x_mm=inner.x_mm,
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
    glued = Panel("glue flap", flap, None, Edge.RIGHT, is_flap=True, stage=3)
    left = Panel("left wall", inner.z_mm + brief.t + brief.step, None, Edge.RIGHT, (glued,), stage=2)
    top = Panel("top", inner.x_mm, None, Edge.RIGHT, (left,), stage=1)
    right = Panel("right wall", inner.z_mm, None, Edge.RIGHT, (top,))
    floor = Panel("floor", inner.y_mm, inner.x_mm, None, (right,))
    return Built((brief.part("sleeve", PanelTree(floor, (GlueJoint("glue flap", "floor"),), "x")),))


FORM = Form(
    key="sleeve",
    name=noted("Corrugated sleeve"),
    suits=noted("Trays, slip-in frames and bundles that need a quick cover on four sides."),
    limits=noted("Up to 1200 mm long and 8 kg, because both ends are open and the contents can slide out."),
    build=build,
    options=(GLUE_FLAP,),
    longest_mm=1200,
    heaviest_g=8_000,
)
