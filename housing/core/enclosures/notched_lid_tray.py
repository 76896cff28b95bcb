"""Tray with a shallow lid that has a thumb notch in two walls, so that it comes off easily."""

from housing.core.enclosures.corners import BASE, base_tree, loose_steps
from housing.core.enclosures.form import Brief, Built, Form
from housing.core.enclosures.lids import LID_CLEARANCE, LID_DEPTH, depth_over, lid_over
from housing.core.enclosures.options import Kind, Option
from housing.core.errors import PartTooSmall
from housing.core.panels import Opening, Shape
from objects.core.words import noted, say

NOTCH_WIDTH = Option(
    "notch_width",
    noted("Width of the thumb notch"),
    Kind.LENGTH,
    50.0,
    noted("Half as deep as it is wide, or less."),
    least=20,
    most=200,
)
DEEPEST_SHARE = 0.6  # of the skirt, so that board stays above the notch; assumed


def build(brief: Brief) -> Built:
    """Base and lid, with a notch in the middle of each wall of the lid that bears flaps."""
    base = brief.part("base", base_tree(brief))
    depth, shortened = depth_over(brief, base.outside)
    wide, on_long = brief.choices.mm("notch_width"), brief.choices.is_on("flaps_on_long_walls")
    sides = (base.outside.x_mm, base.outside.y_mm)
    wall = max(sides) if on_long else min(sides)
    if wide > wall / 2:
        raise PartTooSmall(
            say(
                "The thumb notch is {wide:.0f} mm wide, but the lid's wall is only {wall:.0f} mm long. "
                "Make the notch at most {wall2:.0f} mm.",
                wide=wide,
                wall=wall,
                wall2=wall / 2,
            )
        )
    deep = min(wide / 2, DEEPEST_SHARE * depth)
    notch = Opening("thumb notch", Shape.NOTCH, wide, deep, at_out_mm=deep / 2, from_rim=True)
    lid, notes = lid_over(brief, base.outside, depth, on_long=on_long, notches=(notch,))
    return Built((base, lid), shortened + notes, loose_steps=loose_steps(brief))


FORM = Form(
    key="notched_lid_tray",
    name=noted("Tray with shallow notched lid"),
    suits=noted("Small and middle-sized objects that are looked at often: the lid lifts off without a jolt."),
    limits=noted("Up to 600 mm long and 6 kg, because a lid gripped at two notches bends when it is longer."),
    build=build,
    options=(*BASE, LID_DEPTH, LID_CLEARANCE, NOTCH_WIDTH),
    longest_mm=600,
    heaviest_g=6_000,
)
