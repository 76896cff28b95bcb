"""Trays for the tests, with the one value that matters visible."""

from boards.core.board import BoardSpec
from housing.core.blank import Blank, flatten
from housing.core.clearances import InnerSize
from housing.core.enclosures.form import COMPENSATED, NOMINAL, FormOptions
from housing.core.enclosures.lidded_tray import lid_over
from housing.core.enclosures.tray import tray_tree

IN = 25.4
B_FLUTE = BoardSpec(caliper_mm=IN / 8)

# Common practice, no source: the wanted inside of the box for an object 10 high x 8 3/4 x 7 1/8 in.
WORKED_INSIDE = InnerSize(10.75 * IN, 9.125 * IN, 11 * IN)
WORKED_OPTIONS = FormOptions(flap_width_mm=2.5 * IN, drawn=NOMINAL)


def make_tray(inner=(300, 200, 150), caliper_mm=3.0, fold_share=0.5, flap_mm=63.5, drawn=COMPENSATED):
    """Panel tree and board of a tray; clear inside, caliper and flap in mm."""
    board = BoardSpec(caliper_mm=caliper_mm, fold_share=fold_share)
    return tray_tree(InnerSize(*inner), board, FormOptions(flap_width_mm=flap_mm, drawn=drawn)), board


def worked_base() -> Blank:
    """The base of the worked example, drawn nominally."""
    return flatten(tray_tree(WORKED_INSIDE, B_FLUTE, WORKED_OPTIONS))


def worked_lid() -> Blank:
    """Its lid, over the finished base measured 11 1/8 x 9 1/4 in, 1/8 in a side, 3 1/2 in deep."""
    return flatten(lid_over(11.125 * IN, 9.25 * IN, B_FLUTE, WORKED_OPTIONS))


def inches(*values_mm: float) -> list[float]:
    """mm as inches, to a thousandth, for comparing with the trade's figures."""
    return [round(value / IN, 3) for value in values_mm]
