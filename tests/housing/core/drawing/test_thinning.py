"""Lines that would run together on paper."""

import pytest

from housing.core.drawing.thinning import thinned


def ends(strokes):
    return sorted(tuple(sorted((round(x, 6), round(y, 6)) for x, y in stroke)) for stroke in strokes)


@pytest.mark.parametrize(
    ("strokes", "left"),
    [
        ([((0, 0), (10, 0)), ((0, 2), (10, 2))], [((0, 0), (10, 0)), ((0, 2), (10, 2))]),  # apart
        ([((0, 0), (10, 0)), ((1, 0.3), (9, 0.3))], [((0, 0), (10, 0))]),  # the longer one is kept
        ([((0, 0), (10, 0)), ((10, 0), (0, 0))], [((0, 0), (10, 0))]),  # twice the same
        # What reaches past the longer line is kept from half a millimetre beyond its end.
        ([((0, 0), (10, 0)), ((5, 0.3), (14, 0.3))], [((0, 0), (10, 0)), ((10.5, 0.3), (14, 0.3))]),
        ([((0, 0), (10, 0)), ((3, 5), (3.2, 5))], [((0, 0), (10, 0))]),  # shorter than half the distance
        # An end that misses a crossing line by less than a millimetre is moved onto it.
        ([((0, 0), (10, 0)), ((10, 0.4), (10, 8))], [((0, 0), (10, 0)), ((10, 0), (10, 8))]),
    ],
)
def test_of_lines_that_run_together_one_is_left(strokes, left):
    assert ends(thinned(strokes, 0.5)) == left
