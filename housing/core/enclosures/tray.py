"""Tray in one piece with four glued corner flaps: the base of most boxes, and an open tray for drawers."""

from housing.core.enclosures.corners import BASE, base_tree, loose_steps
from housing.core.enclosures.form import Brief, Built, Form
from objects.core.words import noted


def build(brief: Brief) -> Built:
    """An open tray around a clear inside; see base_tree."""
    return Built((brief.part("tray", base_tree(brief)),), loose_steps=loose_steps(brief))


FORM = Form(
    key="tray",
    name=noted("Tray with glued corner flaps"),
    suits=noted("Sturdy objects in a drawer or on a shelf that are seen from above and need no dust cover."),
    limits=noted(
        "Up to 900 mm long and 10 kg, because one board sags as a floor and hands lift by thin walls."
    ),
    build=build,
    options=BASE,
    longest_mm=900,
    heaviest_g=10_000,
)
