"""Explaining a finished tray: the trade's worked case, and any board found again from its own tray."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from boards.core.board import BoardSpec
from housing.core.clearances import InnerSize
from housing.core.enclosures import make_enclosure
from housing.core.explaining import FinishedTray, NotExplained, explain
from tests.housing.core.made import IN


def test_tray_of_10_3_4_by_9_1_8_measured_11_1_8_by_9_1_4():
    # Common practice, no source, for the sizes. By hand: the depth gains 1/8, the width 3/8; they differ by
    # two calipers, so the board is 1/8 in; the depth's 1/8 is one caliper in two folds, so half is lost at
    # each; the width has the flap layers. The answer is the only one.
    found = explain(FinishedTray(10.75 * IN, 9.125 * IN, 11.125 * IN, 9.25 * IN))

    assert found.caliper_mm / IN == pytest.approx(1 / 8)
    assert found.fold_share == pytest.approx(0.5)
    assert found.flaps == "x"
    assert found.sentence == (
        "The board is 3.17 mm thick and loses 50% of that inside at each fold; flaps are glued outside the "
        "left and right walls."
    )


@given(st.floats(0.3, 8), st.floats(0, 1), st.booleans(), st.floats(150, 900), st.floats(150, 900))
def test_board_is_found_again_from_any_tray_made_of_it(caliper, share, on_long, x, y):
    made = make_enclosure(
        "tray", InnerSize(x, y, 100), BoardSpec(caliper, share), {"flaps_on_long_walls": on_long}
    )
    floor, outside = made.parts[0].blank.panels[0], made.outside

    found = explain(FinishedTray(floor.width_mm, floor.height_mm, outside.x_mm, outside.y_mm))

    assert found.caliper_mm == pytest.approx(caliper, abs=1e-6)
    assert found.fold_share == pytest.approx(share, abs=1e-5)
    assert found.flaps == ("x" if on_long == (x >= y) else "y")


@given(st.floats(1, 8), st.floats(0.1, 0.9), st.floats(-0.5, 0.5), st.floats(-0.5, 0.5))
def test_truth_lies_within_the_range_that_the_measuring_step_leaves(caliper, share, error_x, error_y):
    outside_x, outside_y = 300 + 2 * (1 - share) * caliper + 2 * caliper, 200 + 2 * (1 - share) * caliper
    tray = FinishedTray(300, 200, outside_x + error_x, outside_y + error_y)
    assume(tray.outside_y_mm > 200 and tray.outside_x_mm - 300 > tray.outside_y_mm - 200)

    try:
        found = explain(tray, step_mm=0.5)
    except NotExplained:
        return  # an error that no board explains is told, not smoothed over
    assert found.caliper_range_mm[0] - 1e-6 <= caliper <= found.caliper_range_mm[1] + 1e-6
    assert found.fold_share_range[0] - 1e-6 <= share <= found.fold_share_range[1] + 1e-6


@pytest.mark.parametrize(
    ("height", "agrees"), [(11 + 1 / 16, True), (11 + 1 / 16 + 1 / 32, True), (11.25, False)]
)
def test_height_checks_what_was_found(height, agrees):
    # By hand: a wall drawn 11 in gains half a caliper, 1/16 in.
    found = explain(FinishedTray(10.75 * IN, 9.125 * IN, 11.125 * IN, 9.25 * IN, 11 * IN, height * IN))

    assert found.height_agrees is agrees


def test_tray_without_outside_flaps_needs_the_caliper():
    # By hand: both sides gain one caliper of 3 mm: half is lost at each fold.
    found = explain(FinishedTray(300, 200, 303, 203, caliper_mm=3.0))

    assert (found.caliper_mm, found.fold_share, found.flaps) == (3.0, 0.5, "")


@pytest.mark.parametrize(
    ("tray", "says"),
    [
        (FinishedTray(300, 200, 303, 203), "Both sides grew by 3.0 mm, as on a tray without flaps outside"),
        (
            FinishedTray(300, 200, 310, 210, caliper_mm=3),
            "Both sides grew by 10.0 mm, more than two calipers",
        ),
        (FinishedTray(300, 200, 290, 203), "The width is 10.0 mm less outside than it was drawn"),
        (FinishedTray(300, 200, 303, 190), "The depth is 10.0 mm less outside than it was drawn"),
        (FinishedTray(300, 200, 310, 209), "The width grew by 10.0 mm and the other side by 9.0 mm."),
        (FinishedTray(300, 200, 390, 203), "The sizes ask for a board 43.50 mm thick"),
    ],
)
def test_what_nothing_explains_says_what_to_measure_again(tray, says):
    with pytest.raises(NotExplained) as refused:
        explain(tray)

    assert str(refused.value).startswith(says)
