"""Carrying tray with hand holes in its end walls: the tray is gripped, never the object."""

from housing.core.enclosures.corners import DEFAULT_FLAP_MM, FLAP_WIDTH, FLAPS_ON_LONG, tray_tree
from housing.core.enclosures.form import Brief, Built, Form, Supply, least_glued
from housing.core.enclosures.options import Kind, Option
from housing.core.errors import PartTooSmall
from housing.core.panels import Opening, Shape
from objects.core.words import noted, say

# The lifting guidance of NIOSH (94-110) calls cut-outs of at least 4 1/2 x 1 1/2 in good; from memory.
HOLE_LONG_MM, HOLE_HIGH_MM = 115.0, 38.0
EDGE_MM = 20.0  # board left above a hole and beside it; assumed
HANDLES = Option(
    "handles",
    noted("Carried by"),
    Kind.WORD,
    "holes",
    words=(
        ("holes", noted("hand holes in the end walls")),
        ("tapes", noted("tapes under the tray")),
        ("none", noted("nothing")),
    ),
)


def build(brief: Brief) -> Built:
    """A tray whose flaps leave the middle of the end walls free for a hole."""
    on_long, inner = brief.choices.is_on("flaps_on_long_walls"), brief.inner
    flap, handles = brief.choices.mm_or_none("flap_width"), brief.choices.word("handles")
    if handles != "holes":
        tray = brief.part("tray", tray_tree(brief, flap, on_long=on_long))
        tape = 2 * inner.y_mm + 2 * inner.z_mm + 600
        tapes = (Supply(f"webbing tape 25 mm wide, {tape:.0f} mm long, around the tray", 2),)
        return Built((tray,), supplies=tapes if handles == "tapes" else ())
    sides = (inner.x_mm, inner.y_mm)
    end = min(sides) if on_long else max(sides)
    least_long = HOLE_LONG_MM + EDGE_MM + 2 * (brief.t + least_glued(brief))
    room, least_high = (end - HOLE_LONG_MM) / 2 - EDGE_MM / 2, HOLE_HIGH_MM + 2 * EDGE_MM
    if inner.z_mm < least_high or room < brief.t + least_glued(brief):
        raise PartTooSmall(
            say(
                "The end wall is {end:.0f} mm long and {z_mm:.0f} mm high; a hand hole needs at least "
                "{least_long:.0f} x {least_high:.0f} mm. Use tapes instead of holes, or a larger tray.",
                end=end,
                z_mm=inner.z_mm,
                least_long=least_long,
                least_high=least_high,
            )
        )
    if flap is None:
        flap = min(DEFAULT_FLAP_MM, room, inner.z_mm)
    elif flap > room:
        raise PartTooSmall(
            say(
                "Flaps {flap:.0f} mm wide would cover the hand hole. Make them {room:.0f} mm at most.",
                flap=flap,
                room=room,
            )
        )
    hole = Opening(
        "hand hole", Shape.SLOT, HOLE_LONG_MM, HOLE_HIGH_MM, None, EDGE_MM + HOLE_HIGH_MM / 2, from_rim=True
    )
    return Built((brief.part("tray", tray_tree(brief, flap, on_long=on_long, receiving_openings=(hole,))),))


FORM = Form(
    key="carrying_tray",
    name=noted("Carrying tray with hand holes"),
    suits=noted("Objects that hands should not touch, on the way to the table or out of a larger box."),
    limits=noted("Up to 800 mm long and 8 kg, because board tears at a hand hole before the tray bends."),
    build=build,
    options=(FLAP_WIDTH, FLAPS_ON_LONG, HANDLES),
    longest_mm=800,
    heaviest_g=8_000,
)
