"""Slits for cotton tape that ties a wrapper or a folder shut."""

from housing.core.clearances import InnerSize
from housing.core.enclosures.form import Supply
from housing.core.enclosures.options import Kind, Option
from housing.core.panels import Opening, Shape
from objects.core.words import noted

# Common practice, no source: flat cotton tape of 12 mm, a little slack in the slit, 200 mm left for the bow.
SLIT_MM = 15.0
BOW_MM = 400.0
TIES = Option(
    "ties",
    noted("Cotton ties"),
    Kind.YES_NO,
    False,
    noted("Slits for flat cotton tape; tie without pulling."),
)
TIED = Option(
    "ties", noted("Cotton ties"), Kind.YES_NO, True, noted("Slits for flat cotton tape; tie without pulling.")
)


def tie_slits(out_mm: float | None, from_edge_mm: float, *, on_floor: bool = False) -> tuple[Opening, ...]:
    """One slit for a tape that runs across a panel.

    out_mm: where it lies away from the fold, None for the middle; on a floor where it lies along x.
    from_edge_mm: how far from the rim, where out_mm is None.
    """
    if on_floor:
        return (Opening("slit for a tie", Shape.SLIT, 0.0, SLIT_MM, at_along_mm=out_mm),)
    if out_mm is None:
        return (Opening("slit for a tie", Shape.SLIT, SLIT_MM, 0.0, at_out_mm=from_edge_mm, from_rim=True),)
    return (Opening("slit for a tie", Shape.SLIT, SLIT_MM, 0.0, at_out_mm=out_mm),)


def tie_tape(inner: InnerSize) -> tuple[Supply, ...]:
    """The tape that goes once around, with enough for a bow."""
    around = 2 * (inner.x_mm + inner.z_mm) + BOW_MM
    return (Supply(f"flat cotton tape 12 mm wide, {around:.0f} mm long"),)
