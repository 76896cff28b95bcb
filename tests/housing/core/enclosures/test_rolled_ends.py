"""Double end walls, rolled over the flaps they hold."""

import pytest

from boards.core.board import BoardSpec
from housing.core.clearances import InnerSize
from housing.core.enclosures import make_enclosure
from housing.core.errors import FlapTooNarrow

INNER = InnerSize(300, 200, 100)


def test_rolled_ends_need_no_glue_and_are_three_calipers_thick():
    # By hand: outer leaf, flap and inner leaf at each end, one wall at each side: 300 + 6 x 3, 200 + 2 x 3.
    made = make_enclosure("tray", INNER, BoardSpec(3), {"double_wall": True})

    assert made.parts[0].blank.glue_joints == 0
    assert (made.outside.x_mm, made.outside.y_mm) == pytest.approx((318, 206))
    assert (made.inside.x_mm, made.inside.y_mm, made.inside.z_mm) == pytest.approx((300, 200, 100))


@pytest.mark.parametrize("share", [0, 0.5])
def test_scores_of_the_rim_lie_at_most_two_calipers_apart(share):
    # A federal archives specification (US National Archives, 1993) allows two board thicknesses.
    blank = make_enclosure("tray", INNER, BoardSpec(3, share), {"double_wall": True}).parts[0].blank

    rim = next(panel for panel in blank.panels if panel.name == "left rim")
    assert rim.width_mm == pytest.approx(3 + 2 * share * 3)
    assert rim.width_mm <= 2 * 3


def test_tray_too_low_to_hold_a_flap_is_refused():
    with pytest.raises(FlapTooNarrow):
        make_enclosure("tray", InnerSize(300, 200, 5), BoardSpec(3), {"double_wall": True})
