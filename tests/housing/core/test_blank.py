"""Openings: areas and lengths against formulas from the handbook of geometry."""

import math

import pytest

from housing.core.blank import CutOut


def cut(shape: str, wide=60.0, high=20.0, open_edge="") -> CutOut:
    return CutOut("hole", 0, 0, wide, high, "wall", shape, open_edge)


@pytest.mark.parametrize(
    ("opening", "area", "length"),
    [
        (cut("rectangle"), 1200, 160),
        (cut("rectangle", open_edge="far"), 1200, 100),  # one long side lies on the rim
        (cut("rectangle", open_edge="left"), 1200, 140),  # one short side does
        (cut("slit", 15, 0), 0, 15),
        (cut("round", 40, 40), math.pi * 400, math.pi * 40),
        (cut("slot"), 40 * 20 + math.pi * 100, 2 * 40 + math.pi * 20),  # straight part 40, ends 20 across
        (cut("slot", 20, 60), 40 * 20 + math.pi * 100, 2 * 40 + math.pi * 20),  # the same upright
        (cut("notch", 50, 25, "far"), math.pi * 625 / 2, math.pi * 25),  # half a circle
        (cut("notch", 25, 50, "left"), math.pi * 625 / 2, math.pi * 25),
    ],
)
def test_area_and_cut_length_of_an_opening(opening, area, length):
    assert opening.area_mm2 == pytest.approx(area)
    assert opening.cut_length_mm == pytest.approx(length, rel=1e-4)


def test_ellipse_agrees_with_a_tabulated_circumference():
    # Standard tables of complete elliptic integrals: half axes 2 and 1 have a circumference of 9.68845.
    assert 2 * cut("notch", 4, 1, "far").cut_length_mm == pytest.approx(9.68845, rel=1e-4)
