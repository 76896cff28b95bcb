"""What the running campaigns still need of sheets and supplies, by day."""

from datetime import date
from decimal import Decimal

import pytest
from django.utils import timezone

from boards.models import Supplier, Supply
from boards.services import receive_sheets, receive_supply, use_sheets
from housing.core.budget.lines import Budget as CoreBudget
from housing.core.budget.lines import BudgetLine, Section, Target
from housing.core.budget.stored import to_json
from housing.models import Budget, PlannedSheet
from housing.queries.stock_needs import boards_short, sheets_waiting_for_board, stock_needs
from tests.factories import make_campaign, make_housing, make_sheet, make_sheet_size, make_tasks

pytestmark = [pytest.mark.django_db, pytest.mark.any_database]
STATUSES = ("planned", "planned", "planned", "dropped")
TODAY = date(2026, 11, 28)  # a Saturday
MONDAY = date(2026, 11, 30)


def planned(campaign, size, *weeks: int) -> list[PlannedSheet]:
    """A planned sheet of a size in each of these weeks."""
    return [make_sheet(make_housing(campaign=campaign), sheet_size=size, week=week) for week in weeks]


def dated(need) -> list[tuple[date, Decimal]]:
    return [(one.day, one.units) for one in need.needs]


def test_sheets_not_cut_yet_are_needed_in_their_weeks():
    campaign = make_campaign(work_from=MONDAY)
    size = make_sheet_size(supplier=Supplier.objects.create(name="Harbour Paper", lead_days=10))
    receive_sheets(sheet_size=size, count=2)
    planned(campaign, size, 1, 1, 3)

    (need,) = stock_needs(TODAY)

    assert dated(need) == [(MONDAY, 2), (date(2026, 12, 14), 1)]  # week 3 begins 14 days later
    assert (need.needed, need.shortage.missing) == (3, 1)
    assert need.shortage.since == date(2026, 12, 14)
    assert need.order_by == date(2026, 12, 4)  # 10 days before
    assert not need.is_late
    assert boards_short(TODAY) == [need]


def test_sheets_that_are_cut_or_at_the_bench_are_needed_no_more():
    size = make_sheet_size()
    receive_sheets(sheet_size=size, count=5)
    cut, issued, _ = planned(make_campaign(), size, 1, 1, 1)
    PlannedSheet.objects.filter(pk=cut.pk).update(cut_at=timezone.now())
    use_sheets(sheet_size=size, count=1, reference=f"planned_sheet:{issued.pk}")

    (need,) = stock_needs(TODAY)

    assert (need.needed, need.in_stock) == (1, 4)


def test_work_that_is_late_is_needed_today_and_closed_campaigns_need_nothing():
    size = make_sheet_size()
    planned(make_campaign(work_from=date(2026, 11, 2)), size, 1)
    planned(make_campaign(is_closed=True), size, 1)
    planned(make_campaign(starts_on=date(2027, 1, 11)), size, 1)

    (need,) = stock_needs(TODAY)

    assert dated(need) == [(TODAY, 1), (date(2027, 1, 11), 1)]


def test_sheets_whose_size_has_no_stock_wait_for_board():
    there, gone = make_sheet_size(), make_sheet_size()
    receive_sheets(sheet_size=there, count=1)
    campaign = make_campaign()
    planned(campaign, there, 1, 1)
    (waits,) = planned(campaign, gone, 1)

    assert list(sheets_waiting_for_board()) == [waits]
    assert [need.thing for need in boards_short(TODAY)] == [there, gone]


def test_what_is_at_its_level_is_told_though_nobody_needs_it():
    low = make_sheet_size(reorder_level=3)
    receive_sheets(sheet_size=low, count=3)
    plenty = make_sheet_size(reorder_level=3)
    receive_sheets(sheet_size=plenty, count=4)

    (need,) = stock_needs(TODAY)

    assert (need.thing, need.is_low, need.is_short) == (low, True, False)


def test_supplies_are_needed_as_far_as_their_steps_are_open():
    campaign = make_campaign(work_from=MONDAY)
    glue = Supply.objects.create(name="Glue", kind="glue", unit="stick", pack=10)
    receive_supply(supply=glue, units=Decimal(5))
    lines = (
        line(f"on_hand:supply:{glue.pk}", Section.ON_HAND, 4),
        line(f"supply:{glue.pk}", Section.ADHESIVE, 2),  # packs of ten
        line("supply:99999", Section.PADDING, 3),  # off the list since
    )
    Budget.objects.create(campaign=campaign, **stored(CoreBudget("USD", lines)))
    done, first, second, dropped = (make_housing(campaign=campaign, status=status) for status in STATUSES)
    make_tasks(done, "glue", state="done", done_at=timezone.now())
    make_tasks(first, "glue", week=1)
    make_tasks(second, "glue", week=2)
    make_tasks(dropped, "glue", week=2)

    (need,) = stock_needs(TODAY)

    # 4 + 2 x 10 = 24 sticks for three boxes, one of them done: 8 in each of two weeks
    assert dated(need) == [(MONDAY, 8), (date(2026, 12, 7), 8)]
    assert need.shortage.missing == 11  # 16 - 5
    assert need.shortage.since == MONDAY


def line(key: str, section: Section, quantity: int) -> BudgetLine:
    return BudgetLine(key, section, "Glue", Decimal(quantity), "stick", Decimal(1), "", Target("campaign"))


def stored(budget: CoreBudget) -> dict:
    return {"currency": budget.currency, "money": budget.money, "content": to_json(budget)}
