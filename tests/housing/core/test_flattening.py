"""The flat blank: the worked tray in inches, closed formulas, and what falls off when it is cut out."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boards.core.board import BoardSpec
from housing.core.errors import PanelsCollide
from housing.core.flattening import flatten
from housing.core.panels import Align, Edge, Opening, Panel, PanelTree, Shape
from tests.housing.core.made import IN, calipers, inches, make_tray, sides, worked_base, worked_lid

SQ_IN = IN * IN
BOARD = BoardSpec(2)

gentle = st.floats(0, 0.5)  # fold shares at which no wall has to be eased
trays = st.builds(
    lambda x, y, z, caliper_mm, share: make_tray((x, y, z), caliper_mm, share, flap_mm=None).blank,
    sides, sides, sides, calipers, gentle,
)  # fmt: skip


def test_worked_base_measures_32_3_4_by_31_1_8():
    # Common practice, no source: 10 3/4 + 2 x 11 and 9 1/8 + 2 x 11.
    blank = worked_base()

    assert inches(blank.x_mm, blank.y_mm) == [32.75, 31.125]


def test_worked_base_is_marked_from_one_corner_along_both_edges():
    # Common practice, no source: 0, 11, 21 3/4, 32 3/4 and 0, 11, 20 1/8, 31 1/8.
    blank = worked_base()

    assert inches(*blank.marks_x) == [0, 11, 21.75, 32.75]
    assert inches(*blank.marks_y) == [0, 11, 20.125, 31.125]


def test_worked_base_hinges_its_flaps_one_caliper_outside_the_wall_scores():
    # A published instruction for hand-made board boxes with outside flaps shifts the hinge by one caliper:
    # 11 - 1/8 = 10 7/8 and 21 3/4 + 1/8 = 21 7/8, on the axis that crosses the receiving walls only.
    blank = worked_base()

    assert inches(*blank.flap_marks_x) == [10.875, 21.875]
    assert blank.flap_marks_y == ()


def test_worked_base_is_trimmed_to_flaps_of_2_1_2():
    # By hand: 11 - 2 1/2 = 8 1/2 and 21 3/4 + 2 1/2 = 24 1/4.
    blank = worked_base()

    assert inches(*blank.trim_marks_x) == [8.5, 24.25]
    assert blank.trim_marks_y == ()


def test_worked_base_areas():
    # By hand: gross 32 3/4 x 31 1/8 = 1019.34375; waste 4 x 8 1/2 x 11 = 374; net 645.34375 in2.
    blank = worked_base()

    assert blank.gross_area_mm2 / SQ_IN == pytest.approx(1019.34375)
    assert sum(piece.area_mm2 for piece in blank.waste) / SQ_IN == pytest.approx(374)
    assert blank.board_area_mm2 / SQ_IN == pytest.approx(645.34375)


def test_worked_base_lengths_at_the_bench():
    # By hand: scores 2 x (10 3/4 + 9 1/8) + 4 x 11 = 83 3/4; slits and trims 8 x 11 = 88;
    # outline 2 x (32 3/4 + 31 1/8) = 127 3/4 in.
    blank = worked_base()

    assert inches(blank.score_length_mm, blank.cut_length_mm, blank.outline_length_mm) == [83.75, 88, 127.75]


def test_worked_base_has_eight_folds_and_four_joints_eleven_inches_tall():
    # Common practice, no source: a fold for each wall and flap, a joint for each flap; 4 x 11 = 44 in.
    blank = worked_base()

    assert blank.folds == 8
    assert (blank.glue_joints, *inches(blank.glue_length_mm)) == (4, 44)


def test_worked_base_runs_its_flutes_along_the_short_side_of_the_floor():
    # Walls with upright flutes carry a stack; with flutes along 9 1/8 the two long walls have them.
    blank = worked_base()

    assert blank.flute_along == "y"
    assert inches(blank.along_mm, blank.across_mm) == [31.125, 32.75]


def test_worked_lid_measures_18_3_8_by_16_1_2():
    # Common practice, no source: 1/4 in more than 11 1/8 x 9 1/4 inside, 3 1/2 deep.
    blank = worked_lid()

    assert inches(blank.x_mm, blank.y_mm) == [18.375, 16.5]
    assert inches(*blank.marks_x) == [0, 3.5, 14.875, 18.375]
    assert inches(*blank.marks_y) == [0, 3.5, 13, 16.5]


def test_worked_lid_and_base_take_934_square_inches_of_board():
    # By hand: lid 18 3/8 x 16 1/2 - 4 x (3 1/2 - 2 1/2) x 3 1/2 = 303.1875 - 14 = 289.1875;
    # with the base 645.34375 + 289.1875 = 934.53125 in2 = 0.60292 m2.
    lid, base = worked_lid(), worked_base()

    assert lid.board_area_mm2 / SQ_IN == pytest.approx(289.1875)
    assert (lid.board_area_mm2 + base.board_area_mm2) / 1e6 == pytest.approx(0.60292, abs=5e-6)


def test_metric_tray_marks_and_net_board():
    # By hand: clear 300 x 200 x 150, caliper 3, creased: scores 303, 203, 151.5 apart; hinges 3 outside;
    # net 606 x 506 - 4 x (151.5 - 63.5) x 151.5 = 253 308 mm2.
    blank = make_tray((300, 200, 150), 3, 0.5).blank

    assert blank.marks_x == pytest.approx((0, 151.5, 454.5, 606))
    assert blank.marks_y == pytest.approx((0, 151.5, 354.5, 506))
    assert blank.flap_marks_x == pytest.approx((148.5, 457.5))
    assert blank.board_area_mm2 == pytest.approx(253_308)


@pytest.mark.parametrize(
    ("inner", "caliper", "share", "blank"),
    [
        ((300, 200, 150), 3, 0, (600, 500)),  # cut-scored: nothing is lost on the inside
        ((300, 200, 150), 3, 0.5, (606, 506)),  # creased: 300 + 2 x 150 + 2 x 3
        ((300, 200, 150), 3, 1, (612, 512)),  # relieved from the inside: 300 + 2 x 150 + 4 x 3
        ((287.6, 190.8, 40), 1.6, 0.5, (370.8, 274.0)),  # a carry tray: 287.6 + 80 + 3.2
        ((134, 120, 45), 1.6, 0.5, (227.2, 213.2)),  # tray for a small object in a cavity
        ((60 * IN, 18 * IN, 6 * IN), IN / 8, 0.5, (72.25 * IN, 30.25 * IN)),  # a garment box
    ],
)
def test_blank_is_inside_plus_two_walls_plus_four_take_ups(inner, caliper, share, blank):
    # By hand: L + 2H + 4kt by W + 2H + 4kt.
    flat = make_tray(inner, caliper, share, flap_mm=None).blank

    assert (flat.x_mm, flat.y_mm) == pytest.approx(blank)


@given(sides, sides, sides, calipers, gentle)
def test_score_length_follows_the_closed_formula(x, y, z, caliper, share):
    # Eight folds: four as long as the floor's sides, four as tall as the walls: 2 (S_L + S_W) + 4 S_H.
    blank, take = make_tray((x, y, z), caliper, share, flap_mm=None).blank, share * caliper

    assert blank.score_length_mm == pytest.approx(2 * (x + y + 4 * take) + 4 * (z + take))


@given(sides, sides, st.floats(70, 1500), calipers, gentle)
def test_cut_length_and_net_board_follow_the_closed_formulas(x, y, z, caliper, share):
    # Four slits and four trims as long as the walls are high; four waste corners (S_H - f) x S_H.
    blank = make_tray((max(x, 130), max(y, 130), z), caliper, share, flap_mm=60).blank
    rise = z + share * caliper

    assert blank.cut_length_mm == pytest.approx(8 * rise)
    assert blank.board_area_mm2 == pytest.approx(blank.x_mm * blank.y_mm - 4 * (rise - 60) * rise)


def test_flap_as_wide_as_the_wall_leaves_only_slits_to_cut():
    # Limiting case, by hand: nothing is trimmed, so 4 slits of 41.5 mm and no waste.
    blank = make_tray((300, 200, 40), 3, 0.5, flap_mm=None).blank

    assert blank.cut_length_mm == pytest.approx(4 * 41.5)
    assert blank.waste == ()
    assert blank.trim_marks_x == ()


@given(trays)
def test_panels_and_waste_make_up_the_rectangle(blank):
    waste = sum(piece.area_mm2 for piece in blank.waste)

    assert blank.board_area_mm2 + waste == pytest.approx(blank.gross_area_mm2)


@given(trays)
def test_blank_is_symmetric(blank):
    for marks, side in (
        (blank.marks_x, blank.x_mm), (blank.marks_y, blank.y_mm),
        (blank.flap_marks_x, blank.x_mm), (blank.flap_marks_y, blank.y_mm),
        (blank.trim_marks_x, blank.x_mm), (blank.trim_marks_y, blank.y_mm),
    ):  # fmt: skip
        assert marks == pytest.approx([side - at for at in reversed(marks)], abs=1e-6)


def test_walls_are_eased_where_the_fold_takes_more_than_half_a_caliper():
    # By hand: relieved 3 mm board takes 3 mm at each fold and gives way by 1.5, so 1.5 mm is taken off both
    # ends of the walls that butt against the others: 4 slivers 1.5 mm wide as long as the flap, 63.5.
    blank = make_tray((300, 200, 150), 3, 1.0).blank

    assert (63.5, 1.5, 4) in blank.corner_waste
    left = next(panel for panel in blank.panels if panel.name == "left wall")
    assert left.height_mm == pytest.approx(200 + 2 * 3 - 2 * 1.5)


# ---- The general engine, on small trees of its own --------------------------------------------------------


def test_each_fold_at_a_panels_ends_adds_what_the_board_takes_up():
    # By hand, creased 2 mm board: a row of three panels 10, 20 and 30 clear: 10 + 1, 20 + 1 + 1, 30 + 1.
    row = Panel("b", 20, None, Edge.RIGHT, (Panel("c", 30, None, Edge.RIGHT),))
    blank = flatten(PanelTree(Panel("a", 50, 10, None, (row,))), BOARD)

    assert blank.marks_x == pytest.approx((0, 11, 33, 64))
    assert blank.y_mm == 50


@pytest.mark.parametrize(("align", "start"), [(Align.START, 0), (Align.MIDDLE, 15), (Align.END, 30)])
def test_panel_lies_along_its_edge_where_it_is_asked_to(align, start):
    # By hand: a tab of 20 on an edge of 50.
    tree = PanelTree(Panel("a", 50, 100, None, (Panel("tab", 10, 20, Edge.RIGHT, align=align),)))

    [score] = flatten(tree, BOARD).scores
    assert (score.y1, score.y2) == pytest.approx((start, start + 20))


@pytest.mark.parametrize(
    ("edge", "corner"),
    [
        # a wall of 40 on an edge of 100 x 60; the opening 10 along, 4 out, 5 from the rim, in the middle;
        # creased 2 mm board: the wall is 41 on the flat, the floor 101 or 61 along the axis it is folded on
        (Edge.RIGHT, (101 + 41 - 5 - 2, 25)),
        (Edge.LEFT, (5 - 2, 25)),
        (Edge.FAR, (45, 61 + 41 - 5 - 2)),
        (Edge.NEAR, (45, 5 - 2)),
    ],
)
def test_opening_lies_from_the_rim_of_its_wall_whichever_way_that_folds(edge, corner):
    opening = Opening("hole", Shape.RECTANGLE, 10, 4, at_out_mm=5, from_rim=True)
    tree = PanelTree(Panel("a", 60, 100, None, (Panel("wall", 40, None, edge, openings=(opening,)),)))

    [cut] = flatten(tree, BOARD).openings

    assert (cut.x_mm, cut.y_mm) == pytest.approx(corner)
    assert (cut.width_mm, cut.height_mm) == ((4, 10) if edge.is_upright else (10, 4))


def test_panels_on_the_same_board_are_refused_by_name():
    # Two walls on one edge lie on one another.
    walls = (Panel("first wall", 40, 50, Edge.RIGHT), Panel("second wall", 40, 50, Edge.RIGHT))

    with pytest.raises(PanelsCollide, match="the second wall and the first wall would lie on the same board"):
        flatten(PanelTree(Panel("a", 60, 100, None, walls)), BOARD)
