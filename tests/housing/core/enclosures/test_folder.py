"""The folder with a gusset."""

import pytest

from boards.core.board import BoardSpec
from housing.core.clearances import InnerSize
from housing.core.enclosures import make_enclosure
from housing.core.marking_out import NOMINAL, MarkingOut


def test_folder_is_two_leaves_and_a_gusset():
    # By hand: a sheet of 406 x 508 with 12 mm to spare on each side and 3 mm thick: 2 x 430 + 3 by 532.
    made = make_enclosure("folder", InnerSize(430, 532, 3), BoardSpec(0.5), marking_out=MarkingOut(NOMINAL))

    blank = made.parts[0].blank
    assert (blank.x_mm, blank.y_mm) == pytest.approx((863, 532))
    assert (blank.folds, blank.glue_joints, blank.waste) == (2, 0, ())


def test_ties_lie_opposite_one_another_when_it_is_closed():
    made = make_enclosure("folder", InnerSize(430, 532, 3), BoardSpec(0.5))

    back, front = made.parts[0].blank.openings
    blank = made.parts[0].blank
    assert back.y_mm == pytest.approx(front.y_mm)
    assert front.x_mm == pytest.approx(20)  # from the edge that opens
    assert blank.x_mm - back.x_mm == pytest.approx(20, abs=0.5)  # the same, but for the fold's take-up
    assert blank.cut_length_mm == pytest.approx(30)  # two slits of 15 mm


def test_folder_without_ties_needs_nothing_else():
    made = make_enclosure("folder", InnerSize(430, 532, 3), BoardSpec(0.5), {"ties": False})

    assert (made.supplies, made.parts[0].blank.openings) == ((), ())
