"""The notched lid: half an ellipse in the middle of two of its walls."""

import math

import pytest

from boards.core.board import BoardSpec
from housing.core.clearances import InnerSize
from housing.core.enclosures import make_enclosure
from housing.core.errors import PartTooSmall

INNER, BOARD = InnerSize(200, 150, 60), BoardSpec(1.6)


def test_two_walls_of_the_lid_have_a_notch_half_as_deep_as_it_is_wide():
    # By hand: a half circle of 50 mm across takes pi x 25^2 / 2 = 981.7 mm2 and pi x 25 = 78.5 mm of cutting.
    made = make_enclosure("notched_lid_tray", INNER, BOARD)

    notches = made.parts[1].blank.openings
    assert [(notch.panel, notch.shape) for notch in notches] == [
        ("near wall", "notch"),
        ("far wall", "notch"),
    ]
    assert [notch.area_mm2 for notch in notches] == pytest.approx([math.pi * 25**2 / 2] * 2)
    assert [notch.cut_length_mm for notch in notches] == pytest.approx([math.pi * 25] * 2, rel=1e-4)


def test_notch_lies_at_the_rim_in_the_middle_of_its_wall():
    lid = make_enclosure("notched_lid_tray", INNER, BOARD).parts[1].blank

    near, far = lid.openings
    assert near.y_mm == pytest.approx(0)
    assert far.y_mm + far.height_mm == pytest.approx(lid.y_mm)
    assert near.x_mm + near.width_mm / 2 == pytest.approx(lid.x_mm / 2)


def test_notch_of_a_shallow_lid_leaves_board_above_it():
    # By hand: 60 % of a skirt of 20 mm.
    made = make_enclosure("notched_lid_tray", INNER, BOARD, {"lid_depth": 20.0})

    assert made.parts[1].blank.openings[0].height_mm == pytest.approx(12)


def test_notch_wider_than_half_its_wall_is_refused():
    with pytest.raises(PartTooSmall, match="Make the notch at most 103 mm."):
        make_enclosure("notched_lid_tray", INNER, BOARD, {"notch_width": 150.0})
