"""Long low box for costume and folded textiles, with room for tissue in every fold."""

from dataclasses import replace

from housing.core.enclosures.corners import BASE, base_tree, loose_steps
from housing.core.enclosures.form import Brief, Built, Form, Part, Seat, Supply
from housing.core.enclosures.lids import LID_CLEARANCE, LID_DEPTH, depth_over, lid_over
from housing.core.enclosures.options import Kind, Option
from housing.core.panels import Panel, PanelTree
from objects.core.words import noted

TISSUE = Option(
    "tissue",
    noted("Height added for folded tissue"),
    Kind.LENGTH,
    25.0,
    noted("Sausages of tissue in every fold."),
    most=300,
)
DOUBLED = Option(
    "doubled_over",
    noted("Second floor in boxes longer than"),
    Kind.LENGTH,
    1000.0,
    noted("A loose sheet to stiffen it."),
)
LOOSE_MM = 1.0  # on each side between the second floor and the walls


def build(brief: Brief) -> Built:
    """Base, lid and, in a long box, a second floor; the room for tissue is added to the height asked."""
    asked = brief.inner
    is_doubled = max(asked.x_mm, asked.y_mm) > brief.choices.mm("doubled_over")
    tissue = brief.choices.mm("tissue")
    inner = replace(asked, z_mm=asked.z_mm + tissue + (brief.t if is_doubled else 0.0))
    base = brief.part("base", base_tree(brief.inside_of(inner)))
    depth, shortened = depth_over(brief, base.outside)
    on_long = brief.choices.is_on("flaps_on_long_walls")
    lid, notes = lid_over(brief, base.outside, depth, on_long=on_long)
    parts: tuple[Part, ...] = (base, lid)
    if is_doubled:
        long, wide = (brief.down(side - 2 * LOOSE_MM) for side in (base.inside.x_mm, base.inside.y_mm))
        floor = PanelTree(Panel("second floor", wide, long), (), "x" if long > wide else "y")
        parts += (brief.part("second floor", floor, Seat.INSIDE),)
    sheets = (Supply("acid-free tissue, a pad for every fold"),) if tissue else ()
    return Built(parts, shortened + notes, sheets, inner, loose_steps=loose_steps(brief))


FORM = Form(
    key="garment_box",
    name=noted("Garment box"),
    suits=noted("Costume and textiles that lie flat with few soft folds, each padded with tissue."),
    limits=noted("Up to 1900 mm long and 10 kg, because two people must carry it level."),
    build=build,
    options=(*BASE, LID_DEPTH, LID_CLEARANCE, TISSUE, DOUBLED),
    longest_mm=1900,
    heaviest_g=10_000,
)
