"""What shows of a heap of boxes, against worked cases and against rays cast at the boxes themselves."""

from math import dist

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from housing.core.drawing.hidden_lines import EYE, project, visible_lines
from housing.core.drawing.solids import Solids
from tests.examples import few

CUBE = (0.0, 0.0, 0.0, 100.0, 100.0, 100.0)


def lines_of(*boxes):
    return visible_lines(Solids(boxes=list(boxes)))[0]


def drawn_mm(*boxes) -> float:
    return sum(dist(start, end) for start, end in lines_of(*boxes))


@pytest.mark.parametrize(
    ("boxes", "edges", "length"),
    [
        ([CUBE], 9, 900),  # of twelve edges the three that meet in the far lower corner are hidden
        ([CUBE, (20, 20, 20, 80, 80, 80)], 9, 900),  # one box within the other
        ([CUBE, (50, 0, 0, 180, 100, 100)], 9, 1140),  # overlapping in one line: 3 x 180 + 600
        ([CUBE, (100, 0, 0, 180, 100, 100)], 9, 1140),  # touching in one line: likewise
        ([CUBE, (-300, 300, -300, -250, 350, -250)], 9, 900),  # straight behind it along the line of sight
        ([CUBE, (-500, 0, 0, -400, 100, 100)], 18, 1800),  # apart from each other
    ],
)  # fmt: skip
def test_edges_of_worked_heaps(boxes, edges, length):
    assert len(lines_of(*boxes)) == edges
    assert drawn_mm(*boxes) == pytest.approx(length)


def test_box_behind_another_shows_as_far_as_it_stands_out():
    # By hand: a wall stands 100 behind another, both 100 high and 400 long. From its foot the line of sight
    # has risen to 100 where it meets the one before, so that its upper edge shows all along.
    before, behind = (0, 0, 0, 400, 10, 100), (0, 110, 0, 400, 120, 100)

    back_edges = [line for line in lines_of(before, behind) if line[0][1] > 100]

    assert all(max(start[2], end[2]) <= 100 for start, end in back_edges)
    assert (0, 120, 100) in {point for line in back_edges for point in line}


def test_line_of_sight_is_a_point_on_paper():
    assert project((70, -70, 70)) == pytest.approx(project((0, 0, 0)))


corners = st.tuples(*[st.floats(0, 300)] * 3)
sides = st.tuples(*[st.floats(5, 200)] * 3)
boxes = st.builds(lambda a, b: (*a, *(x + y for x, y in zip(a, b, strict=True))), corners, sides)


def is_covered(point, heap) -> bool:
    """Whether the line of sight from a point passes through a box: the ray cut by its planes."""
    for box in heap:
        enter, leave = 1e-3, 1e6
        for axis in range(3):
            ways = sorted((box[axis + end] - point[axis]) * EYE[axis] for end in (0, 3))
            enter, leave = max(enter, ways[0]), min(leave, ways[1])
        if leave - enter > 1e-3:
            return True
    return False


def apart(heap) -> bool:
    """Whether no two planes of the boxes are so near that they count as one."""
    for axis in range(3):
        at = sorted(box[axis + end] for box in heap for end in (0, 3))
        if any(b - a < 0.2 for a, b in zip(at, at[1:], strict=False)):
            return False
    return True


@few(150)
@given(st.lists(boxes, min_size=1, max_size=5))
def test_nothing_that_is_drawn_lies_behind_a_box(heap):
    assume(apart(heap))

    for start, end in lines_of(*heap):
        if dist(start, end) < 1:
            continue
        for share in (0.25, 0.5, 0.75):
            point = [a + (b - a) * share for a, b in zip(start, end, strict=True)]
            assert not is_covered(point, heap)


@few(150)
@given(st.lists(boxes, min_size=1, max_size=5))
def test_every_edge_before_which_no_box_lies_is_drawn(heap):
    assume(apart(heap))
    found = lines_of(*heap)

    for number, box in enumerate(heap):
        others = heap[:number] + heap[number + 1 :]
        x0, y0, z0, x1, y1, z1 = box
        # The three edges that meet in the corner nearest to the eye.
        near = (x1, y0, z1)
        for far in ((x0, y0, z1), (x1, y1, z1), (x1, y0, z0)):
            for share in (0.2, 0.5, 0.8):
                point = tuple(a + (b - a) * share for a, b in zip(near, far, strict=True))
                if any(is_within(point, other, -1) for other in others) or is_covered(point, others):
                    continue
                if any(is_within(point, other, 1) for other in others):
                    continue  # on the very border of another
                assert any(lies_on(point, line) for line in found)


def is_within(point, box, by) -> bool:
    return all(box[axis] - by < point[axis] < box[axis + 3] + by for axis in range(3))


def lies_on(point, line) -> bool:
    start, end = line
    return abs(dist(start, point) + dist(point, end) - dist(start, end)) < 1e-6
