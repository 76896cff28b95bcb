"""The lid over its base: figures worked by hand, the slip that remains, and lids that are too deep."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boards.core.board import BoardSpec
from housing.core.blank import flatten
from housing.core.clearances import InnerSize
from housing.core.enclosures import make_enclosure
from housing.core.enclosures.form import COMPENSATED, NOMINAL, FormOptions
from housing.core.enclosures.lidded_tray import lid_over, true_slip_mm
from housing.core.errors import SizeRefused
from tests.housing.core.made import B_FLUTE, IN, WORKED_INSIDE, WORKED_OPTIONS, inches

BOARD = BoardSpec(caliper_mm=3)


def make_box(inner=(300, 200, 150), board=BOARD, **options):
    return make_enclosure("lidded_tray", InnerSize(*inner), board, FormOptions(**options))


def test_metric_lid():
    # By hand, over a base 312 x 206 x 153 outside, 1.5 mm a side, skirt 60: scores 312 + 3 + 3 = 318 and
    # 206 + 3 + 3 = 212 apart, skirt 61.5, blank 441 x 335, outside 327 x 215, closed height 153 + 3.
    box = make_box(lid_clearance_mm=1.5, lid_depth_mm=60)
    lid = box.parts[1]

    assert lid.blank.marks_x == pytest.approx((0, 61.5, 379.5, 441))
    assert lid.blank.marks_y == pytest.approx((0, 61.5, 273.5, 335))
    assert (lid.closed.outside.x_mm, lid.closed.outside.y_mm) == pytest.approx((327, 215))
    assert box.outside.z_mm == pytest.approx(156)


def test_full_depth_metric_lid():
    # By hand: skirt 153 + 1.5 = 154.5, blank 318 + 309 by 212 + 309.
    lid = make_box(lid_clearance_mm=1.5, lid_depth_mm=153).parts[1]

    assert (lid.blank.x_mm, lid.blank.y_mm) == pytest.approx((627, 521))


def test_worked_box_closed():
    # By hand: lid 11 3/8 + 3/8 by 9 1/2 + 1/8 outside, its flaps outside left and right too; height
    # 11 + 1/16 + 1/8: 11 3/4 x 9 5/8 x 11 3/16 in, 2.03 times the volume of the object 10 x 8 3/4 x 7 1/8.
    box = make_enclosure("lidded_tray", WORKED_INSIDE, B_FLUTE, WORKED_OPTIONS)
    width, depth, height = inches(box.outside.x_mm, box.outside.y_mm, box.outside.z_mm)

    assert [width, depth, height] == [11.75, 9.625, 11.188]
    assert width * depth * height / (10 * 8.75 * 7.125) == pytest.approx(2.03, abs=0.005)


def test_worked_lid_inside_is_asked_over_the_finished_base():
    # Common practice, no source: a base measured 11 1/8 x 9 1/4 outside wants 11 3/8 x 9 1/2.
    tree = lid_over(11.125 * IN, 9.25 * IN, B_FLUTE, WORKED_OPTIONS)

    assert inches(tree.floor.x_mm, tree.floor.y_mm) == [11.375, 9.5]


@pytest.mark.parametrize(
    ("clearance_in", "drawn", "slip_in"),
    [
        (1 / 8, NOMINAL, 1 / 8),  # the 1/4 in end of the rule less one caliper
        (1 / 16, NOMINAL, 0),  # the 1/8 in end of the rule: the lid binds
        (1 / 8, COMPENSATED, 1 / 4),  # nothing is lost where the folds are allowed for
    ],
)
def test_true_slip_of_a_lid_in_creased_eighth_inch_board(clearance_in, drawn, slip_in):
    # By hand: drawn nominally, the lid's inside is one caliper (1/8 in) less than drawn.
    assert true_slip_mm(clearance_in * IN, B_FLUTE, drawn) / IN == pytest.approx(slip_in)


@pytest.mark.parametrize(("clearance_in", "drawn", "binds"), [
    (1 / 16, NOMINAL, True),  # 1/8 in all less one caliper of 1/8 in: nothing is left
    (1 / 8, NOMINAL, False),  # 1/8 in is left
    (1 / 16, COMPENSATED, False),  # 1/8 in is left
])  # fmt: skip
def test_a_lid_that_would_bind_says_so(clearance_in, drawn, binds):
    box = make_box(board=B_FLUTE, lid_clearance_mm=clearance_in * IN, drawn=drawn)

    assert [note for note in box.notes if "will bind" in note] == list(box.notes)
    assert bool(box.notes) == binds


def test_lid_with_the_lower_allowance_is_an_eighth_smaller():
    # By hand: 11 1/8 + 1/8 + 7 = 18 1/4, 9 1/4 + 1/8 + 7 = 16 3/8.
    options = FormOptions(lid_clearance_mm=IN / 16, drawn=NOMINAL)

    blank = flatten(lid_over(11.125 * IN, 9.25 * IN, B_FLUTE, options))

    assert inches(blank.x_mm, blank.y_mm) == [18.25, 16.375]


@given(
    st.floats(30, 1500), st.floats(30, 1500), st.floats(30, 1000),
    st.floats(0.5, 7), st.floats(0, 1), st.floats(0, 10), st.sampled_from([COMPENSATED, NOMINAL]),
)  # fmt: skip
def test_lid_slides_over_its_base_with_the_slip_that_is_stated(x, y, z, caliper, share, clearance, drawn):
    board = BoardSpec(caliper, share)

    base, lid = make_box((x, y, z), board, lid_clearance_mm=clearance, drawn=drawn).parts

    slip = true_slip_mm(clearance, board, drawn)
    assert lid.closed.inside.x_mm - base.closed.outside.x_mm == pytest.approx(slip, abs=1e-9)
    assert lid.closed.inside.y_mm - base.closed.outside.y_mm == pytest.approx(slip, abs=1e-9)


def test_lid_deeper_than_the_base_is_cut_down_to_it_and_says_so():
    box = make_box((300, 200, 150), lid_depth_mm=400)
    base, lid = box.parts

    assert lid.closed.inside.z_mm == pytest.approx(base.closed.outside.z_mm)
    assert box.notes == (
        "The lid was asked 400 mm deep but the base is only 153 mm high, so the lid reaches to the foot of "
        "the base.",
    )


def test_lid_no_deeper_than_the_base_needs_no_note():
    assert make_box(lid_depth_mm=153).notes == ()


def test_lid_does_not_take_the_flap_width_of_the_base():
    # A 60 mm flap is right for a base 150 high and impossible on a skirt 40 deep; the lid's is then 41.5.
    lid = make_box(flap_width_mm=60, lid_depth_mm=40).parts[1]

    assert lid.blank.waste == ()


def test_lid_over_nothing_is_refused():
    with pytest.raises(SizeRefused, match="The base is 0 x 100 mm outside; both must be above 0."):
        lid_over(0, 100, BOARD, FormOptions())
