"""The tray with an insert cut out to the object."""

import pytest

from boards.core.board import BoardSpec
from housing.core.clearances import InnerSize
from housing.core.enclosures import make_enclosure
from housing.core.errors import PartTooSmall

INNER, BOARD = InnerSize(134, 120, 45), BoardSpec(1.6)


def test_cavity_for_an_object_of_62_by_48_by_35():
    # By hand: 5 mm for fingers on each side, so a cavity of 72 x 58; 30 mm around it, so an insert of
    # 132 x 118; a tray 2 mm larger; a pad of 5 below and 5 free above, so 45 high. Creased 1.6 mm board:
    # 134 + 90 + 3.2 by 120 + 90 + 3.2.
    made = make_enclosure("cavity_tray", INNER, BOARD)

    tray, layer = made.parts[0].blank, made.parts[1].blank
    assert (tray.x_mm, tray.y_mm) == pytest.approx((227.2, 213.2))
    assert (layer.x_mm, layer.y_mm) == pytest.approx((132, 118))
    assert (layer.openings[0].width_mm, layer.openings[0].height_mm) == pytest.approx((72, 58))


def test_foam_is_layered_from_planks_and_the_last_is_sliced():
    # By hand: 35 mm from planks of 25: one whole and one of 10.
    made = make_enclosure("cavity_tray", INNER, BOARD)

    assert [part.material for part in made.parts] == ["board", "foam", "foam"]
    assert [part.outside.z_mm for part in made.parts[1:]] == pytest.approx([25, 10])


def test_layers_of_board_are_as_many_whole_calipers_as_go_in():
    # By hand: 35 / 3 = 11.7, so 11.
    made = make_enclosure("cavity_tray", INNER, BoardSpec(3), {"insert": "board"})

    assert [part.material for part in made.parts] == ["board"] * 12


def test_tray_too_small_for_a_cavity_is_refused():
    with pytest.raises(PartTooSmall, match="The cavity comes to 2 x 58 mm and 35 mm deep"):
        make_enclosure("cavity_tray", InnerSize(64, 120, 45), BOARD)
