"""The carrying tray."""

import pytest

from boards.core.board import BoardSpec
from housing.core.clearances import InnerSize
from housing.core.enclosures import make_enclosure
from housing.core.errors import PartTooSmall

BOARD = BoardSpec(1.6)


def test_tray_that_goes_into_a_box_of_300_by_200():
    # By hand: 3 mm a side, so 294 x 194 outside; less 4 x 1.6 and 2 x 1.6 clear; creased:
    # 287.6 + 80 + 3.2 by 190.8 + 80 + 3.2.
    made = make_enclosure("carrying_tray", InnerSize(287.6, 190.8, 40), BOARD, {"handles": "tapes"})

    assert (made.parts[0].blank.x_mm, made.parts[0].blank.y_mm) == pytest.approx((370.8, 274.0))
    assert (made.outside.x_mm, made.outside.y_mm) == pytest.approx((294, 194))


def test_hand_holes_lie_in_both_end_walls_clear_of_the_flaps():
    # The lifting guidance of NIOSH (94-110) calls cut-outs of 4 1/2 x 1 1/2 in good; from memory.
    made = make_enclosure("carrying_tray", InnerSize(400, 250, 100), BOARD)

    blank = made.parts[0].blank
    assert [(hole.panel, hole.shape) for hole in blank.openings] == [
        ("left wall", "slot"),
        ("right wall", "slot"),
    ]
    hole = blank.openings[0]
    assert (hole.height_mm, hole.width_mm) == pytest.approx((115, 38))
    covered = 63.5  # the flap's width from the score of the near wall
    assert hole.y_mm - blank.marks_y[1] >= covered


def test_wall_too_low_for_a_hand_is_refused_with_a_way_out():
    with pytest.raises(PartTooSmall, match="Use tapes instead of holes, or a larger tray."):
        make_enclosure("carrying_tray", InnerSize(400, 250, 40), BOARD)


def test_flap_that_would_cover_the_hole_is_refused():
    # By hand: (250 - 115) / 2 - 10 = 57.5.
    with pytest.raises(PartTooSmall, match="Make them 58 mm at most."):
        make_enclosure("carrying_tray", InnerSize(400, 250, 100), BOARD, {"flap_width": 80.0})
