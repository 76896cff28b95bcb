"""The rolled textile on its tube."""

import pytest

from boards.core.board import BoardSpec
from housing.core.clearances import InnerSize
from housing.core.enclosures import make_enclosure
from housing.core.enclosures.rolled_tube import rolled_diameter
from housing.core.errors import SizeRefused


def test_three_metres_of_two_millimetres_on_an_80_mm_tube():
    # By hand: sqrt(80^2 + 4 x 3000 x 2 / pi) = 118.5 mm; 372 mm around; (118.5 - 80) / 4 = 9.6 turns.
    assert rolled_diameter(80, 3000, 2) == pytest.approx(118.5, abs=0.05)


def test_tube_is_100_mm_longer_than_the_textile_is_wide_and_carried_by_two_ends():
    # A leaflet (Brown, 1992) asks for at least 4 in more than the widest part; another for 10 cm.
    made = make_enclosure("rolled_tube", InnerSize(900, 3000, 2), BoardSpec(3))

    assert [part.name for part in made.parts] == ["end piece 1", "end piece 2", "cover"]
    assert made.outside.x_mm == pytest.approx(1000)
    assert made.supplies[0].what == "acid-free tube, 80 mm across and 1000 mm long"


@pytest.mark.parametrize(
    ("tube", "wide"),
    [
        (80.0, 558.4),  # 1.5 x pi x 118.5
        (30.0, 508.0),  # limiting case: a thin roll, 20 in at least (the same leaflet); rolled 100 mm long
    ],
)
def test_cover_goes_around_one_and_a_half_times_and_is_20_in_wide_at_least(tube, wide):
    length = 3000 if tube == 80 else 100
    made = make_enclosure("rolled_tube", InnerSize(900, length, 2), BoardSpec(3), {"tube": tube})

    assert made.parts[2].blank.y_mm == pytest.approx(wide, abs=0.1)


def test_thick_textile_is_not_rolled():
    with pytest.raises(SizeRefused, match="lay it flat in a garment box"):
        make_enclosure("rolled_tube", InnerSize(900, 3000, 25), BoardSpec(3))
