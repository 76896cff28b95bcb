"""Tray in one piece with four glued corner flaps: the base of most boxes, and an open tray for drawers."""

from housing.core.enclosures.corners import BASE, base_tree, loose_steps
from housing.core.enclosures.form import Brief, Built, Form


def build(brief: Brief) -> Built:
    """An open tray around a clear inside; see base_tree."""
    return Built((brief.part("tray", base_tree(brief)),), loose_steps=loose_steps(brief))


FORM = Form(
    key="tray",
    name="Tray with glued corner flaps",
    suits="Sturdy objects in a drawer or on a shelf that are seen from above and need no dust cover.",
    limits="Up to 900 mm long and 10 kg, because one board sags as a floor and hands lift by thin walls.",
    build=build,
    options=BASE,
    longest_mm=900,
    heaviest_g=10_000,
)
