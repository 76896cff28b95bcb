"""The tray with dividers."""

import pytest

from boards.core.board import BoardSpec
from housing.core.clearances import InnerSize
from housing.core.enclosures import make_enclosure
from housing.core.errors import PartTooSmall

INNER, BOARD = InnerSize(300, 200, 100), BoardSpec(3)


def test_three_by_two_cells_of_a_tray_of_300_by_200():
    # By hand: (300 - 2 x 3) / 3 = 98.0 and (200 - 3) / 2 = 98.5; three dividers, each crossing slotted twice.
    made = make_enclosure("divided_tray", INNER, BOARD)

    assert [part.name for part in made.parts] == [
        "tray",
        "long divider 1",
        "cross divider 1",
        "cross divider 2",
    ]
    assert made.notes == ("3 x 2 cells of 98.0 mm by 98.5 mm.",)
    assert sum(len(part.blank.openings) for part in made.parts) == 4


def test_slots_are_half_as_high_as_the_divider_and_half_a_millimetre_wider_than_the_board():
    # Common practice, no source. Cells of 98: the first slot's middle at 98 + 1.5 from the left end.
    long = make_enclosure("divided_tray", INNER, BOARD).parts[1].blank

    slot = long.openings[0]
    assert (slot.width_mm, slot.height_mm) == pytest.approx((3.5, 50))
    assert slot.x_mm + slot.width_mm / 2 == pytest.approx(99.5)
    assert slot.open_edge == "far"


def test_cells_that_do_not_fit_are_refused_with_the_most_that_do():
    # By hand: 24 cells leave (300 - 69) / 24 = 9.6 mm; (300 + 3) / (10 + 3) = 23.3.
    with pytest.raises(PartTooSmall) as refused:
        make_enclosure("divided_tray", INNER, BOARD, {"cells_x": 24})

    assert str(refused.value) == (
        "24 cells from left to right in 300 mm leave 9.6 mm each; a cell needs at least 10 mm. Ask for at "
        "most 23, or for a larger tray."
    )


def test_one_cell_needs_no_divider():
    made = make_enclosure("divided_tray", INNER, BOARD, {"cells_x": 1, "cells_y": 1})

    assert [part.name for part in made.parts] == ["tray"]
