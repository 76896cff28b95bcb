"""The slipcase."""

import pytest

from boards.core.board import BoardSpec
from housing.core.clearances import InnerSize
from housing.core.enclosures import make_enclosure
from housing.core.errors import FlapTooNarrow, FlapTooWide

INNER, BOARD = InnerSize(171, 241, 31), BoardSpec(1.6)


def test_slipcase_for_a_volume_of_171_by_241_by_31():
    # By hand, creased 1.6 mm board: 2 x (171 + 0.8) + (31 + 1.6) = 376.2 wide. High 241 + 1.6 and twice a cap
    # and a flap: 31 + 1.6 + 20, and one caliper more because the flap lies outside the far side: 351.0.
    blank = make_enclosure("slipcase", INNER, BOARD).parts[0].blank

    assert (blank.x_mm, blank.y_mm) == pytest.approx((376.2, 351.0))


def test_slipcase_has_six_folds_and_four_joints():
    # By hand: the back's two folds, two caps, two flaps; each cap is glued by its flap and along the back.
    blank = make_enclosure("slipcase", INNER, BOARD).parts[0].blank

    assert (blank.folds, blank.glue_joints) == (6, 4)


def test_nothing_is_glued_inside_where_the_volume_slides():
    plates = {
        plate.name: plate.bounds for plate in make_enclosure("slipcase", INNER, BOARD).parts[0].folded.plates
    }

    assert plates["near glue flap"][2] == pytest.approx(plates["far side"][5])  # on top of the far side


@pytest.mark.parametrize(("flap", "error"), [(200.0, FlapTooWide), (1.0, FlapTooNarrow)])
def test_impossible_glue_flap_is_refused(flap, error):
    with pytest.raises(error):
        make_enclosure("slipcase", INNER, BOARD, {"glue_flap": flap})
