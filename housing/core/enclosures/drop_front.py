"""Box whose front wall folds down flat, so that a heavy object slides out instead of being lifted."""

from housing.core.enclosures.corners import FLAP_WIDTH, tray_tree
from housing.core.enclosures.form import Brief, Built, Form, Supply
from housing.core.enclosures.lids import LID_CLEARANCE, lid_over
from housing.core.enclosures.options import Kind, Option
from housing.core.errors import SizeRefused
from housing.core.panels import Edge
from objects.core.words import noted, say

LID_DEPTH = Option(
    "lid_depth", noted("Lid depth"), Kind.LENGTH, None, noted("Blank for 88.9 mm, more on high boxes."),
    is_above=True,
)  # fmt: skip
HELD_BY = Option(
    "held_by", noted("The front is held shut by"), Kind.WORD, "lid",
    words=(("lid", noted("the lid")), ("ties", noted("the lid and a tie around the box"))),
)  # fmt: skip
SHARE = 1 / 3  # of the front that the lid covers at least; assumed


def build(brief: Brief) -> Built:
    """Base whose front flaps lie loose outside the side walls, and the lid that holds them."""
    flap = brief.choices.mm_or_none("flap_width")
    base = brief.part("base", tray_tree(brief, flap, along_x=True, unglued=Edge.NEAR))
    high, asked = base.outside.z_mm, brief.choices.mm_or_none("lid_depth")
    depth = min(max(88.9, high * SHARE), high) if asked is None else asked
    if depth > high:
        raise SizeRefused(
            say(
                "The lid is {depth:.1f} mm deep, but the base is only {high:.1f} mm high. Make the lid "
                "at most {high:.1f} mm deep.",
                depth=depth,
                high=high,
            )
        )
    lid, notes = lid_over(brief, base.outside, depth)
    if depth < high * SHARE:
        notes += (
            f"The lid covers {depth:.0f} mm of a front {high:.0f} mm high; below a third, that is "
            f"{high * SHARE:.0f} mm, the front may spring open. Make the lid deeper or tie the box.",
        )
    round_it = 2 * (base.outside.y_mm + high) + 400
    ties = (Supply(f"cotton tape, {round_it:.0f} mm long, tied around front and back"),)
    return Built((base, lid), notes, ties if brief.choices.word("held_by") == "ties" else ())


FORM = Form(
    key="drop_front",
    name=noted("Drop-front box"),
    suits=noted("Heavy, fragile or top-heavy objects that slide out on a tray, or are looked at unlifted."),
    limits=noted(
        "Up to 1000 mm long and 20 kg, because the floor carries it, but two people must carry the box."
    ),
    build=build,
    options=(FLAP_WIDTH, LID_DEPTH, LID_CLEARANCE, HELD_BY),
    longest_mm=1000,
    heaviest_g=20_000,
)
