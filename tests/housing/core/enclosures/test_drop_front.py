"""The drop-front box: two glued corners at the back, a front that opens."""

import pytest

from boards.core.board import BoardSpec
from housing.core.clearances import InnerSize
from housing.core.enclosures import make_enclosure
from housing.core.errors import SizeRefused

IN = 25.4
INNER, BOARD = InnerSize(10.75 * IN, 9.125 * IN, 11 * IN), BoardSpec(IN / 8)


def test_only_the_back_corners_are_glued():
    # Common practice, no source: of a tray's four joints two stay, each as tall as the wall:
    # 2 x (11 + 1/16) in on the flat.
    base = make_enclosure("drop_front", INNER, BOARD).parts[0].blank

    assert base.folds == 8
    assert base.glue_joints == 2
    assert base.glue_length_mm / IN == pytest.approx(2 * 11.0625)


def test_lid_covers_at_least_a_third_of_the_front():
    # By hand: a base of 600 mm and a caliper of 3.175 mm outside, a third of it.
    made = make_enclosure("drop_front", InnerSize(300, 250, 600), BOARD)

    assert made.parts[1].inside.z_mm == pytest.approx(603.175 / 3)


def test_shallower_lid_is_made_but_told():
    made = make_enclosure("drop_front", InnerSize(300, 250, 600), BOARD, {"lid_depth": 60.0})

    assert made.notes == (
        "The lid covers 60 mm of a front 603 mm high; below a third, that is 201 mm, the front may spring "
        "open. Make the lid deeper or tie the box.",
    )


def test_lid_deeper_than_the_base_is_refused():
    with pytest.raises(SizeRefused, match="The lid is 400.0 mm deep, but the base is only 153.2 mm high."):
        make_enclosure("drop_front", InnerSize(300, 250, 150), BOARD, {"lid_depth": 400.0})
