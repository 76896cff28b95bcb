"""The box with its lid in one piece."""

import pytest

from boards.core.board import BoardSpec
from housing.core.clearances import InnerSize
from housing.core.enclosures import make_enclosure
from housing.core.enclosures.seating import fits
from housing.core.errors import SizeRefused

INNER, BOARD = InnerSize(200, 150, 80), BoardSpec(2)


def test_blank_runs_from_the_near_wall_to_the_skirt_of_the_lid():
    # By hand, creased 2 mm board, one take-up of 1 mm at each fold: near wall 80 + 1, floor 150 + 2, far wall
    # 80 + 2, lid 150 + 2 (near wall) + 2 (clearance) + 2, skirt 40 + 1.
    made = make_enclosure("hinged_lid", INNER, BOARD)

    assert made.parts[0].blank.marks_y == pytest.approx((0, 81, 233, 315, 471, 512))


def test_closed_box_is_as_wide_as_its_walls_flaps_clearances_and_skirts():
    # By hand: 200 + 2 x 2 walls + 2 x 2 flaps + 2 x 2 clearance + 2 x 2 skirts + 2 x 2 flaps of the skirts.
    made = make_enclosure("hinged_lid", INNER, BOARD)

    assert made.outside.x_mm == pytest.approx(220)
    assert made.outside.z_mm == pytest.approx(84)  # floor, 80 clear, lid
    assert fits(made.parts) == []


def test_skirt_deeper_than_the_box_is_refused_with_both_values():
    with pytest.raises(SizeRefused) as refused:
        make_enclosure("hinged_lid", INNER, BOARD, {"lid_depth": 90.0})

    assert str(refused.value) == (
        "The lid's skirt is 90.0 mm deep, but the box is only 80.0 mm high inside. Make it at most 80.0 mm."
    )
