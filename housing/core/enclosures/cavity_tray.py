"""Tray with an insert of foam or board layers that is cut out to the object's footprint."""

import math
from dataclasses import replace

from boards.core.board import BoardSpec
from housing.core.enclosures.corners import CORNERS, tray_tree
from housing.core.enclosures.form import BOARD, Brief, Built, Form, Part, Seat, Supply
from housing.core.enclosures.options import Kind, Option
from housing.core.errors import PartTooSmall
from housing.core.panels import Opening, Panel, PanelTree, Shape
from objects.core.words import noted, say

# Assumed: 30 mm of insert around the cavity, 5 mm below and 5 mm free above, planks of 25 mm.
MARGIN = Option("margin", noted("Insert around the cavity"), Kind.LENGTH, 30.0, least=5)
BELOW = Option("pad_below", noted("Pad below the object"), Kind.LENGTH, 5.0)
ABOVE = Option("free_above", noted("Free above the insert"), Kind.LENGTH, 5.0)
INSERT = Option(
    "insert", noted("Insert of"), Kind.WORD, "foam",
    words=(("foam", noted("polyethylene foam planks")), ("board", noted("layers of the board"))),
)  # fmt: skip
PLANK = Option("plank", noted("Thickness of a foam plank"), Kind.LENGTH, 25.0, least=2, most=200)
LOOSE_MM = 1.0  # on each side between insert and tray
MOST_LAYERS = 40


def build(brief: Brief) -> Built:
    """Tray and the layers of its insert from the pad upwards; the topmost foam plank is sliced to fit."""
    flap, on_long = brief.choices.mm_or_none("flap_width"), brief.choices.is_on("flaps_on_long_walls")
    tray = brief.part("tray", tray_tree(brief, flap, on_long=on_long))
    inside, below, margin = tray.inside, brief.choices.mm("pad_below"), brief.choices.mm("margin")
    long, wide = brief.down(inside.x_mm - 2 * LOOSE_MM), brief.down(inside.y_mm - 2 * LOOSE_MM)
    deep = brief.inner.z_mm - below - brief.choices.mm("free_above")
    cavity = Opening("cavity", Shape.RECTANGLE, long - 2 * margin, wide - 2 * margin)
    if min(cavity.along_mm, cavity.out_mm, deep) < 10:
        raise PartTooSmall(say(
            "The cavity comes to {along_mm:.0f} x {out_mm:.0f} mm and {deep:.0f} mm deep; it needs "
            "at least 10 mm each way. Make the tray larger, or the margin and the pads smaller.",
            along_mm=cavity.along_mm, out_mm=cavity.out_mm, deep=deep,
        ))  # fmt: skip
    tree = PanelTree(Panel("layer", wide, long, openings=(cavity,)), (), "y")
    parts: list[Part] = [tray]
    for number, (lift, thick) in enumerate(_layers(brief, deep), start=1):
        of = brief if brief.choices.word("insert") == BOARD else replace(brief, board=BoardSpec(thick))
        name, lifted = f"layer {number}", below + lift + thick
        parts.append(
            of.part(name, tree, Seat.INSIDE, material=brief.choices.word("insert"), lift_mm=lifted - thick)
        )
    pad = (Supply(f"soft pad, {long:.0f} x {wide:.0f} mm, {below:.0f} mm thick"),) if below else ()
    note = f"The cavity is {cavity.along_mm:.1f} x {cavity.out_mm:.1f} mm, {deep:.1f} mm deep."
    return Built(tuple(parts), (note,), pad)


def _layers(brief: Brief, deep: float) -> list[tuple[float, float]]:
    """Height above the pad and thickness of each layer, mm."""
    is_board = brief.choices.word("insert") == BOARD
    thick = brief.t if is_board else brief.choices.mm("plank")
    count = max(math.floor(deep / thick + 1e-9), 1) if is_board else math.ceil(deep / thick - 1e-9)
    if count > MOST_LAYERS:
        raise PartTooSmall(say(
            "The insert would take {count} layers of {thick:.1f} mm; at most {most_layers} are "
            "sensible. Use thicker planks, or foam instead of board.",
            count=count, thick=thick, most_layers=MOST_LAYERS,
        ))  # fmt: skip
    return [(i * thick, thick if is_board else min(thick, deep - i * thick)) for i in range(count)]


FORM = Form(
    key="cavity_tray",
    name=noted("Tray with cavity insert"),
    suits=noted("Small or oddly shaped objects that must not move: the insert holds them, fingers fit in."),
    limits=noted("Up to 500 mm long and 4 kg, because foam under a heavier object sets and loosens."),
    build=build,
    options=(*CORNERS, MARGIN, BELOW, ABOVE, INSERT, PLANK),
    longest_mm=500,
    heaviest_g=4_000,
)
