"""The clamshell: panels from one fore-edge to the other."""

import pytest

from boards.core.board import BoardSpec
from housing.core.clearances import InnerSize
from housing.core.enclosures import make_enclosure


def test_panels_and_blank_of_a_clamshell():
    # By hand for 250 along the spine, 180 to the fore-edge, 40 deep, creased 1.6 mm board (take-up 0.8) and
    # 1.5 clearance: 40.8, 180 + 1.6, 40 + 1.6, (180 + 1.6 + 1.5) + 1.6, 40 + 1.6 + 0.8, together 491.1;
    # along the spine 250 + 4 x 1.6 + 1.5 + 1.6 + 2 x 42.4 = 344.3.
    blank = make_enclosure("clamshell", InnerSize(250, 180, 40), BoardSpec(1.6)).parts[0].blank

    assert blank.marks_y == pytest.approx((0, 40.8, 222.4, 264.0, 448.7, 491.1))
    assert (blank.x_mm, blank.y_mm) == pytest.approx((344.3, 491.1))


def test_clamshell_has_twelve_folds_and_four_joints_and_flutes_across_the_spine():
    # By hand: 4 folds parallel to the spine, 4 head and tail walls, 4 flaps. A federal pattern (US National
    # Archives, 1993) runs the flutes perpendicular to the spine.
    blank = make_enclosure("clamshell", InnerSize(250, 180, 40), BoardSpec(1.6)).parts[0].blank

    assert (blank.folds, blank.glue_joints, blank.flute_along) == (12, 4, "y")


def test_outer_tray_clears_the_inner_by_the_clearance():
    plates = {
        plate.name: plate.bounds
        for plate in make_enclosure("clamshell", InnerSize(250, 180, 40), BoardSpec(1.6))
        .parts[0]
        .folded.plates
    }

    assert plates["lid right wall"][0] - plates["fore right flap"][3] == pytest.approx(0.75)  # half of 1.5
    assert plates["fore wall"][1] - plates["lid fore wall"][4] == pytest.approx(1.5)
