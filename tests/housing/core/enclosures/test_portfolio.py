"""The portfolio with three flaps."""

import pytest

from boards.core.board import BoardSpec
from housing.core.clearances import InnerSize
from housing.core.enclosures import make_enclosure
from housing.core.errors import FlapTooWide
from housing.core.marking_out import NOMINAL, MarkingOut

INNER = InnerSize(330, 480, 10)


def test_portfolio_of_330_by_480_by_10_with_flaps_of_130():
    # By hand: 330 + 10 + 330 + 10 + 130 = 810 by 480 + 2 x (10 + 130) = 760; two folds of the cover and two
    # of each flap.
    made = make_enclosure("portfolio", INNER, BoardSpec(1), marking_out=MarkingOut(NOMINAL))

    blank = made.parts[0].blank
    assert (blank.x_mm, blank.y_mm) == pytest.approx((810, 760))
    assert (blank.folds, blank.glue_joints) == (8, 0)


def test_flaps_that_would_meet_are_refused():
    with pytest.raises(FlapTooWide, match="Let them reach at most 240 mm"):
        make_enclosure("portfolio", INNER, BoardSpec(1), {"flap_reach": 300.0})
