"""The garment box."""

import pytest

from boards.core.board import BoardSpec
from housing.core.clearances import InnerSize
from housing.core.enclosures import make_enclosure

IN = 25.4
INNER, BOARD = InnerSize(60 * IN, 18 * IN, 6 * IN), BoardSpec(IN / 8)


def test_box_of_60_by_18_by_6_in():
    # By hand, creased 1/8 in board, without tissue and second floor: 60 + 12 + 1/4 by 18 + 12 + 1/4;
    # outside 60 + 4/8, 18 + 2/8, 6 + 1/8.
    made = make_enclosure("garment_box", INNER, BOARD, {"tissue": 0.0, "doubled_over": 2000.0})

    base = made.parts[0]
    assert (base.blank.x_mm / IN, base.blank.y_mm / IN) == pytest.approx((72.25, 30.25))
    assert (base.outside.x_mm / IN, base.outside.y_mm / IN, base.outside.z_mm / IN) == pytest.approx(
        (60.5, 18.25, 6.125)
    )


def test_room_for_tissue_is_added_to_the_height():
    made = make_enclosure("garment_box", InnerSize(600, 400, 100), BOARD, {"tissue": 30.0})

    assert made.inside.z_mm == pytest.approx(130)


def test_long_box_gets_a_second_floor_and_its_thickness():
    made = make_enclosure("garment_box", INNER, BOARD, {"tissue": 0.0})

    assert [part.name for part in made.parts] == ["base", "lid", "second floor"]
    assert made.inside.z_mm == pytest.approx(6 * IN + IN / 8)
    floor = made.parts[2].blank
    assert (floor.x_mm, floor.y_mm) == pytest.approx((60 * IN - 2, 18 * IN - 2))
