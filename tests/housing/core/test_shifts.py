"""How far lines are moved for the board's thickness, and that it is told."""

import pytest

from boards.core.board import BoardSpec
from housing.core.marking_out import NOMINAL, MarkingOut
from housing.core.shifts import shift_of
from tests.housing.core.drawing.forms import one_of
from tests.housing.core.made import worked_base

CREASED, CUT = BoardSpec(3.0, 0.5), BoardSpec(3.0, 0.0)


def told(blanks, board, marking_out=MarkingOut()):  # noqa: B008 - frozen
    return shift_of(blanks, board, marking_out).sentences()


def test_creased_board_loses_half_a_caliper_and_is_drawn_so_much_longer():
    # By hand: 0.5 x 3 mm; the hinge of an outside flap lies one caliper out (a published instruction for
    # hand-made board boxes with outside flaps).
    tray = one_of("tray", 3.0, 0.5)

    shift = shift_of([tray.parts[0].blank], CREASED, MarkingOut())

    assert (shift.fold_mm, shift.is_added) == (1.5, True)
    assert shift.hinges_mm == pytest.approx((3.0, 3.0))
    assert told([tray.parts[0].blank], CREASED)[1] == (
        "Flaps fold 3 mm beside the wall's score, to lie outside the wall."
    )


def test_worked_tray_is_nominal_and_its_hinges_lie_an_eighth_out():
    # Common practice, no source: hinges 10 7/8 beside walls at 11, an eighth of an inch.
    shift = shift_of([worked_base()], BoardSpec(3.175, 0.5), MarkingOut(NOMINAL))

    assert not shift.is_added
    assert shift.hinges_mm == pytest.approx((3.175, 3.175))
    assert "none, drawn nominally" in shift.sentences()[0]


def test_board_cut_on_the_outside_needs_no_shift_at_its_folds():
    assert told([one_of("folder", 3.0, 0.0).parts[0].blank], CUT) == [
        "Shift for thickness: none at the folds, which take nothing off the inside."
    ]


def test_flaps_that_lie_beside_no_wall_are_not_told():
    assert shift_of([one_of("portfolio").parts[0].blank], CREASED, MarkingOut()).hinges_mm is None
