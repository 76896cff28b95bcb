"""The proof by folding: every form passes it at any size, and it catches what a careless hand would do."""

from dataclasses import replace

import pytest
from hypothesis import event, given

from boards.core.board import BoardSpec
from housing.core.blank import CutOut, Rectangle, Score
from housing.core.clearances import InnerSize
from housing.core.enclosures import ENCLOSURES, Enclosure, make_enclosure
from housing.core.enclosures.form import Part
from housing.core.errors import EnclosureError
from housing.core.folding import fold
from housing.core.panels import GlueJoint
from housing.core.proof import boxes_of, faults, squeeze_mm
from tests.housing.core.made import asked, calipers, shares

BOARD = BoardSpec(caliper_mm=3)


@pytest.mark.parametrize("form", ENCLOSURES)
def test_every_form_is_proven_at_any_size_caliper_fold_option_and_rounding(form):
    tried = {"made": 0, "refused": 0}

    @given(asked(form))
    def check(given_):
        try:
            made = make_enclosure(*given_)
        except EnclosureError as refused:
            event(type(refused).__name__)
            tried["refused"] += 1
            return
        tried["made"] += 1
        assert faults(made) == []

    check()
    assert tried["made"] >= tried["refused"] / 4  # or the proof would prove little


def box() -> Enclosure:
    return make_enclosure(
        "lidded_tray", InnerSize(300, 200, 150), BOARD, {"lid_depth": 60.0, "lid_clearance": 1.5}
    )


def with_part(made: Enclosure, number: int, part: Part) -> Enclosure:
    parts = tuple(part if i == number else old for i, old in enumerate(made.parts))
    return replace(made, parts=parts, inside=parts[0].inside)


def redrawn(part: Part, **changes) -> Part:
    """The part cut from a blank that was drawn otherwise, and folded."""
    blank = replace(part.blank, **changes)
    return replace(part, blank=blank, folded=fold(blank, BOARD))


def moved(score: Score, dx: float) -> Score:
    return replace(score, x1=score.x1 + dx, x2=score.x2 + dx)


def test_sound_box_has_no_fault():
    assert faults(box()) == []


def test_lid_a_caliper_too_tight_runs_into_its_base():
    made = make_enclosure("lidded_tray", InnerSize(300, 200, 150), BOARD, {"lid_clearance": 0.0})
    tight = make_enclosure("lidded_tray", InnerSize(297, 197, 150), BOARD, {"lid_clearance": 0.0}).parts[1]

    found = faults(with_part(made, 1, tight))

    assert found and all(fault == "The base and the lid run 1.5000 mm into one another." for fault in found)


def test_floor_drawn_without_compensation_is_too_small():
    made = box()
    nominal = make_enclosure("lidded_tray", InnerSize(297, 197, 148.5), BOARD).parts[0]

    found = faults(with_part(made, 0, nominal))

    assert "The clear inside along x is 297.0000 mm, less than the 300.0000 mm asked." in found
    assert "The clear inside along z is 148.5000 mm, less than the 150.0000 mm asked." in found


def test_floor_drawn_too_large_is_told_as_well():
    loose = make_enclosure("lidded_tray", InnerSize(300.5, 200, 150), BOARD).parts[0]

    found = faults(with_part(box(), 0, loose))

    assert "The clear inside along x is 300.5000 mm for 300.0000 mm asked: too loose." in found


def test_flap_hinge_left_on_the_wall_score_runs_into_the_wall():
    # What the one-caliper shift of the hinge is for: without it the flap and the wall want the same place.
    base = box().parts[0]
    scores = tuple(moved(s, 3.0 if s.edge == "left" else -3.0) if s.is_flap else s for s in base.blank.scores)

    found = faults(with_part(box(), 0, redrawn(base, scores=scores)))

    assert any("the left wall and the near left flap run" in fault for fault in found)


def test_joint_to_a_wall_that_the_flap_does_not_touch_is_no_glue_face():
    base = box().parts[0]
    wrong = replace(base, joints=(GlueJoint("near left flap", "right wall"), *base.joints[1:]))

    [found] = faults(with_part(box(), 0, wrong))

    assert found == "Of the base, 0% of the near left flap lies on the right wall, no glue face."


def test_opening_beyond_its_panel_is_told():
    base = box().parts[0]
    wall = next(panel for panel in base.blank.panels if panel.name == "left wall")
    hole = CutOut("hand hole", wall.x_mm - 10, wall.y_mm, 30, 30, "left wall", "slot")

    found = faults(with_part(box(), 0, redrawn(base, openings=(hole,))))

    assert "Of the base, the hand hole reaches beyond the left wall." in found


def test_waste_that_is_not_all_of_the_waste_is_told():
    base = box().parts[0]

    found = faults(with_part(box(), 0, redrawn(base, waste=base.blank.waste[:3])))

    # By hand: one corner, 88 x 151.5 mm, counts as board.
    assert found == ["The blank of the base less its waste is 266640.00 mm², its panels 253308.00 mm²."]


def test_wall_that_leans_over_the_object_stands_in_the_clear_inside():
    # A wall higher on one side is fine; a panel over the floor where nothing was asked to be is not.
    base = box().parts[0]
    panels = (*base.blank.panels, Rectangle("shelf", 0, 0, 60, 80))
    left = next(score for score in base.blank.scores if score.panel == "left wall")
    shelf = Score(0.0, 151.5, 0.0, 231.5, "shelf", False, "left wall", "left", 3)
    drawn = replace(base.blank, panels=panels, scores=(*base.blank.scores, shelf))

    assert left.parent == "floor"
    folded = fold(drawn, BOARD)
    assert folded.inside.z_mm == pytest.approx(150)  # the shelf lies on the rim, above the inside


def test_dividers_that_cross_without_slots_run_into_one_another():
    made = make_enclosure("divided_tray", InnerSize(300, 200, 100), BOARD, {"cells_x": 2})
    long = made.parts[1]
    solid = replace(long, blank=replace(long.blank, openings=()))

    found = faults(with_part(made, 1, solid))

    assert "The long divider 1 and the cross divider 1 run 3.0000 mm into one another." in found


@given(calipers, shares)
def test_squeeze_is_what_a_fold_takes_up_and_never_more_than_half_the_board(caliper, share):
    squeeze = squeeze_mm(BoardSpec(caliper, share))

    assert squeeze == pytest.approx(min(share * caliper, caliper / 2))


def test_a_plate_is_parted_around_its_opening():
    # By hand: four boxes around a window, together the plate less the window.
    made = make_enclosure("lidded_tray", InnerSize(300, 200, 150), BOARD, {"window_margin": 40.0})
    lid = made.parts[1]

    around = [bounds for name, _, bounds in boxes_of(lid) if name == "floor"]

    area = sum((b[3] - b[0]) * (b[4] - b[1]) for b in around)
    window = lid.blank.openings[0]
    assert len(around) == 4
    assert area == pytest.approx(lid.blank.panels[0].area_mm2 - window.area_mm2)
