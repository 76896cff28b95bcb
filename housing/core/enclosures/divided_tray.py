"""Tray with dividers: strips slotted into one another make a grid of cells for sets of small objects."""

from housing.core.enclosures.corners import CORNERS, tray_tree
from housing.core.enclosures.form import Brief, Built, Form, Part, Seat
from housing.core.enclosures.options import Kind, Option
from housing.core.errors import PartTooSmall
from housing.core.panels import Opening, Panel, PanelTree, Shape
from objects.core.words import noted, say

CELLS_X = Option("cells_x", noted("Cells from left to right"), Kind.COUNT, 3, least=1, most=24)
CELLS_Y = Option("cells_y", noted("Cells from front to back"), Kind.COUNT, 2, least=1, most=24)
SLACK_MM = 0.5  # a slot is so much wider than the board; common practice, no source
SMALLEST_MM = 10.0  # a finger and thumb need more; assumed


def build(brief: Brief) -> Built:
    """Tray and its dividers, as high as its walls; those along x are slotted from above, the others below."""
    flap, on_long = brief.choices.mm_or_none("flap_width"), brief.choices.is_on("flaps_on_long_walls")
    tray = brief.part("tray", tray_tree(brief, flap, on_long=on_long))
    inside, t, columns, rows = (
        tray.inside,
        brief.t,
        brief.choices.count("cells_x"),
        brief.choices.count("cells_y"),
    )
    middles_x = _middles(inside.x_mm, columns, t, noted("left to right"))
    middles_y = _middles(inside.y_mm, rows, t, noted("front to back"))
    high = brief.down(inside.z_mm)
    parts: list[Part] = [tray]
    for number, y in enumerate(middles_y, start=1):
        tree = _strip(inside.x_mm, high, middles_x, t, True, brief)
        at = (0.0, y - inside.y_mm / 2)
        parts.append(brief.part(f"long divider {number}", tree, Seat.ACROSS_X, at_mm=at))
    for number, x in enumerate(middles_x, start=1):
        tree = _strip(inside.y_mm, high, middles_y, t, False, brief)
        at = (x - inside.x_mm / 2, 0.0)
        parts.append(brief.part(f"cross divider {number}", tree, Seat.ACROSS_Y, at_mm=at))
    cell_x, cell_y = ((side - (n - 1) * t) / n for side, n in ((inside.x_mm, columns), (inside.y_mm, rows)))
    note = f"{columns} x {rows} cells of {cell_x:.1f} mm by {cell_y:.1f} mm."
    return Built(tuple(parts), (note,))


def _middles(clear: float, cells: int, t: float, way: str) -> list[float]:
    """Where the dividers stand along a clear length, mm from its start."""
    cell = (clear - (cells - 1) * t) / cells
    if cell < SMALLEST_MM:
        most = int((clear + t) / (SMALLEST_MM + t))
        raise PartTooSmall(say(
            "{cells} cells from {way} in {clear:.0f} mm leave {cell:.1f} mm each; a cell needs at "
            "least {smallest_mm:.0f} mm. Ask for at most {max}, or for a larger tray.",
            cells=cells, way=say(way), clear=clear, cell=cell, smallest_mm=SMALLEST_MM, max=max(most, 1),
        ))  # fmt: skip
    return [i * (cell + t) - t / 2 for i in range(1, cells)]


def _strip(
    clear: float, high: float, middles: list[float], t: float, from_above: bool, brief: Brief
) -> PanelTree:
    length = brief.down(clear)
    slots = tuple(
        Opening(
            "slot", Shape.RECTANGLE, t + SLACK_MM, high / 2,
            middle - (clear - length) / 2, high / 4, from_above,
        )
        for middle in middles
    )  # fmt: skip
    return PanelTree(Panel("divider", high, length, openings=slots), (), "y")


FORM = Form(
    key="divided_tray",
    name=noted("Tray with dividers"),
    suits=noted("Sets of small sturdy objects of about one size, each in a cell of its own."),
    limits=noted("Up to 700 mm long and 6 kg, because the slots halve the strength of every divider."),
    build=build,
    options=(*CORNERS, CELLS_X, CELLS_Y),
    longest_mm=700,
    heaviest_g=6_000,
)
