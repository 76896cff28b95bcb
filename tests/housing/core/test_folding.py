"""The folded part: inside and outside, against stated trade figures and as properties."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housing.core.enclosures.form import COMPENSATED, NOMINAL
from housing.core.enclosures.tray import tray_tree
from housing.core.folding import Box3, close
from housing.core.panels import Edge, Fold, Panel, PanelTree
from tests.housing.core.made import B_FLUTE, IN, WORKED_INSIDE, WORKED_OPTIONS, inches, make_tray

sides = st.floats(20, 2000)
calipers = st.floats(0.25, 7)
shares = st.floats(0, 1)


def sizes(box: Box3) -> tuple[float, float, float]:
    return box.x_mm, box.y_mm, box.z_mm


@pytest.mark.parametrize("share", [0, 0.5, 1])
def test_metric_tray_is_312_by_206_by_153_outside_however_it_is_folded(share):
    # By hand: 300 + 2 x 3 + 2 x 3 for the flap layers; 200 + 2 x 3; 150 + 3.
    tree, board = make_tray((300, 200, 150), 3, share)

    closed = close(tree, board)

    assert sizes(closed.outside) == pytest.approx((312, 206, 153))
    assert sizes(closed.inside) == pytest.approx((300, 200, 150))


@pytest.mark.parametrize(
    ("inner", "caliper", "outside"),
    [
        ((287.6, 190.8, 40), 1.6, (294, 194, 41.6)),  # carry tray: + 4 x 1.6, + 2 x 1.6, + 1.6
        ((60 * IN, 18 * IN, 6 * IN), IN / 8, (60.5 * IN, 18.25 * IN, 6.125 * IN)),  # garment box
    ],
)
def test_outside_adds_two_walls_and_two_flap_layers_on_the_ends(inner, caliper, outside):
    tree, board = make_tray(inner, caliper, flap_mm=None)

    assert sizes(close(tree, board).outside) == pytest.approx(outside)


def test_worked_base_measures_11_1_8_by_9_1_4_outside():
    # Common practice, no source: the finished base is measured at 11 1/8 x 9 1/4. Only a caliper of 1/8 in,
    # creased, explains both: depth gains one caliper (9 1/8 + 1/8), width three (10 3/4 + 3/8), because two
    # flap layers lie outside the left and right walls.
    closed = close(tray_tree(WORKED_INSIDE, B_FLUTE, WORKED_OPTIONS), B_FLUTE)

    assert inches(closed.outside.x_mm, closed.outside.y_mm) == [11.125, 9.25]


def test_worked_base_drawn_nominally_loses_one_caliper_across_and_half_in_height():
    # By hand: 10 3/4 - 1/8, 9 1/8 - 1/8, 11 - 1/16.
    closed = close(tray_tree(WORKED_INSIDE, B_FLUTE, WORKED_OPTIONS), B_FLUTE)

    assert inches(*sizes(closed.inside)) == [10.625, 9, 10.938]


def test_open_panels_reproduce_the_additions_a_case_maker_states_for_c_flute():
    # A packaging maker's stated additions, inside to outside: 5/16 in across, 5/8 in over two layers at top
    # and bottom; inside to score 3/16, which is 5/32 rounded up to a sixteenth. C flute is 5/32 in thick.
    # The box is 10 in wide inside, with a double wall (a wrapped one) at either end of the other axis.
    caliper = 5 / 32 * IN
    tree, board = make_tray((10 * IN, 10 * IN, 10 * IN), caliper, flap_mm=None)

    closed = close(tree, board)

    assert tree.floor.x_mm / IN - 10 == pytest.approx(5 / 32)
    assert closed.outside.y_mm / IN - 10 == pytest.approx(5 / 16)
    assert closed.outside.x_mm / IN - 10 == pytest.approx(5 / 8)


@given(sides, sides, sides, calipers, shares)
def test_compensated_drawing_gives_the_inside_asked(x, y, z, caliper, share):
    tree, board = make_tray((x, y, z), caliper, share, flap_mm=None, drawn=COMPENSATED)

    assert sizes(close(tree, board).inside) == pytest.approx((x, y, z))


@given(sides, sides, sides, calipers, shares)
def test_nominal_drawing_loses_two_take_ups_across_and_one_in_height(x, y, z, caliper, share):
    tree, board = make_tray((x, y, z), caliper, share, flap_mm=None, drawn=NOMINAL)

    lost = share * caliper
    assert sizes(close(tree, board).inside) == pytest.approx((x - 2 * lost, y - 2 * lost, z - lost))


@given(sides, sides, sides, calipers, shares, shares)
def test_outside_of_a_compensated_tray_does_not_depend_on_how_it_is_folded(x, y, z, caliper, one, other):
    first = close(*make_tray((x, y, z), caliper, one, flap_mm=None))
    second = close(*make_tray((x, y, z), caliper, other, flap_mm=None))

    # The long side may change where x and y are equal to a hair, and the flap layers with it.
    assert sorted(sizes(first.outside)) == pytest.approx(sorted(sizes(second.outside)))


@given(sides, sides, sides, calipers, shares)
def test_outside_exceeds_the_inside_by_the_walls_and_flap_layers(x, y, z, caliper, share):
    tree, board = make_tray((x, y, z), caliper, share, flap_mm=None)

    closed = close(tree, board)

    grown = sorted((closed.outside.x_mm - x, closed.outside.y_mm - y))
    assert grown == pytest.approx([2 * caliper, 4 * caliper], abs=1e-9)
    assert closed.outside.z_mm - z == pytest.approx(caliper, abs=1e-9)


def test_wall_on_one_side_only_takes_up_one_fold():
    # By hand: one wall 20 high, creased, caliper 2: 100 - 1 inside, 100 + 1 outside; 19 and 21 high.
    tree = PanelTree(floor=Panel("floor", 100, 50, (Fold(Edge.LEFT, Panel("left wall", 20, 50)),)))
    _, board = make_tray(caliper_mm=2)

    closed = close(tree, board)

    assert sizes(closed.inside) == (99, 50, 19)
    assert sizes(closed.outside) == (101, 50, 21)


def test_flat_sheet_without_walls_has_no_room_inside():
    _, board = make_tray(caliper_mm=2)

    closed = close(PanelTree(floor=Panel("floor", 100, 50)), board)

    assert sizes(closed.inside) == (100, 50, 0)
    assert sizes(closed.outside) == (100, 50, 2)
