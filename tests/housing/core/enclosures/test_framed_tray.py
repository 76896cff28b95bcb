"""The travelling tray and its corner blocks."""

import pytest

from boards.core.board import BoardSpec
from housing.core.clearances import InnerSize
from housing.core.enclosures import make_enclosure
from housing.core.errors import PartTooSmall
from housing.core.marking_out import NOMINAL, MarkingOut

IN = 25.4


def test_tray_for_a_frame_of_30_by_24_by_2_1_2_in():
    # By hand: 2 in of padding at the sides, 1 in under and over: inside 34 x 28 x 4 1/2, drawn nominally
    # 34 + 9 by 28 + 9.
    inner = InnerSize(34 * IN, 28 * IN, 4.5 * IN)
    made = make_enclosure("framed_tray", inner, BoardSpec(IN / 8), marking_out=MarkingOut(NOMINAL))

    blank = made.parts[0].blank
    assert (blank.x_mm / IN, blank.y_mm / IN) == pytest.approx((43, 37))


def test_corner_block_for_legs_of_100_and_a_frame_of_30():
    # By hand, creased 3 mm board: 2 x 100 + 30 + 3 by 100 + 30 + 3.
    made = make_enclosure("framed_tray", InnerSize(400, 400, 80), BoardSpec(3), {"frame_depth": 30.0})

    assert [part.name for part in made.parts] == ["tray", *(f"corner block {i}" for i in range(1, 5))]
    block = made.parts[1].blank
    assert (block.x_mm, block.y_mm) == pytest.approx((233, 133))
    assert block.glue_joints == 1


def test_blocks_larger_than_half_the_tray_are_refused():
    with pytest.raises(PartTooSmall, match="Make the legs at most 90 mm"):
        make_enclosure("framed_tray", InnerSize(180, 400, 80), BoardSpec(3))
