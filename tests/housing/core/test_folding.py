"""The folded part: inside and outside, against stated trade figures and as properties."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boards.core.board import BoardSpec
from housing.core.flattening import flatten
from housing.core.folding import Box3, fold
from housing.core.marking_out import NOMINAL
from housing.core.panels import Edge, Panel, PanelTree
from tests.housing.core.made import IN, calipers, inches, make_tray, shares, worked_box

sides = st.floats(60, 1500)  # large enough for a flap in any board


def sizes(box: Box3) -> tuple[float, float, float]:
    return box.x_mm, box.y_mm, box.z_mm


@pytest.mark.parametrize("share", [0, 0.5, 1])
def test_metric_tray_is_312_by_206_by_153_outside_however_it_is_folded(share):
    # By hand: 300 + 2 x 3 + 2 x 3 for the flap layers; 200 + 2 x 3; 150 + 3.
    tray = make_tray((300, 200, 150), 3, share)

    assert sizes(tray.outside) == pytest.approx((312, 206, 153))
    assert sizes(tray.inside) == pytest.approx((300, 200, 150))


@pytest.mark.parametrize(
    ("inner", "caliper", "outside"),
    [
        ((287.6, 190.8, 40), 1.6, (294, 194, 41.6)),  # carry tray: + 4 x 1.6, + 2 x 1.6, + 1.6
        ((60 * IN, 18 * IN, 6 * IN), IN / 8, (60.5 * IN, 18.25 * IN, 6.125 * IN)),  # garment box
    ],
)
def test_outside_adds_two_walls_and_two_flap_layers_on_the_ends(inner, caliper, outside):
    assert sizes(make_tray(inner, caliper, flap_mm=None).outside) == pytest.approx(outside)


def test_worked_base_measures_11_1_8_by_9_1_4_outside():
    # Common practice, no source: the finished base is measured at 11 1/8 x 9 1/4. Only a caliper of 1/8 in,
    # creased, explains both: depth gains one caliper (9 1/8 + 1/8), width three (10 3/4 + 3/8), because two
    # flap layers lie outside the left and right walls.
    outside = worked_box().parts[0].outside

    assert inches(outside.x_mm, outside.y_mm) == [11.125, 9.25]


def test_worked_base_drawn_nominally_loses_one_caliper_across_and_half_in_height():
    # By hand: 10 3/4 - 1/8, 9 1/8 - 1/8, 11 - 1/16.
    assert inches(*sizes(worked_box().inside)) == [10.625, 9, 10.938]


def test_folds_reproduce_the_additions_a_case_maker_states_for_c_flute():
    # A packaging maker's stated additions, inside to outside: 5/16 in across, 5/8 in over two layers at top
    # and bottom; inside to score 3/16, which is 5/32 rounded up to a sixteenth. C flute is 5/32 in thick.
    # The box is 10 in wide inside, with a double wall (a wrapped one) at either end of the other axis.
    tray = make_tray((10 * IN, 10 * IN, 10 * IN), 5 / 32 * IN, flap_mm=None)
    floor = tray.blank.panels[0]

    assert floor.width_mm / IN - 10 == pytest.approx(5 / 32)
    assert tray.outside.y_mm / IN - 10 == pytest.approx(5 / 16)
    assert tray.outside.x_mm / IN - 10 == pytest.approx(5 / 8)


@given(sides, sides, sides, calipers, shares)
def test_compensated_drawing_gives_the_inside_asked(x, y, z, caliper, share):
    tray = make_tray((x, y, max(z, 3 * caliper)), caliper, share, flap_mm=None)

    assert sizes(tray.inside) == pytest.approx((x, y, max(z, 3 * caliper)))


@given(sides, sides, sides, calipers, shares)
def test_nominal_drawing_loses_two_take_ups_across_and_one_in_height(x, y, z, caliper, share):
    z = max(z, 4 * caliper)
    tray = make_tray((x, y, z), caliper, share, flap_mm=None, drawn=NOMINAL)

    lost = share * caliper
    assert sizes(tray.inside) == pytest.approx((x - 2 * lost, y - 2 * lost, z - lost))


@given(sides, sides, sides, calipers, shares, shares)
def test_outside_of_a_compensated_tray_does_not_depend_on_how_it_is_folded(x, y, z, caliper, one, other):
    z = max(z, 3 * caliper)
    first = make_tray((x, y, z), caliper, one, flap_mm=None)
    second = make_tray((x, y, z), caliper, other, flap_mm=None)

    assert sizes(first.outside) == pytest.approx(sizes(second.outside))


def test_wall_on_one_side_only_takes_up_one_fold():
    # By hand: one wall 20 clear, creased, caliper 2, floor 100 clear: 101 + 21 on the flat; outside 102 x 22.
    tree = PanelTree(Panel("floor", 50, 100, None, (Panel("left wall", 20, None, Edge.LEFT),)))
    board = BoardSpec(2)

    folded = fold(flatten(tree, board), board)

    assert sizes(folded.inside) == (100, 50, 20)
    assert sizes(folded.outside) == (102, 50, 22)


def test_flat_sheet_without_walls_has_no_room_inside():
    board = BoardSpec(2)

    folded = fold(flatten(PanelTree(Panel("floor", 50, 100)), board), board)

    assert sizes(folded.inside) == (100, 50, 0)
    assert sizes(folded.outside) == (100, 50, 2)


def test_a_panel_folded_four_times_comes_back_beneath_the_floor():
    # By hand: a tube of 100 x 40 clear in creased 2 mm board; the fifth panel lies a caliper further down.
    fourth = Panel("fifth", 30, None, Edge.RIGHT)
    third = Panel("fourth", 42, None, Edge.RIGHT, (fourth,))
    row = Panel("second", 40, None, Edge.RIGHT, (Panel("third", 100, None, Edge.RIGHT, (third,)),))
    board = BoardSpec(2)

    plates = {
        p.name: p.bounds
        for p in fold(flatten(PanelTree(Panel("first", 50, 100, None, (row,))), board), board).plates
    }

    assert plates["fifth"][2::3] == pytest.approx((-4, -2))
    assert plates["third"][2::3] == pytest.approx((40, 42))
