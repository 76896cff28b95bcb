"""A campaign under way against its frozen budget: logged work, sheets received, forecasts."""

from datetime import date, timedelta
from decimal import Decimal

import pytest
from django.urls import reverse
from django.utils import timezone

from boards.models import Supply
from boards.services import receive_sheets, reverse_movement
from housing.core.budget.lines import Section
from housing.models import BudgetTerms, Person, Task
from housing.queries.budgets import read_budget
from housing.queries.tracking import progress_against
from housing.services.budgets import freeze_budget, make_budget
from housing.services.campaigns import plan_campaign
from tests.factories import log_steps, make_campaign, make_design, make_object, make_person, make_sheet_size

pytestmark = pytest.mark.django_db


@pytest.fixture
def size():
    return make_sheet_size()


@pytest.fixture
def campaign(size):
    """Two bowls, each in a lidded tray; one person, 24 an hour and 25 % on-costs: 30 an hour."""
    campaign = make_campaign(make_object(), make_object())
    campaign.rules.create(position=1, design=make_design(board=size.board))
    campaign.people.add(make_person(on_cost_share=Decimal("0.25")))
    BudgetTerms.objects.create(campaign=campaign, uses_logged_times=False)
    plan_campaign(campaign=campaign)
    return campaign


def freeze(campaign):
    return freeze_budget(campaign=campaign, name="Grant")


def section(progress, name: str):
    return next(row for row in progress.tracking.sections if row.name == name)


def test_before_anything_is_done_the_end_is_as_planned(campaign):
    progress = progress_against(freeze(campaign))

    labour = section(progress, "Labour")
    assert labour.spent == 0
    # Each of eight lines rounds its hours to hundredths: 8 x 0.005 h at 30; tasks round their minutes.
    assert labour.to_come == pytest.approx(labour.planned, abs=Decimal("1.21"))
    assert section(progress, "Board").over == 0


def test_logged_minutes_count_at_the_rate_of_whoever_worked(campaign):
    baseline = freeze(campaign)
    log_steps(campaign, "cut", 60)

    progress = progress_against(baseline)

    # two steps of an hour each, 24 × 1.25 an hour
    assert section(progress, "Labour").spent == 60
    assert (progress.done, progress.unlogged) == (2, 0)
    open_minutes = sum(task.planned_minutes for task in Task.objects.exclude(state="done"))
    assert section(progress, "Labour").to_come == pytest.approx(open_minutes * 30 / 60, abs=Decimal("0.01"))


def test_a_step_without_minutes_counts_as_planned(campaign):
    baseline = freeze(campaign)
    log_steps(campaign, "cut", None)

    progress = progress_against(baseline)

    planned = sum(task.planned_minutes for task in Task.objects.filter(step="cut"))
    assert section(progress, "Labour").spent == pytest.approx(planned * 30 / 60, abs=Decimal("0.01"))
    assert progress.unlogged == 2


def test_work_earns_what_was_planned_for_it(campaign):
    baseline = freeze(campaign)
    log_steps(campaign, "cut", 60)

    work = progress_against(baseline).work

    minutes = {task.pk: task.planned_minutes for task in Task.objects.all()}
    done = sum(minutes[task.pk] for task in Task.objects.filter(state="done"))
    assert work.budget == sum(line.amount for line in read_budget(baseline).of(Section.LABOUR))
    assert work.earned == pytest.approx(work.budget * done / sum(minutes.values()), abs=Decimal("0.01"))
    assert work.planned is None  # the campaign has no start, so nothing says what is due by now


def test_what_is_due_by_now_comes_from_the_months_of_the_baseline(campaign):
    campaign.starts_on = date(2027, 3, 1)
    campaign.save()
    plan_campaign(campaign=campaign)
    baseline = freeze(campaign)

    due = [progress_against(baseline, today).work.planned for today in (
        date(2027, 2, 28), date(2027, 12, 31),
    )]  # fmt: skip

    assert due == [0, progress_against(baseline).work.budget]


