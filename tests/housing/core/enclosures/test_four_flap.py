"""The four-flap wrapper."""

import pytest

from boards.core.board import BoardSpec
from housing.core.clearances import InnerSize
from housing.core.enclosures import make_enclosure
from housing.core.marking_out import NOMINAL, MarkingOut

BOOK = InnerSize(101, 76, 7)


def test_wrapper_of_a_published_worksheet():
    # A bookbinding worksheet ("Phase box (soft)") states 31.8 x 24.2 cm for a book of 101 x 76 x 7 mm with
    # 1 mm more on the last turn: 101 + 8 + 101 + 7 + 101 by 76 + 7 + 76 + 7 + 76.
    made = make_enclosure("four_flap", BOOK, BoardSpec(0.25), marking_out=MarkingOut(NOMINAL))

    blank = made.parts[0].blank
    assert (blank.x_mm, blank.y_mm) == pytest.approx((318, 242))
    assert blank.marks_x == pytest.approx((0, 101, 108, 209, 217, 318))
    assert (blank.folds, blank.glue_joints, blank.flute_along) == (8, 0, "y")


def test_compensated_wrapper_gives_each_flap_the_layers_beneath_it():
    # By hand, creased 0.5 mm card: edges 7, 7.5, 8 and 8.5 clear, each with two take-ups of 0.25 mm.
    panels = {p.name: p for p in make_enclosure("four_flap", BOOK, BoardSpec(0.5)).parts[0].blank.panels}

    assert panels["near edge"].height_mm == pytest.approx(7.5)
    assert panels["far edge"].height_mm == pytest.approx(8.0)
    assert panels["left edge"].width_mm == pytest.approx(8.5)
    assert panels["right edge"].width_mm == pytest.approx(9.0)


def test_tied_wrapper_has_a_slit_and_tape():
    # By hand: once around, 2 x (101 + 7), and 400 for a bow (common practice, no source).
    made = make_enclosure("four_flap", BOOK, BoardSpec(0.5), {"ties": True})

    assert [opening.panel for opening in made.parts[0].blank.openings] == ["right flap"]
    assert [supply.what for supply in made.supplies] == ["flat cotton tape 12 mm wide, 616 mm long"]
