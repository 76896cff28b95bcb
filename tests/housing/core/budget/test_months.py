"""When a budget falls due: to the cent by day and month, whatever is shared out."""

from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housing.core.budget.lines import APART, BudgetLine, Section, Target, total
from housing.core.budget.months import BatchWork, Calendar, calendar_of, days_of, week_of
from housing.core.budget.ordering import order_day, order_problems
from tests.examples import few

MONDAY = date(2026, 11, 30)  # a Monday by the Gregorian calendar, as `cal 11 2026` prints it


def line(key="labour:1:cut", section=Section.LABOUR, amount="100.00", **given) -> BudgetLine:
    fields = {"what": key, "quantity": Decimal(1), "unit": "h", "price": Decimal(amount)}
    return BudgetLine(key=key, section=section, computed_from="", target=Target("plan"), **fields | given)


def by_month(calendar: Calendar) -> dict:
    return {month.first: month.total for month in calendar.months}


# ---- Days ------------------------------------------------------------------------------------------------


def test_the_first_week_begins_on_the_day_the_campaign_starts():
    assert week_of(MONDAY, 1) == (MONDAY, date(2026, 12, 6))
    assert week_of(MONDAY, 3) == (date(2026, 12, 14), date(2026, 12, 20))


@pytest.mark.parametrize(
    ("span", "days"),
    [
        ((MONDAY, date(2026, 12, 6)), [30, 1, 2, 3, 4]),  # the weekend is free
        ((date(2026, 11, 28), date(2026, 12, 4)), [30, 1, 2, 3, 4]),  # from a Saturday
        ((date(2026, 12, 2), date(2026, 12, 8)), [2, 3, 4, 7, 8]),  # from a Wednesday, around the weekend
        ((date(2026, 11, 28), date(2026, 11, 28)), [28]),  # done on a Saturday
    ],
)
def test_work_is_done_on_the_working_days_of_a_span(span, days):
    assert [day.day for day in days_of(span)] == days


# ---- Money -----------------------------------------------------------------------------------------------


def test_a_week_over_the_end_of_a_month_falls_into_both():
    found = calendar_of([line()], {"labour:1:cut": {week_of(MONDAY, 1): 60.0}}, [], Decimal())

    # By hand: one of five working days lies in November
    assert by_month(found) == {date(2026, 11, 1): Decimal("20.00"), date(2026, 12, 1): Decimal("80.00")}


def test_goods_fall_on_the_day_they_are_ordered_and_indirect_costs_follow_both():
    lines = [
        line("sheet:1", Section.BOARD, "100.00"),
        line(amount="300.00"),
        line("indirect", Section.INDIRECT, "40.00"),
    ]
    when = {
        "sheet:1": {(date(2026, 10, 5), date(2026, 10, 5)): 1.0},
        "labour:1:cut": {(date(2026, 12, 7), date(2026, 12, 11)): 1.0},
    }

    october, november, december = calendar_of(lines, when, [], Decimal()).months

    assert (october.goods, october.indirect, october.total) == (100, 10, 110)  # a quarter of the money
    assert (november.money, november.total) == ({}, 0)  # no gap between months
    assert (december.work, december.indirect) == (300, 30)


def test_what_cannot_be_dated_stands_last_and_what_is_apart_is_not_paid():
    lines = [
        line(amount="7.77"),
        line("labour:2:cut", Section.IN_KIND, "50.00"),
        line("on_hand:sheet:1", Section.ON_HAND, "9.00"),
    ]
    when = {"labour:2:cut": {week_of(MONDAY, 2): 1.0}}

    december, undated = calendar_of(lines, when, [], Decimal()).months

    assert (december.in_kind, december.total) == (Decimal("50.00"), 0)
    assert (undated.first, undated.money) == (None, {Section.LABOUR: Decimal("7.77")})


AMOUNTS = st.decimals(min_value=0, max_value=100_000, places=2)
WEEKS = st.dictionaries(st.integers(1, 60), st.floats(0, 1000), max_size=8)


@few(60)
@given(
    st.lists(st.tuples(st.sampled_from(list(Section)), AMOUNTS, WEEKS), max_size=12),
    st.lists(st.tuples(st.integers(1, 4), st.integers(0, 60), st.floats(0, 500)), max_size=8),
    st.decimals(min_value=0, max_value=10_000, places=2),
)
def test_months_add_up_to_the_budget_to_the_cent(rows, worked, hours):
    lines = [line(f"k{n}", section, str(amount)) for n, (section, amount, _) in enumerate(rows)]
    when = {
        f"k{n}": {week_of(MONDAY, w): weight for w, weight in weeks.items()}
        for n, (_, _, weeks) in enumerate(rows)
    }
    work = [BatchWork(batch, week_of(MONDAY, w) if w else None, some) for batch, w, some in worked]

    found = calendar_of(lines, when, work, hours)

    paid = [one for one in lines if one.section not in APART]
    assert sum(month.total for month in found.months) == sum(found.days.values()) == total(paid)
    for section in Section:
        of_section = total(one for one in lines if one.section is section)
        assert sum(month.of(section) for month in found.months) == (
            0 if section is Section.ON_HAND else of_section
        )
    assert sum(month.hours for month in found.months) == hours
    dated = [month.first for month in found.months if month.first]
    assert all((b - a).days <= 31 for a, b in zip(dated, dated[1:], strict=False))
    assert Calendar.from_json(found.to_json()).months == found.months


# ---- Orders ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("lead", "today", "order_on", "late"),
    [
        (14, date(2026, 11, 1), date(2026, 11, 16), 0),  # 30 November less 14 days
        (None, date(2026, 11, 1), MONDAY, 0),
        (14, date(2026, 11, 20), date(2026, 11, 20), 4),  # four days after the 16th
    ],
)
def test_goods_are_ordered_so_long_before_they_are_needed(lead, today, order_on, late):
    found = order_day("1", "Works", MONDAY, lead, today)

    assert (found.order_on, found.late_days) == (order_on, late)


def test_goods_that_come_too_late_and_unknown_days_are_told():
    late = order_day("1", "Works", MONDAY, 14, MONDAY)
    unknown = order_day("2", "Mill", MONDAY, None, MONDAY - timedelta(days=30))
    in_time = order_day("3", "Other", MONDAY, 3, MONDAY - timedelta(days=30))

    told = [problem.what for problem in order_problems([late, unknown, in_time])]

    assert told == [
        "Ordered today, goods of Works come 14 days too late",
        "How many days goods of Mill take to come is not entered",
    ]