def test_sheets_received_since_count_and_need_no_more_be_bought(campaign, size):
    receive_sheets(sheet_size=size, count=1)
    make_budget(campaign=campaign, with_range=False)
    baseline = freeze(campaign)
    planned = section(progress_against(baseline), "Board").planned
    receive_sheets(sheet_size=size, count=2)
    mistaken = receive_sheets(sheet_size=size, count=40)
    reverse_movement(movement=mistaken)
    make_budget(campaign=campaign, with_range=False)

    progress = progress_against(baseline)

    board = section(progress, "Board")
    assert (progress.sheets, board.spent) == (
        2,
        25,
    )  # 2 at 12.50; not what came before, nor what was reversed
    assert board.to_come == max(planned - 25, 0)


def test_goods_without_a_ledger_count_by_what_is_on_hand(campaign):
    supply = Supply.objects.create(
        name="Label", kind="label", unit="piece", price=Decimal("10"), pack=100, is_usual=True
    )
    make_budget(campaign=campaign, with_range=False)
    baseline = freeze(campaign)
    supply.on_hand = 100
    supply.save()
    make_budget(campaign=campaign, with_range=False)

    row = section(progress_against(baseline), "Tape, ties, labels and the like")

    # one pack of 100 was planned at 10, and it came
    assert (row.planned, row.spent, row.to_come) == (10, 10, 0)


def test_what_volunteers_give_is_told_apart(campaign):
    Person.objects.update(kind="volunteer", in_kind_rate=Decimal("18"))
    make_budget(campaign=campaign, with_range=False)
    baseline = freeze(campaign)
    log_steps(campaign, "cut", 30)

    progress = progress_against(baseline)

    assert progress.tracking.in_kind.spent == 18  # two half hours
    assert progress.work is None  # no paid work was planned
    assert "Labour" not in [row.name for row in progress.tracking.sections]


def test_supervision_and_indirect_costs_follow_what_was_spent(campaign):
    boss = make_person(rate_per_hour=Decimal("40"))
    Person.objects.exclude(pk=boss.pk).update(kind="intern")
    BudgetTerms.objects.update(
        supervision_share=Decimal("0.5"), supervisor=boss, indirect_share=Decimal("0.1")
    )
    make_budget(campaign=campaign, with_range=False)
    baseline = freeze(campaign)
    log_steps(campaign, "cut", 60)

    progress = progress_against(baseline)

    assert section(progress, "Supervision").spent == 40  # half of two hours at 40
    assert section(progress, "Indirect costs").spent == 10  # a tenth of 60 and 40


def test_open_work_on_a_box_that_was_dropped_is_not_to_come(campaign):
    baseline = freeze(campaign)
    campaign.housings.update(status="dropped")

    progress = progress_against(baseline)

    assert (progress.tasks, section(progress, "Labour").to_come) == (0, 0)


def test_another_currency_is_not_compared(campaign):
    baseline = freeze(campaign)
    campaign.budgets.filter(frozen_at=None).update(currency="CHF")

    assert progress_against(baseline) is None


def test_the_page_of_the_budget_shows_it_only_with_a_baseline(campaign, viewer):
    address = reverse("housing:campaign-budget", args=[campaign.pk])
    assert "Against the baseline" not in viewer.get(address).content.decode()
    freeze(campaign)
    log_steps(campaign, "cut", 60)

    page = viewer.get(address).content.decode()

    assert "Against the baseline “Grant”" in page
    assert "2 of 16 steps of the work are done." in page
    assert "60.00 are spent" in page


def test_receipts_before_freezing_are_not_counted(campaign, size):
    receive_sheets(sheet_size=size, count=2)
    size.movements.update(at=timezone.now() - timedelta(days=1))

    assert progress_against(freeze(campaign)).sheets == 0
