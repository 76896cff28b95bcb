"""Which bought box holds what is needed: worked by hand in inches, and against trying everything."""

from decimal import Decimal
from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housing.core.clearances import InnerSize
from housing.core.ready_made import BoughtBox, Limits, Room, cheapest, choose, fit
from tests.examples import few

INCH = 25.4
LOOSE = Limits(slack_mm=1000)


def inches(*sides: float) -> InnerSize:
    return InnerSize(*(side * INCH for side in sides))


def bought(*sides: float, price: str = "10", **more) -> BoughtBox:
    name = "x".join(f"{side:g}" for side in sides)
    return BoughtBox(name, name, inches(*sides), Decimal(price), **more)


def room(*ways: tuple[float, float, float], **more) -> Room:
    return Room("vase", tuple(inches(*way) for way in ways), **more)


def test_a_box_larger_on_every_side_holds_it_with_half_the_rest_on_each_side():
    # 10 x 8 x 6 in needed in a box of 12 x 9 x 6 1/2: (12 - 10)/2 = 1, (9 - 8)/2 = 1/2, 6 1/2 - 6 = 1/2.
    found = fit(room((10, 8, 6)), bought(12, 9, 6.5), LOOSE)

    assert found is not None
    assert [gap / INCH for gap in found.gaps_mm] == pytest.approx([1, 0.5, 0.5])
    assert not found.is_turned


@pytest.mark.parametrize(
    ("sides", "holds"),
    [
        ((10, 8, 6), True),  # exactly as needed
        ((8, 10, 6), True),  # turned by a quarter
        ((9.99, 8, 6), False),  # too narrow by a hundredth of an inch
        ((6, 8, 10), False),  # only if what must stand were laid down
    ],
)
def test_what_must_stand_is_turned_but_never_laid_down(sides, holds):
    assert (fit(room((10, 8, 6)), bought(*sides), LOOSE) is not None) is holds


def test_what_may_lie_takes_a_box_that_holds_it_lying():
    standing_or_lying = room((10, 8, 6), (6, 8, 10))

    found = fit(standing_or_lying, bought(6, 8, 10), LOOSE)

    assert found is not None and found.way == 1


@pytest.mark.parametrize(("slack_in", "holds"), [(1, True), (0.99, False)])
def test_the_slack_counts_on_each_side(slack_in, holds):
    # 12 in wide for 10 in leaves 1 in on the left and 1 in on the right.
    found = fit(room((10, 8, 6)), bought(12, 8, 6), Limits(slack_in * INCH))

    assert (found is not None) is holds


def test_the_slack_above_counts_whole():
    assert fit(room((10, 8, 6)), bought(10, 8, 8), Limits(1.5 * INCH)) is None  # 8 - 6 = 2 in


@pytest.mark.parametrize(("asked", "holds"), [(None, True), (True, False), (False, True)])
def test_the_board_is_buffered_as_asked(asked, holds):
    unbuffered = bought(10, 8, 6, is_buffered=False)

    assert (fit(room((10, 8, 6), buffered=asked), unbuffered, LOOSE) is not None) is holds


@pytest.mark.parametrize(("weight_g", "holds"), [(None, True), (5000, True), (5001, False)])
def test_contents_known_to_be_too_heavy_get_none(weight_g, holds):
    limits = Limits(1000, heaviest_g=5000)

    assert (fit(room((10, 8, 6), weight_g=weight_g), bought(10, 8, 6), limits) is not None) is holds


def test_of_those_that_fit_the_cheapest_is_taken_and_of_equals_the_smallest():
    boxes = [bought(14, 14, 14, price="4"), bought(12, 12, 12, price="4"), bought(10, 8, 6, price="5")]

    assert dict(choose([room((10, 8, 6))], boxes, LOOSE))["vase"].box.name == "12x12x12"


def test_what_no_box_holds_is_not_in_the_choice():
    assert dict(choose([room((30, 8, 6))], [bought(12, 12, 12)], LOOSE)) == {}


sides = st.tuples(*[st.integers(1, 6)] * 3)


@few(60)
@given(
    needed=sides, may_lie=st.booleans(), slack=st.integers(0, 3),
    boxes=st.lists(st.tuples(sides, st.integers(1, 5)), max_size=6),
)  # fmt: skip
def test_no_other_box_is_cheaper(needed, may_lie, slack, boxes):
    """Against every box in every position, in whole units; along x and y the slack counts on both sides."""
    most_over = (2 * slack, 2 * slack, slack)
    ways = list(permutations(needed)) if may_lie else [needed]
    fitting = [
        price
        for box, price in boxes
        if any(
            all(0 <= box_mm - mm <= over for box_mm, mm, over in zip(turned, way, most_over, strict=True))
            for way in ways
            for turned in (box, (box[1], box[0], box[2]))
        )
    ]  # fmt: skip

    offered = [
        BoughtBox(str(n), str(n), InnerSize(*map(float, box)), Decimal(price))
        for n, (box, price) in enumerate(boxes)
    ]
    asked = Room("", tuple(InnerSize(*map(float, way)) for way in ways))
    found = cheapest(asked, sorted(offered, key=lambda box: box.price), Limits(float(slack)))

    assert (found and found.box.price) == (min(fitting) if fitting else None)
