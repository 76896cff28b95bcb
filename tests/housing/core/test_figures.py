"""The collection and its sheets in figures."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from housing.core.figures import CLASSES, MM_OF, SheetUse, size_classes, together
from tests.examples import few

NO_BOXES = np.empty((0, 3))


def counted(sides, boxes=(), unit="mm") -> dict[float, tuple[int, int]]:
    """(Fitting, too large) by the lower limit of each class that has an object."""
    classes = size_classes(np.array(sides, float).reshape(-1, 3), np.array(boxes, float).reshape(-1, 3), unit)
    return {one.above: (one.fitting, one.too_large) for one in classes if one.fitting or one.too_large}


def test_an_object_counts_by_its_longest_side_and_a_limit_belongs_to_the_class_below():
    assert counted([(10, 100, 20), (10, 20, 100.1), (1300, 1, 1), (1200, 1, 1)]) == {
        0: (0, 1), 100: (0, 1), 900: (0, 1), 1200: (0, 1),
    }  # fmt: skip


def test_classes_are_round_in_the_unit_of_the_reader():
    # By the definition of the inch, 25.4 mm: 101.6 mm is 4 in, 101.7 mm is above it.
    assert counted([(101.6, 1, 1), (101.7, 1, 1)], unit="in") == {0: (0, 1), 4: (0, 1)}


@pytest.mark.parametrize(
    ("sides", "fits"),
    [
        ((50, 200, 100), True),
        ((50, 100, 200), True),  # turned by a quarter
        ((200, 50, 100), False),  # only if it were laid down
        ((60, 200, 100), True),  # as large as the box
        ((61, 200, 100), False),
        ((50, 201, 100), False),
    ],
)
def test_an_object_fits_where_it_stands_upright_in_the_box(sides, fits):
    found = counted([sides], boxes=[(60, 200, 100)])

    assert list(found.values()) == [(1, 0) if fits else (0, 1)]


@few(100)
@given(
    st.lists(st.tuples(*[st.floats(1, 3000)] * 3), max_size=30),
    st.lists(st.tuples(*[st.floats(1, 3000)] * 3), max_size=4),
    st.sampled_from(sorted(CLASSES)),
)
def test_every_object_is_in_one_class_and_more_boxes_fit_no_fewer(sides, boxes, unit):
    all_sides, all_boxes = np.array(sides).reshape(-1, 3), np.array(boxes).reshape(-1, 3)
    fewer, more = (size_classes(all_sides, some, unit) for some in (all_boxes[:1], all_boxes))

    assert sum(one.fitting + one.too_large for one in more) == len(sides)
    assert all(a.fitting <= b.fitting for a, b in zip(fewer, more, strict=True))
    assert [one.up_to for one in more] == [*CLASSES[unit], None]


def test_no_object_gives_empty_classes():
    assert all(one.fitting == one.too_large == 0 for one in size_classes(NO_BOXES, NO_BOXES, "in"))
    assert set(CLASSES) == set(MM_OF)


def test_the_rest_of_a_sheet_is_waste():
    # By hand: of 1,000,000 mm², 600,000 become blanks and 150,000 offcuts; 250,000 are left: 60, 15, 25 %.
    use = SheetUse("1", 600_000, 150_000, 1_000_000)

    assert (use.waste_mm2, use.percents) == (250_000, (60, 15, 25))


def test_sheets_together_count_by_their_area():
    # By hand: 600,000 of 1,000,000 and 100,000 of 3,000,000 are 700,000 of 4,000,000: 17.5 %, not the mean.
    both = together("All", [SheetUse("1", 600_000, 0, 1_000_000), SheetUse("2", 100_000, 0, 3_000_000)])

    assert (both.percents, both.sheets) == ((17.5, 0, 82.5), 2)
    assert together("None", []).percents == (0, 0, 0)
