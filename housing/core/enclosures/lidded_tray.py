"""Tray with a separate shallow lid that slides over it: the usual box for objects lifted from above."""

from housing.core.enclosures.corners import BASE, base_tree, loose_steps
from housing.core.enclosures.form import Brief, Built, Form, Supply
from housing.core.enclosures.lids import LID_CLEARANCE, LID_DEPTH, WINDOW, depth_over, lid_over
from objects.core.words import noted


def build(brief: Brief) -> Built:
    """Base and lid around a clear inside; notes tell of a lid cut down to the base and of one that binds."""
    base = brief.part("base", base_tree(brief))
    depth, shortened = depth_over(brief, base.outside)
    window = brief.choices.mm_or_none("window_margin")
    on_long = brief.choices.is_on("flaps_on_long_walls")
    lid, notes = lid_over(brief, base.outside, depth, on_long=on_long, window_mm=window)
    film = () if window is None else (Supply("polyester film behind the window, 20 mm larger all round"),)
    return Built((base, lid), shortened + notes, film, loose_steps=loose_steps(brief))


FORM = Form(
    key="lidded_tray",
    name=noted("Tray with telescoping lid"),
    suits=noted("Most rigid objects that can be lifted from above and should be kept from dust and light."),
    limits=noted(
        "Up to 1200 mm long and 15 kg, because more is too much for hands under a single floor of board."
    ),
    build=build,
    options=(*BASE, LID_DEPTH, LID_CLEARANCE, WINDOW),
    longest_mm=1200,
    heaviest_g=15_000,
)
