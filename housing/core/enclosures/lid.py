"""A lid alone, for a base that is finished and was measured over its flaps."""

from housing.core.clearances import InnerSize
from housing.core.enclosures.corners import FLAPS_ON_LONG
from housing.core.enclosures.form import Brief, Built, Form, Seat
from housing.core.enclosures.lids import LID_CLEARANCE, WINDOW, lid_over
from housing.core.folding import Box3
from objects.core.words import noted


def build(brief: Brief) -> Built:
    """A lid over a base measured outside: the size asked is the base's, and the depth of the skirt."""
    base, gap = brief.inner, brief.choices.mm("lid_clearance")
    lid, notes = lid_over(
        brief,
        Box3(base.x_mm, base.y_mm, base.z_mm),
        base.z_mm,
        on_long=brief.choices.is_on("flaps_on_long_walls"),
        window_mm=brief.choices.mm_or_none("window_margin"),
        seat=Seat.FIRST,
    )
    inside = InnerSize(base.x_mm + 2 * gap, base.y_mm + 2 * gap, base.z_mm)
    return Built((lid,), notes, inside=inside)


FORM = Form(
    key="lid",
    name=noted("Lid for a finished base"),
    suits=noted(
        "A base without a lid: measure it outside over its flaps, and say how deep the lid is to be."
    ),
    limits=noted("Up to 1200 mm long, because a longer lid bends when one person takes it off."),
    build=build,
    options=(FLAPS_ON_LONG, LID_CLEARANCE, WINDOW),
    longest_mm=1200,
)
