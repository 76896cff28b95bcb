"""Rounding of positions: on the grid, nothing too small, and no error that adds up."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boards.core.board import BoardSpec
from housing.core.clearances import InnerSize
from housing.core.enclosures import ENCLOSURES, make_enclosure
from housing.core.enclosures.seating import fits
from housing.core.errors import EnclosureError
from housing.core.marking_out import COMPENSATED, STEPS_MM, MarkingOut
from tests.housing.core.made import IN, asked, calipers, shares, sides

steps = st.sampled_from([step for step in STEPS_MM.values() if step])


def box(x, y, z, caliper, share, step, clearance=3.0):
    inner, board = InnerSize(x, y, z), BoardSpec(caliper, share)
    return make_enclosure(
        "lidded_tray",
        inner,
        board,
        {"lid_clearance": clearance, "lid_depth": 60.0},
        MarkingOut(COMPENSATED, step),
    )


large = st.floats(60, 1500)


@given(large, large, large, calipers, shares, steps)
def test_every_position_is_a_whole_number_of_steps(x, y, z, caliper, share, step):
    for part in box(x, y, z, caliper, share, step).parts:
        blank = part.blank
        for at in (
            *blank.marks_x, *blank.marks_y, *blank.flap_marks_x, *blank.flap_marks_y,
            *blank.trim_marks_x, *blank.trim_marks_y,
        ):  # fmt: skip
            assert at / step == pytest.approx(round(at / step), abs=1e-6)


@given(large, large, large, calipers, shares, steps)
def test_inside_is_never_less_than_asked_and_at_most_two_steps_more(x, y, z, caliper, share, step):
    inside = box(x, y, z, caliper, share, step).inside

    for got, wanted in ((inside.x_mm, x), (inside.y_mm, y), (inside.z_mm, z)):
        assert wanted - 1e-6 <= got <= wanted + 2 * step + 1e-6


@given(large, large, large, calipers, shares, steps, st.floats(0, 10))
def test_lid_keeps_at_least_the_clearance_asked(x, y, z, caliper, share, step, clearance):
    [fit] = fits(box(x, y, z, caliper, share, step, clearance).parts)

    assert fit.x_mm >= 2 * clearance - 1e-6
    assert fit.y_mm >= 2 * clearance - 1e-6


@given(large, large, large, calipers, shares, steps)
def test_positions_stay_within_two_steps_of_where_they_were_worked_out(x, y, z, caliper, share, step):
    # From the floor's corner: rounding a wall, the floor and the other wall does not add up to three steps.
    exact = box(x, y, z, caliper, share, 0.0).parts[0].blank
    drawn = box(x, y, z, caliper, share, step).parts[0].blank

    for before, after in ((exact.marks_x, drawn.marks_x), (exact.marks_y, drawn.marks_y)):
        for wall, at in zip(before, after, strict=True):
            assert abs((at - after[1]) - (wall - before[1])) <= 2 * step + 1e-6


@pytest.mark.parametrize(
    ("step", "marks"),
    [
        # By hand, creased 1/8 in board, clear 10 3/4: exact marks 0, 11 1/16, 21 15/16, 33 in.
        (0.0, [0, 11.0625, 21.9375, 33]),
        (IN / 16, [0, 11.0625, 21.9375, 33]),  # they are sixteenths already
        (IN / 8, [0, 11.125, 22, 33.125]),  # 11 1/16 is rounded up, or the inside would be less than asked
    ],
)
def test_worked_tray_rounded_to_the_rule(step, marks):
    made = make_enclosure(
        "tray",
        InnerSize(10.75 * IN, 9.125 * IN, 11 * IN),
        BoardSpec(IN / 8),
        {},
        MarkingOut(COMPENSATED, step),
    )

    assert [mark / IN for mark in made.parts[0].blank.marks_x] == pytest.approx(marks)


@pytest.mark.parametrize("form", ENCLOSURES)
def test_panels_of_every_form_are_no_smaller_than_worked_out(form):
    # Flaps are trimmed to the nearest step, and walls that are eased are drawn in further: both may be less.
    @given(asked(form))
    def check(given_):
        form, inner, board, options, marking_out = given_
        board = BoardSpec(board.caliper_mm, min(board.fold_share, 0.5))
        try:
            exact = make_enclosure(form, inner, board, options).parts[0].blank
            drawn = make_enclosure(form, inner, board, options, marking_out).parts[0].blank
        except EnclosureError:
            return
        flaps = {score.panel for score in exact.scores if score.is_flap}
        for before, after in zip(exact.panels, drawn.panels, strict=True):
            if before.name not in flaps:
                assert after.width_mm >= before.width_mm - 1e-6
                assert after.height_mm >= before.height_mm - 1e-6

    check()


@given(sides)
def test_step_of_nothing_changes_nothing(x):
    assert box(x + 60, 300, 200, 3, 0.5, 0.0).parts == box(x + 60, 300, 200, 3, 0.5, 0.0).parts
