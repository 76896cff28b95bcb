"""The lid over its base: figures worked by hand, the slip that remains, and lids that are too deep."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boards.core.board import BoardSpec
from housing.core.clearances import InnerSize
from housing.core.enclosures import make_enclosure
from housing.core.enclosures.seating import fits
from housing.core.errors import OptionRefused, SizeRefused
from housing.core.marking_out import COMPENSATED, NOMINAL, MarkingOut
from tests.housing.core.made import B_FLUTE, IN, calipers, inches, shares, worked_box

BOARD = BoardSpec(caliper_mm=3)


def make_box(inner=(300, 200, 150), board=BOARD, drawn=COMPENSATED, **options):
    return make_enclosure("lidded_tray", InnerSize(*inner), board, options, MarkingOut(drawn))


def test_metric_lid():
    # By hand, over a base 312 x 206 x 153 outside, 1.5 mm a side, skirt 60: scores 312 + 3 + 3 = 318 and
    # 206 + 3 + 3 = 212 apart, skirt 61.5, blank 441 x 335, outside 327 x 215, closed height 153 + 3.
    box = make_box(lid_clearance=1.5, lid_depth=60.0)
    lid = box.parts[1]

    assert lid.blank.marks_x == pytest.approx((0, 61.5, 379.5, 441))
    assert lid.blank.marks_y == pytest.approx((0, 61.5, 273.5, 335))
    assert (lid.outside.x_mm, lid.outside.y_mm) == pytest.approx((327, 215))
    assert box.outside.z_mm == pytest.approx(156)


def test_worked_box_closed():
    # By hand: lid 11 3/8 + 3/8 by 9 1/2 + 1/8 outside, its flaps outside left and right too; height
    # 11 + 1/16 + 1/8: 11 3/4 x 9 5/8 x 11 3/16 in, 2.03 times the volume of the object 10 x 8 3/4 x 7 1/8.
    box = worked_box()
    width, depth, height = inches(box.outside.x_mm, box.outside.y_mm, box.outside.z_mm)

    assert [width, depth, height] == [11.75, 9.625, 11.188]
    assert width * depth * height / (10 * 8.75 * 7.125) == pytest.approx(2.03, abs=0.005)


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
    [fit] = fits(make_box(board=B_FLUTE, drawn=drawn, lid_clearance=clearance_in * IN).parts)

    assert (fit.x_mm / IN, fit.y_mm / IN) == pytest.approx((slip_in, slip_in), abs=1e-9)


@pytest.mark.parametrize(("clearance_in", "drawn", "binds"), [
    (1 / 16, NOMINAL, True),  # 1/8 in all less one caliper of 1/8 in: nothing is left
    (1 / 8, NOMINAL, False),  # 1/8 in is left
    (1 / 16, COMPENSATED, False),  # 1/8 in is left
])  # fmt: skip
def test_a_lid_that_would_bind_says_so(clearance_in, drawn, binds):
    box = make_box(board=B_FLUTE, lid_clearance=clearance_in * IN, drawn=drawn)

    assert [note for note in box.notes if "will bind" in note] == list(box.notes)
    assert bool(box.notes) == binds


@given(
    st.floats(60, 1200), st.floats(60, 1200), st.floats(60, 1000), calipers, shares, st.floats(0, 10),
    st.sampled_from([COMPENSATED, NOMINAL]),
)  # fmt: skip
def test_lid_slides_over_its_base_with_the_slip_that_is_left(x, y, z, caliper, share, clearance, drawn):
    # By hand: two clearances, less two take-ups where nothing is added for the folds.
    [fit] = fits(make_box((x, y, z), BoardSpec(caliper, share), drawn, lid_clearance=clearance).parts)

    slip = 2 * clearance - (2 * share * caliper if drawn == NOMINAL else 0)
    assert (fit.x_mm, fit.y_mm) == pytest.approx((slip, slip), abs=1e-9)


def test_lid_deeper_than_the_base_is_cut_down_to_it_and_says_so():
    box = make_box((300, 200, 150), lid_depth=400.0)
    base, lid = box.parts

    assert lid.inside.z_mm == pytest.approx(base.outside.z_mm)
    assert box.notes == (
        "The lid was asked 400 mm deep but the base is only 153 mm high, so the lid reaches to the foot of "
        "the base.",
    )


def test_lid_no_deeper_than_the_base_needs_no_note():
    assert make_box(lid_depth=153.0).notes == ()


def test_lid_does_not_take_the_flap_width_of_the_base():
    # A 60 mm flap is right for a base 150 high and impossible on a skirt 40 deep; the lid's is then 41.5.
    lid = make_box(flap_width=60.0, lid_depth=40.0).parts[1]

    assert lid.blank.waste == ()


def test_window_leaves_the_margin_asked_for():
    # By hand: the lid is 312 + 6.35 by 206 + 6.35 inside; less 40 on every side.
    box = make_box(window_margin=40.0)

    [window] = box.parts[1].blank.openings
    assert (window.width_mm, window.height_mm) == pytest.approx((238.35, 132.35))
    assert [supply.count for supply in box.supplies] == [1]


@pytest.mark.parametrize(
    ("options", "error", "says"),
    [
        ({"lid_depth": -1.0}, OptionRefused, "Lid depth is -1 mm; it must be above 0 mm."),
        (
            {"lid_clearance": -2.0},
            OptionRefused,
            "Lid clearance on each side is -2 mm; it must be at least 0 mm.",
        ),
        (
            {"window_margin": 100.0},
            SizeRefused,
            "A margin of 100 mm leaves no window in a lid of 318 x 212 mm.",
        ),
        ({"drawer": 3.0}, OptionRefused, "This form has no option “drawer”."),
    ],
)
def test_impossible_choice_is_refused_with_value_and_limit(options, error, says):
    with pytest.raises(error) as refused:
        make_box(**options)

    assert str(refused.value).startswith(says)
