"""Tube for a rolled textile, carried at its ends by two end pieces and wrapped in a cover."""

import math

from housing.core.clearances import INCH, InnerSize
from housing.core.enclosures.form import Brief, Built, Form, Seat, Supply
from housing.core.enclosures.options import Kind, Option
from housing.core.errors import SizeRefused
from housing.core.folding import Box3
from housing.core.panels import Opening, Panel, PanelTree, Shape
from objects.core.words import noted, say

# Tubes 5 to 15 cm across are common, about 8 cm in one note (Canadian Conservation Institute, Notes 13/3).
TUBE = Option("tube", noted("Tube diameter"), Kind.LENGTH, 80.0, least=30, most=400)
# A leaflet on rolling flat textiles (Brown, 1992) asks for 4 in more than the widest part.
BEYOND = Option("beyond", noted("Tube beyond the textile at each end"), Kind.LENGTH, 50.0, least=10, most=500)
FOOT_MM = 30.0  # from the roll to the edge of an end piece, so that the roll hangs free; assumed
LEAST_COVER_MM = 20 * INCH  # Brown, 1992: at least 20 in on a tube of 3 or 4 in
WRAPS = 1.5  # of the cover at least; the same leaflet


def rolled_diameter(tube_mm: float, length_mm: float, thickness_mm: float) -> float:
    """Outside diameter of a roll, mm.

    tube_mm: diameter of the tube. length_mm: rolled length. thickness_mm: textile and interleaf together.
    Source: the area of the edge, length x thickness, is a ring around the tube.
    """
    return math.sqrt(tube_mm**2 + 4 * length_mm * thickness_mm / math.pi)


def build(brief: Brief) -> Built:
    """End pieces and cover; of the size asked, x lies along the tube, y is rolled, z is one layer."""
    inner, tube = brief.inner, brief.choices.mm("tube")
    if inner.z_mm > 20:
        raise SizeRefused(
            say(
                "One layer is {z_mm:.0f} mm thick; a textile that thick, or with raised ornament, is not "
                "rolled. Give the thickness of one layer with its interleaf, or lay it flat in a garment "
                "box.",
                z_mm=inner.z_mm,
            )
        )
    across = rolled_diameter(tube, inner.y_mm, inner.z_mm)
    side, length = across + 2 * FOOT_MM, inner.x_mm + 2 * brief.choices.mm("beyond")
    hole = Opening("hole for the tube", Shape.ROUND, tube + 2, tube + 2)
    end = PanelTree(Panel("end piece", side, side, openings=(hole,)))
    cover = PanelTree(Panel("cover", max(LEAST_COVER_MM, WRAPS * math.pi * across), length), (), "x")
    parts = (
        brief.part("end piece 1", end),
        brief.part("end piece 2", end, Seat.APART),
        brief.part("cover", cover, Seat.APART, material="washed cotton or polyester film"),
    )
    ties = max(2, math.ceil(length / 600))
    supplies = (
        Supply(f"acid-free tube, {tube:.0f} mm across and {length:.0f} mm long"),
        Supply(f"interleaving tissue, {inner.x_mm:.0f} x {inner.y_mm:.0f} mm"),
        Supply(f"cotton tape 25 mm wide, {math.pi * across + 300:.0f} mm long", ties),
    )
    wraps = (across - tube) / (2 * inner.z_mm)
    note = f"The roll is {across:.0f} mm across after {wraps:.1f} turns; carry it by the tube alone."
    solid = Box3(inner.x_mm, across, across), Box3(length, side, side)
    return Built(parts, (note,), supplies, InnerSize(inner.x_mm, across, across), solid)


FORM = Form(
    key="rolled_tube",
    name=noted("Rolled textile on a tube"),
    suits=noted("Flat textiles without raised ornament that are too large to lie flat: one to a tube."),
    limits=noted("Up to 3000 mm wide and 12 kg, because two people carry the tube by its ends."),
    build=build,
    options=(TUBE, BEYOND),
    longest_mm=20_000,
    heaviest_g=12_000,
    is_padded=False,
)
