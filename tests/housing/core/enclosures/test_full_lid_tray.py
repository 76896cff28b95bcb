"""The full-depth lid: as deep as its base, so that every wall is double."""

import pytest

from boards.core.board import BoardSpec
from housing.core.clearances import InnerSize
from housing.core.enclosures import make_enclosure


def test_lid_reaches_the_foot_of_its_base():
    # By hand: the base of 300 x 200 x 150 clear, creased 3 mm board, is 312 x 206 x 153 outside; with 1.5 mm
    # a side the lid's scores lie 312 + 3 + 3 and 206 + 3 + 3 apart, its walls 153 + 1.5:
    # 318 + 2 x 154.5 = 627 by 212 + 309 = 521.
    made = make_enclosure("full_lid_tray", InnerSize(300, 200, 150), BoardSpec(3), {"lid_clearance": 1.5})

    base, lid = made.parts
    assert (base.outside.x_mm, base.outside.y_mm, base.outside.z_mm) == pytest.approx((312, 206, 153))
    assert (lid.blank.x_mm, lid.blank.y_mm) == pytest.approx((627, 521))
    assert made.outside.z_mm == pytest.approx(156)
    assert lid.inside.z_mm == pytest.approx(base.outside.z_mm)
