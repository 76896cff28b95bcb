"""Lining by the square metre."""

import pytest

from housing.core.budget.lining import lined_area_m2
from housing.core.folding import Box3


@pytest.mark.parametrize(
    ("inside", "area"),
    [
        # By hand: 0.3 x 0.2 + 2 x (0.3 + 0.2) x 0.15 = 0.06 + 0.15.
        (Box3(300, 200, 150), 0.21),
        (Box3(1000, 1000, 1000), 5.0),  # a cube of a metre without its lid
        (Box3(500, 400, 0), 0.2),  # limiting case: no walls, the floor alone
    ],
)
def test_lining_covers_the_floor_and_four_walls(inside, area):
    assert lined_area_m2(inside) == pytest.approx(area)
