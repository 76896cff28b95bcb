"""The sleeve."""

import pytest

from boards.core.board import BoardSpec
from housing.core.clearances import InnerSize
from housing.core.enclosures import make_enclosure
from housing.core.errors import FlapTooNarrow, FlapTooWide

INNER, BOARD = InnerSize(200, 300, 50), BoardSpec(3)


def test_sleeve_is_four_walls_and_a_flap_in_a_row():
    # By hand, creased 3 mm board (take-up 1.5): floor 201.5, wall 53, top 203, wall with a caliper more 56,
    # flap 30; open at both ends.
    blank = make_enclosure("sleeve", INNER, BOARD).parts[0].blank

    assert blank.marks_x == pytest.approx((0, 201.5, 254.5, 457.5, 543.5))
    assert blank.flap_marks_x == pytest.approx((513.5,))
    assert (blank.folds, blank.glue_joints, blank.y_mm, blank.waste) == (4, 1, 300, ())


def test_flap_is_glued_beneath_so_that_nothing_catches_inside():
    plates = {
        plate.name: plate.bounds for plate in make_enclosure("sleeve", INNER, BOARD).parts[0].folded.plates
    }

    assert plates["glue flap"][5] == pytest.approx(plates["floor"][2])


@pytest.mark.parametrize(("flap", "error"), [(250.0, FlapTooWide), (2.0, FlapTooNarrow)])
def test_impossible_glue_flap_is_refused(flap, error):
    with pytest.raises(error):
        make_enclosure("sleeve", INNER, BOARD, {"glue_flap": flap})
