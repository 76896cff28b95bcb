"""Tray with a telescoping lid as deep as the tray, so that all walls are double."""

from housing.core.enclosures.corners import BASE, base_tree, loose_steps
from housing.core.enclosures.form import Brief, Built, Form
from housing.core.enclosures.lids import LID_CLEARANCE, lid_over
from objects.core.words import noted


def build(brief: Brief) -> Built:
    """Base and a lid whose skirt reaches down to the base's foot."""
    base = brief.part("base", base_tree(brief))
    on_long = brief.choices.is_on("flaps_on_long_walls")
    lid, notes = lid_over(brief, base.outside, base.outside.z_mm, on_long=on_long)
    return Built((base, lid), notes, loose_steps=loose_steps(brief))


FORM = Form(
    key="full_lid_tray",
    name=noted("Tray with full-depth telescoping lid"),
    suits=noted("Rigid objects in boxes that are stacked or travel: the lid doubles every wall."),
    limits=noted(
        "Up to 1200 mm long and 18 kg, because one person cannot draw a deep lid off a larger box evenly."
    ),
    build=build,
    options=(*BASE, LID_CLEARANCE),
    longest_mm=1200,
    heaviest_g=18_000,
)
