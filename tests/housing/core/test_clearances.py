"""From object to clear inside."""

import pytest

from housing.core.clearances import Allowances, InnerSize, ObjectSize, inner_size, side_by_side
from housing.core.errors import SizeRefused
from tests.housing.core.made import IN, inches


def test_worked_object_gets_one_inch_on_the_height_and_one_on_either_side():
    # Common practice, no source: 10 high x 8 3/4 wide x 7 1/8 deep wants 11 x 10 3/4 x 9 1/8 in inside.
    size = ObjectSize(height_mm=10 * IN, width_mm=8.75 * IN, depth_mm=7.125 * IN)

    inside = inner_size(size, Allowances())

    assert inches(inside.z_mm, inside.x_mm, inside.y_mm) == [11, 10.75, 9.125]


def test_travelling_tray_has_two_inches_at_the_sides_and_one_under_and_over():
    # Worked by hand: frame 30 x 24 x 2 1/2 in becomes 34 x 28 x 4 1/2 in (2 x 2 in, 2 x 2 in, 2 x 1 in more).
    size = ObjectSize(height_mm=2.5 * IN, width_mm=30 * IN, depth_mm=24 * IN)

    inside = inner_size(size, Allowances(height_mm=2 * IN, side_mm=2 * IN))

    assert inches(inside.x_mm, inside.y_mm, inside.z_mm) == [34, 28, 4.5]


def test_set_is_as_wide_as_its_objects_and_the_gaps_between_them():
    # By hand: 30 + 40 + 50 and two gaps of 5 make 130; tallest 9, deepest 8.
    sizes = [ObjectSize(7, 30, 8), ObjectSize(9, 40, 6), ObjectSize(5, 50, 4)]

    row = side_by_side(sizes, gap_mm=5)

    assert row == ObjectSize(height_mm=9, width_mm=130, depth_mm=8)


def test_one_object_stands_alone_without_a_gap():
    size = ObjectSize(7, 30, 8)

    assert side_by_side([size], gap_mm=5) == size


@pytest.mark.parametrize(
    ("width_mm", "says"),
    [
        (-60.0, "The inner width comes to -9.2 mm"),  # below 0 even with the allowances
        (-50.8, "The inner width comes to 0 mm"),  # exactly nothing
        (40_000.0, "The inner width comes to 40050.8 mm"),  # a 40 m spoon
        (float("nan"), "The inner width comes to nan mm"),
    ],
)
def test_impossible_size_is_refused_with_value_and_way_out(width_mm, says):
    size = ObjectSize(height_mm=10, width_mm=width_mm, depth_mm=10)

    with pytest.raises(SizeRefused) as refused:
        inner_size(size, Allowances())

    assert str(refused.value) == (
        f"{says}; it must be above 0 and at most 20000 mm. "
        "Check the object's measurements and the allowances."
    )


def test_largest_side_itself_is_still_allowed():
    assert InnerSize(20_000, 10, 10).x_mm == 20_000


@pytest.mark.parametrize("values", [{"height_mm": -1.0}, {"side_mm": -0.5}])
def test_negative_allowance_is_refused(values):
    with pytest.raises(SizeRefused, match="an allowance cannot be negative"):
        Allowances(**values)


def test_empty_set_is_refused():
    with pytest.raises(SizeRefused, match="at least one object"):
        side_by_side([], gap_mm=5)


def test_negative_gap_is_refused():
    with pytest.raises(SizeRefused, match="The gap between objects is -1 mm"):
        side_by_side([ObjectSize(1, 1, 1)], gap_mm=-1)
