"""One enclosure of each form, at a size that suits it, for drawings that must cope with all of them."""

from boards.core.board import BoardSpec
from housing.core.clearances import InnerSize
from housing.core.enclosures import ENCLOSURES, Enclosure, make_enclosure

USUAL = (300, 220, 140)
SIZES = {
    "folder": (400, 300, 5),
    "four_flap": (220, 160, 12),
    "portfolio": (420, 300, 25),
    "slipcase": (220, 150, 30),
    "rolled_tube": (900, 1200, 1.5),
    "garment_box": (1200, 500, 120),
    "framed_tray": (800, 600, 120),
}
FORMS = sorted(ENCLOSURES)


def one_of(form: str, caliper_mm: float = 3.0, fold_share: float = 0.5, inner=None, **options) -> Enclosure:
    inner = InnerSize(*(inner or SIZES.get(form, USUAL)))
    return make_enclosure(form, inner, BoardSpec(caliper_mm, fold_share), options)
