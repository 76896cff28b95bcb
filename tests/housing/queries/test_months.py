"""The months of a campaign's budget: by the weeks of its tasks, done work on its day, goods before them."""

from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

import pytest
from django.utils import timezone

from boards.models import Supplier, Supply
from housing.core.budget.lines import APART, GOODS, total
from housing.core.budget.months import Calendar
from housing.models import BudgetTerms, Task
from housing.queries.budgets import live_budget, read_budget
from housing.services.budgets import make_budget
from housing.services.campaigns import plan_campaign
from tests.factories import log_steps, make_campaign, make_design, make_object, make_person, make_sheet_size

pytestmark = pytest.mark.django_db

MONDAY = date(2030, 1, 7)


@pytest.fixture
def campaign():
    """Two bowls and a few minutes a week, so that the work takes some months; board comes in 14 days."""
    works = Supplier.objects.create(name="Works", freight_each=Decimal("38.50"), lead_days=14)
    Supply.objects.create(
        name="Label", kind="label", unit="piece", price=Decimal("0.07"), is_usual=True, supplier=works
    )
    campaign = make_campaign(*(make_object() for _ in range(2)), starts_on=MONDAY, search_seconds=1)
    size = make_sheet_size(supplier=works, price=Decimal("17.35"))
    campaign.rules.create(position=1, design=make_design(board=size.board))
    campaign.people.add(
        make_person(hours_per_week=Decimal("0.2"), rate_per_hour=Decimal("23.17"), skills="cut; fold; fit"),
        make_person(kind="volunteer", in_kind_rate=Decimal("19.99"), skills="return"),
    )
    BudgetTerms.objects.create(campaign=campaign, indirect_share=Decimal("0.15"))
    plan_campaign(campaign=campaign)
    return campaign


def calendar_of(campaign) -> Calendar:
    return Calendar.from_json(live_budget(campaign).content["months"])


def test_months_add_up_to_the_lines_of_the_budget_to_the_cent(campaign):
    stored, found = live_budget(campaign), calendar_of(campaign)

    budget = read_budget(stored)
    assert sum(month.total for month in found.months) == stored.money > 0
    for section, money in budget.section_totals().items():
        assert sum(month.of(section) for month in found.months) == money
    assert sum(month.hours for month in found.months) == stored.hours
    assert len(found.months) > 2


def test_work_falls_into_the_weeks_of_its_tasks(campaign):
    found = calendar_of(campaign)

    # apart from the code: the weeks of tasks, their Mondays counted by hand from the first
    weeks = {one.span[0] for one in found.work}
    tasks = Task.objects.filter(housing__campaign=campaign)
    assert weeks == {MONDAY + timedelta(days=7 * (week - 1)) for week in tasks.values_list("week", flat=True)}


def test_goods_of_a_supplier_fall_on_one_day_so_long_before_the_first_sheet_is_cut(campaign):
    order, of_nobody = live_budget(campaign).content["months"]["orders"][::-1]

    assert order["needed_on"] == "2030-01-07"
    assert order["order_on"] == "2029-12-24"  # 14 days before
    assert of_nobody["order_on"] == of_nobody["needed_on"]  # the glue, which no supplier is named for
    goods = [line for line in read_budget(live_budget(campaign)).lines if line.section in GOODS]
    assert calendar_of(campaign).months[0].goods == total(line for line in goods if line.supplier)


def test_work_that_is_done_falls_on_its_day(campaign):
    # kept days: a Saturday far from the plan
    log_steps(campaign, "score", None, at=datetime(2031, 3, 1, 12, tzinfo=UTC))

    make_budget(campaign=campaign)

    last = calendar_of(campaign).months[-1]
    assert last.first == date(2031, 3, 1)
    assert last.work > 0


def test_open_work_of_a_campaign_under_way_begins_with_the_week_it_was_given_out(campaign):
    today = timezone.localdate()
    campaign.starts_on = today - timedelta(days=16)  # two weeks and two days ago
    campaign.save()

    plan_campaign(campaign=campaign)

    first = min(one.span[0] for one in calendar_of(campaign).work)
    monday = today - timedelta(days=today.weekday())
    assert first == (monday + timedelta(days=7) if today.weekday() >= 5 else monday)


def test_without_a_start_date_nothing_is_dated_and_nothing_is_lost(campaign):
    campaign.starts_on = None
    campaign.save()

    stored = make_budget(campaign=campaign)

    (month,) = calendar_of(campaign).months
    assert (month.first, month.total, month.hours) == (None, stored.money, stored.hours)
    assert stored.content["months"]["orders"] == []
    assert any(section in APART for section in month.money)
