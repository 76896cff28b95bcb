"""Hot-melt glue by the joint."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housing.core.budget.glue import GlueFigures
from tests.housing.core.made import IN, worked_base


@pytest.mark.parametrize(
    ("density", "stick_g"),
    [(0.95, 23.4), (0.98, 24.1)],  # by hand: pi/4 x 1.11125^2 x 25.4 = 24.63 cm3
)
def test_stick_of_7_16_by_10_in_weighs_about_23_grams(density, stick_g):
    figures = GlueFigures(density_g_cm3=density)

    assert figures.sticks(stick_g) == pytest.approx(1, abs=0.003)


def test_pound_of_glue_is_19_4_sticks():
    # By hand: 453.59 / 23.40; a pound is 0.45359237 kg by definition.
    assert GlueFigures().sticks(453.59237) == pytest.approx(19.4, abs=0.05)


@pytest.mark.parametrize(
    ("bead", "grams_a_metre", "metres_a_stick"),
    [(2, 2.98, 7.84), (3, 6.72, 3.49), (4, 11.94, 1.96)],  # by hand: pi/4 d^2 x 0.95 g/m; 24.63 cm3 / area
)
def test_bead_weighs_its_cylinder(bead, grams_a_metre, metres_a_stick):
    figures = GlueFigures(bead_mm=bead, beads_per_joint=1)

    assert figures.grams(1000) == pytest.approx(grams_a_metre, abs=0.006)
    assert 1 / figures.sticks(figures.grams(1000)) == pytest.approx(metres_a_stick, abs=0.02)


def test_worked_base_takes_15_grams_which_is_0_64_of_a_stick():
    # By hand: four joints x 11 in x two 3 mm beads = 88 in = 2.235 m x 6.715 g/m = 15.0 g.
    figures = GlueFigures()

    grams = figures.grams(worked_base().glue_length_mm)

    assert grams == pytest.approx(15.0, abs=0.05)
    assert figures.sticks(grams) == pytest.approx(0.64, abs=0.005)


def test_two_glued_joints_take_half_of_four():
    # By hand: a base 11 in high with only two of its corners glued has 22 in of joints, against 44 in.
    figures = GlueFigures(beads_per_joint=1)

    assert figures.grams(22 * IN) == pytest.approx(figures.grams(44 * IN) / 2)


@given(st.floats(0, 1e6))
def test_doubling_the_joints_doubles_the_glue(length):
    figures = GlueFigures()

    assert figures.grams(2 * length) == pytest.approx(2 * figures.grams(length))
