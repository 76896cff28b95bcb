"""Tray with a separate lid that slides over it: the usual box for rigid objects lifted from above."""

from dataclasses import replace

from boards.core.board import BoardSpec
from housing.core.clearances import InnerSize
from housing.core.enclosures.form import NOMINAL, BuiltForm, Form, FormOptions
from housing.core.enclosures.tray import tray_tree
from housing.core.errors import SizeRefused
from housing.core.folding import close
from housing.core.panels import PanelTree

TIGHT_MM = 0.1  # below what a hand-cut lid can be held to; assumed


def build(inner: InnerSize, board: BoardSpec, options: FormOptions) -> BuiltForm:
    """Base and lid around a clear inside; notes tell of a lid cut down to the base and of one that binds."""
    base = tray_tree(inner, board, options)
    outside = close(base, board).outside
    depth = min(options.lid_depth_mm, outside.z_mm)
    notes: tuple[str, ...] = ()
    if depth < options.lid_depth_mm:
        notes = (
            f"The lid was asked {options.lid_depth_mm:.0f} mm deep but the base is only {outside.z_mm:.0f} "
            "mm high, so the lid reaches to the foot of the base.",
        )
    slip = true_slip_mm(options.lid_clearance_mm, board, options.drawn)
    if slip <= TIGHT_MM:
        notes += (
            f"The lid leaves {max(slip, 0.0):.1f} mm over the base in all and will bind: drawn nominally, "
            "the folds take up the clearance. Ask for more, or draw the blank compensated.",
        )
    lid = lid_over(outside.x_mm, outside.y_mm, board, replace(options, lid_depth_mm=depth))
    return BuiltForm(trees=(("base", base), ("lid", lid)), notes=notes)


def lid_over(base_x_mm: float, base_y_mm: float, board: BoardSpec, options: FormOptions) -> PanelTree:
    """Panel tree of a lid that slides over a finished base.

    base_x_mm, base_y_mm: the base measured outside, flaps included, mm. board: the lid's board.
    options: clearance on each side and skirt depth in mm; the flap width asked is for the base and does not
    bind the lid, whose skirt may be lower than the flap is wide.
    Returns panels in mm. Raises SizeRefused for a base size at or below 0.
    Source: measuring over the finished base and adding a clearance is common practice, no source; scores
        moved by the fold model (boards/core/board.py). Drawn nominally, the true slip is one caliper less
        than the two clearances (creased board).
    """
    if min(base_x_mm, base_y_mm) <= 0:
        raise SizeRefused(f"The base is {base_x_mm:g} x {base_y_mm:g} mm outside; both must be above 0.")
    inner = InnerSize(
        base_x_mm + 2 * options.lid_clearance_mm,
        base_y_mm + 2 * options.lid_clearance_mm,
        options.lid_depth_mm,
    )
    return tray_tree(inner, board, replace(options, flap_width_mm=None))


def true_slip_mm(clearance_mm: float, board: BoardSpec, drawn: str) -> float:
    """Gap in all between base and lid once folded.

    clearance_mm: asked on each side, mm. Returns both sides together, mm; 0 or below means that it binds.
    Source: fold model; worked in tests/housing/core/enclosures/test_lidded_tray.py.
    """
    taken = 2 * board.fold_share * board.caliper_mm if drawn == NOMINAL else 0.0
    return 2 * clearance_mm - taken


FORM = Form(
    key="lidded_tray",
    name="Tray with telescoping lid",
    suits="Most rigid objects that can be lifted from above and should be kept from dust and light.",
    has_lid=True,
    build=build,
)
