"""When stock runs out, by hand and beside a search day by day."""

from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housing.core.shortage import Shortage, order_by, shortage
from tests.examples import few

MONDAY = date(2026, 11, 30)


def week(number: int) -> date:
    return MONDAY + timedelta(days=7 * (number - 1))


@pytest.mark.parametrize(
    ("needs", "in_stock", "missing", "since"),
    [
        ([], 0, 0, None),
        ([(1, 4), (2, 3)], 7, 0, None),  # 7 - 4 - 3 = 0: just enough
        ([(1, 4), (2, 3), (3, 2)], 6, 3, 2),  # 6 - 4 = 2, less than the 3 of week 2; 9 - 6 = 3 in all
        ([(3, 2), (1, 4), (2, 3)], 6, 3, 2),  # in whichever order they are told
        ([(2, 1), (2, 1)], 1, 1, 2),  # two needs of one week
        ([(1, 2)], 0, 2, 1),
    ],
)
def test_what_is_missing_and_from_when(needs, in_stock, missing, since):
    told = [(week(number), Decimal(units)) for number, units in needs]

    assert shortage(told, Decimal(in_stock)) == Shortage(Decimal(missing), since and week(since))


@few(30)
@given(st.lists(st.tuples(st.integers(1, 6), st.integers(0, 5)), max_size=8), st.integers(0, 20))
def test_a_walk_through_the_days_finds_the_same(needs, in_stock):
    found = shortage([(week(number), Decimal(units)) for number, units in needs], Decimal(in_stock))

    # brute force: the first week by whose end more is asked for than there was
    asked = {number: sum(units for at, units in needs if at <= number) for number in range(1, 7)}
    first = next((number for number in range(1, 7) if asked[number] > in_stock), None)
    assert found.since == (first and week(first))
    assert found.missing == max(sum(units for _, units in needs) - in_stock, 0)


@pytest.mark.parametrize(
    ("since", "lead_days", "last"),
    [
        (date(2026, 12, 14), 10, date(2026, 12, 4)),
        (date(2027, 1, 4), 14, date(2026, 12, 21)),  # 4 + 10 days back into December, 31 - 10 = 21
        (date(2026, 12, 14), None, None),
        (None, 10, None),
    ],
)
def test_the_last_day_to_order(since, lead_days, last):
    assert order_by(since, lead_days) == last
