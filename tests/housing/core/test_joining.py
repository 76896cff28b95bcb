"""Blanks of joined parts: each fits the sheet, together they are the blank and the overlaps."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housing.core.errors import SizeRefused
from housing.core.joining import OVERLAP_MM, split
from tests.housing.core.made import make_tray


def test_tray_of_2_4_m_is_made_of_two_parts_of_a_2_m_sheet():
    # By hand: a blank of 2400 + 2 x 100 + 2 x 3 = 2606 long; 2 x 2000 - 50 reaches it.
    blank = make_tray((2400, 400, 100), 3).blank

    made = split(blank, 1500, 2000)

    assert [round(part.blank.x_mm, 1) for part in made.parts] == [1328.0, 1328.0]
    assert (made.laps, made.lap_length_mm, made.crosses) == (1, pytest.approx(606), False)
    assert made.lap_area_mm2 == pytest.approx(50 * 606)  # all of it board: floor and two walls
    assert made.sentence.startswith("Make it of 2 parts, joined with an overlap of 50 mm: 1 joint, 606 mm")


def test_joint_keeps_off_the_scores():
    # Flute along y, so 700 is across. By hand: even parts would end at 678, where the right wall is scored at
    # 653; the joint moves until its whole overlap lies in the floor.
    blank = make_tray((500, 400, 400), 3, flap_mm=60).blank

    made = split(blank, 1300, 1000)

    [first, second] = made.parts
    lap = second.x_mm, first.blank.x_mm
    assert not any(lap[0] <= score.x1 <= lap[1] for score in blank.scores if score.x1 == score.x2)


def test_blank_that_fits_stays_whole():
    blank = make_tray().blank

    made = split(blank, 2000, 2000)

    assert [part.blank for part in made.parts] == [blank]
    assert (made.laps, made.lap_area_mm2) == (0, 0)


trays = st.builds(
    lambda x, y, z: make_tray((x, y, z), 3, flap_mm=None).blank,
    st.floats(100, 3000), st.floats(100, 3000), st.floats(50, 600),
)  # fmt: skip


@given(trays, st.floats(400, 2500), st.floats(400, 2500))
def test_every_part_fits_and_they_cover_the_blank(blank, along, across):
    made = split(blank, along, across)

    area = 0.0
    for part in made.parts:
        assert part.blank.along_mm <= along + 1e-6
        assert part.blank.across_mm <= across + 1e-6
        panels = sum(panel.area_mm2 for panel in part.blank.panels)
        waste = sum(piece.area_mm2 for piece in part.blank.waste)
        assert panels + waste == pytest.approx(part.blank.gross_area_mm2)
        area += part.blank.gross_area_mm2
    # each joint along an axis makes that axis longer by one overlap
    columns = len({part.x_mm for part in made.parts}) - 1
    rows = len({part.y_mm for part in made.parts}) - 1
    assert area == pytest.approx((blank.x_mm + columns * OVERLAP_MM) * (blank.y_mm + rows * OVERLAP_MM))


@given(trays, st.floats(400, 2500), st.floats(400, 2500))
def test_there_are_no_more_parts_than_there_have_to_be(blank, along, across):
    side_x, side_y = (along, across) if blank.flute_along == "x" else (across, along)

    def least(size, side):
        count = 1
        while count * side - (count - 1) * OVERLAP_MM < size - 1e-6:
            count += 1
        return count

    assert len(split(blank, along, across).parts) == least(blank.x_mm, side_x) * least(blank.y_mm, side_y)


def test_sheet_too_small_for_the_overlap_is_refused():
    with pytest.raises(SizeRefused, match="too small for parts joined with an overlap of 50 mm"):
        split(make_tray().blank, 90, 500)
