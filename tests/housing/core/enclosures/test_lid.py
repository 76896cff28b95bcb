"""A lid alone, over a base that was measured when it was finished."""

import pytest

from boards.core.board import BoardSpec
from housing.core.clearances import InnerSize
from housing.core.enclosures import make_enclosure
from housing.core.errors import OptionRefused
from housing.core.marking_out import NOMINAL, MarkingOut

IN = 25.4
MEASURED = InnerSize(11.125 * IN, 9.25 * IN, 3.5 * IN)


def test_lid_for_a_base_measured_11_1_8_by_9_1_4():
    # Common practice, no source: 1/4 in more in all than measured, skirt 3 1/2:
    # 11 3/8 + 7 = 18 3/8 by 9 1/2 + 7 = 16 1/2 in, marks 0, 3 1/2, 14 7/8, 18 3/8.
    made = make_enclosure("lid", MEASURED, BoardSpec(IN / 8), marking_out=MarkingOut(NOMINAL))

    blank = made.parts[0].blank
    assert (blank.x_mm / IN, blank.y_mm / IN) == pytest.approx((18.375, 16.5))
    assert [mark / IN for mark in blank.marks_x] == pytest.approx([0, 3.5, 14.875, 18.375])
    assert blank.board_area_mm2 / IN**2 == pytest.approx(289.1875)  # 303.1875 - 4 x 1 x 3 1/2


@pytest.mark.parametrize(
    ("clearance", "slip", "notes"),
    [(1 / 8, 1 / 8, 0), (1 / 16, 0.0, 1)],  # limiting case: 1/8 in all is taken up by creased 1/8 in board
)
def test_nominal_lid_slips_by_its_clearances_less_a_caliper(clearance, slip, notes):
    # By hand: two clearances less two half calipers.
    options = {"lid_clearance": clearance * IN}
    made = make_enclosure("lid", MEASURED, BoardSpec(IN / 8), options, MarkingOut(NOMINAL))

    assert (made.inside.x_mm - MEASURED.x_mm) / IN == pytest.approx(slip, abs=1e-9)
    assert len(made.notes) == notes


def test_compensated_lid_keeps_the_whole_clearance():
    made = make_enclosure("lid", MEASURED, BoardSpec(IN / 8))

    assert (made.inside.x_mm - MEASURED.x_mm) / IN == pytest.approx(1 / 4)


def test_negative_clearance_is_refused():
    with pytest.raises(OptionRefused) as refused:
        make_enclosure("lid", MEASURED, BoardSpec(3), {"lid_clearance": -1.0})

    assert str(refused.value) == "Lid clearance on each side is -1 mm; it must be at least 0 mm."
