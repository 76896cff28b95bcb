"""Several measurements of one object: which gives its size, and when two of them differ."""

from datetime import UTC, datetime, timedelta
from decimal import Decimal as D

import pytest
from hypothesis import given
from hypothesis import strategies as st

from objects.core.measuring import (
    Difference,
    Measurement,
    Tolerance,
    believable_time,
    difference,
    sides_in_use,
)

NOON = datetime(2026, 3, 5, 12, tzinfo=UTC)
THREE_MM_OR_ONE_PERCENT = Tolerance(D(3), D(1))  # what the product starts with; assumed
BOWL = (D(254), D("222.25"), D("180.975"))  # 10 x 8 3/4 x 7 1/8 in, at 25.4 mm to the inch


def measured(*sides, how="tape", day=0, **more) -> Measurement:
    sides = (*sides, None, None)[:3]
    return Measurement(key=day, how=how, sides_mm=sides, at=NOON + timedelta(days=day), **more)


def given_by(*measurements) -> list[int | None]:
    """The day of the measurement that gives each side."""
    return [used and used.key for used in sides_in_use(measurements)]


# ---- Which measurement gives the size --------------------------------------------------------------------


@pytest.mark.parametrize(
    ("measurements", "days"),
    [
        ([], [None, None, None]),
        ([measured(*BOWL, day=1), measured(*BOWL, day=2)], [2, 2, 2]),  # the newest
        ([measured(*BOWL, day=2), measured(*BOWL, day=1)], [2, 2, 2]),  # one of before that arrives late
        ([measured(*BOWL, day=1), measured(D(1), D(1), D(1), how="list", day=2)], [1, 1, 1]),
        ([measured(*BOWL, day=1), measured(D(1), D(1), D(1), how="eye", day=2)], [1, 1, 1]),
        ([measured(*BOWL, how="list", day=1), measured(D(1), how="eye", day=2)], [2, 1, 1]),
        ([measured(*BOWL, how="list", day=1), measured(D(1), D(1), day=2)], [2, 2, 1]),  # two sides of it
        ([measured(*BOWL, day=1), measured(D(1), how="typed", day=2)], [2, None, None]),  # blanks count too
        ([measured(*BOWL, how="typed", day=1), measured(D(1), day=2)], [2, 1, 1]),
    ],
)
def test_each_side_comes_from_the_newest_measurement_to_be_trusted(measurements, days):
    assert given_by(*measurements) == days


@given(st.permutations([measured(*BOWL, day=1), measured(D(1), day=2), measured(*BOWL, how="list", day=3)]))
def test_the_order_in_which_measurements_arrive_changes_nothing(measurements):
    assert given_by(*measurements) == [2, 1, 1]


# ---- When two measurements differ ------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("side", "differs"),
    [
        (D(257), False),  # 3 mm more: at the tolerance of 3 mm, 1 % of 257 being 2.57
        (D("257.1"), True),
        (D(251), False),
        (D("250.9"), True),
    ],
)
def test_a_side_may_differ_by_the_tolerance_and_no_more(side, differs):
    found = difference((side, None, None), (D(254), None, None), THREE_MM_OR_ONE_PERCENT)

    assert bool(found.sides) is differs


@pytest.mark.parametrize(("side", "differs"), [(D(1010), False), (D("1010.2"), True)])
def test_of_a_long_side_the_percentage_counts(side, differs):
    # 1 % of the larger side: of 1010 it is 10.1, more than the difference of 10; of 1010.2 it is 10.102, less
    # than 10.2.
    found = difference((side, None, None), (D(1000), None, None), THREE_MM_OR_ONE_PERCENT)

    assert bool(found.sides) is differs


def test_sides_that_only_one_of_them_has_are_not_compared():
    found = difference((D(254), None, D(1)), (D(254), D(9), None), THREE_MM_OR_ONE_PERCENT)

    assert found == Difference(())


@pytest.mark.parametrize(
    ("new", "reason"),
    [
        ((D("222.25"), D(254), D("180.975")), "These are the same sides in another order."),
        (
            (D(100), D("222.25"), D("180.975")),  # 254 / 100 = 2.54: 100 was read in centimetres
            "One is about 2.54 times the other: perhaps inches and centimetres were mixed up.",
        ),
        (
            (D("25.4"), D("22.225"), D("18.0975")),  # a tenth
            "One is about 10 times the other: perhaps centimetres and millimetres were mixed up.",
        ),
        (
            (D(10), D("8.75"), D("7.125")),  # inches taken for millimetres
            "One is about 25.4 times the other: perhaps inches and millimetres were mixed up.",
        ),
        ((D(280), D("222.25"), D("180.975")), ""),
        ((D(100), D("564.5"), D("180.975")), ""),  # one smaller, the other larger: no slip of the unit
    ],
)
def test_the_likely_reason_for_a_difference_is_told(new, reason):
    assert difference(new, BOWL, THREE_MM_OR_ONE_PERCENT).likely_reason == reason


@pytest.mark.parametrize(
    ("listed", "is_rounding_up"),
    [
        ((D(260), D(230), D(181)), True),  # 254, 222.25 and 180.975 rounded up to the centimetre or the mm
        ((D(265), D(230), D(190)), False),  # 11 mm more
        ((D(253), D(230), D(190)), False),  # 1 mm less
    ],
)
def test_what_a_list_rounds_up_is_known_as_such(listed, is_rounding_up):
    assert difference(BOWL, listed, THREE_MM_OR_ONE_PERCENT).is_rounding_up is is_rounding_up


SIDE = st.decimals(min_value="1", max_value="20000", places=1)


@given(st.tuples(SIDE, SIDE, SIDE), st.tuples(SIDE, SIDE, SIDE))
def test_of_two_measurements_each_differs_from_the_other_in_the_same_sides(one, other):
    there, back = (difference(*pair, THREE_MM_OR_ONE_PERCENT).sides for pair in ((one, other), (other, one)))

    assert there == back


# ---- The clock of the device -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("measured_at", "believed"),
    [
        (NOON - timedelta(days=3), NOON - timedelta(days=3)),
        (NOON + timedelta(seconds=1), NOON),  # nobody measures in time to come
        (datetime(1970, 1, 1, tzinfo=UTC), NOON),  # a clock that was never set
    ],
)
def test_a_clock_that_cannot_be_right_is_not_believed(measured_at, believed):
    assert believable_time(measured_at, NOON) == believed
