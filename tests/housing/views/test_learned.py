"""What was learned from the log: shown, switched on and off, and followed by the budget."""

from decimal import Decimal

import pytest
from django.urls import reverse
from django.utils import timezone

from boards.services import receive_sheets, write_off_sheets
from housing.models import BudgetTerms, Task
from housing.queries.budgets import terms_of
from housing.queries.learned import learned, spoilage_share
from housing.services.campaigns import plan_campaign
from tests.factories import make_campaign, make_design, make_object, make_person, make_sheet_size

pytestmark = pytest.mark.django_db


@pytest.fixture
def size():
    return make_sheet_size()


@pytest.fixture
def campaign(size):
    campaign = make_campaign(make_object(), make_object(), make_object())
    campaign.rules.create(position=1, design=make_design(board=size.board))
    campaign.people.add(make_person(name="Tovi"))
    plan_campaign(campaign=campaign)
    return campaign


def log(campaign, step: str, times: Decimal) -> None:
    """Finish a step of every box, in so many times its standard minutes."""
    for task in Task.objects.filter(housing__campaign=campaign, step=step):
        task.spent_minutes = task.standard_minutes * times
        task.state, task.done_at = Task.State.DONE, timezone.now()
        task.save()


def address(campaign, name="campaign-learned") -> str:
    return reverse(f"housing:{name}", args=[campaign.pk])


def test_without_a_log_the_page_says_so(viewer, campaign):
    page = viewer.get(address(campaign)).content.decode()

    assert "No minutes are logged yet" in page
    assert "3.0 %" in page  # spoilage as stated


def test_prior_data_and_posterior_stand_beside_each_other(viewer, campaign):
    log(campaign, "fit", Decimal(2))

    page = viewer.get(address(campaign)).content.decode()

    # Three alike jobs of twice the time: one job's variance (8 x 0.25 + 0) / 10, of the three 0.2 / 3, of one
    # form around the step 0.04 more, 0.10667; prior 0.1225: log 2 x 0.1225 / 0.22917 = 0.37052, a factor of
    # 1.45 (Gelman and others, Bayesian Data Analysis, 2.5 and 5.4).
    (row,) = learned(terms_of(campaign)).steps
    assert row.percents[:3] == (100, 200, 145)
    assert row.found.jobs == 3
    assert all(words in page for words in ("By form and step", ">200<", "145", "Tovi"))


def test_tasks_and_budget_follow_the_log_unless_told_otherwise(manager, campaign):
    log(campaign, "fit", Decimal(2))
    campaign.objects_in_it.add(make_object())
    plan_campaign(campaign=campaign)
    new = Task.objects.get(step="fit", state="to_do", housing__campaign=campaign)

    # The form is drawn toward its step: (0.37052 x 25 + log 2 x 15) / (25 + 15) = 0.49150: 1.6348.
    factor = Decimal("1.6348")
    assert new.planned_minutes == pytest.approx(new.standard_minutes * factor, rel=Decimal("0.002"))

    manager.post(address(campaign, "campaign-learned-use"), {"use": "no"})
    plan_campaign(campaign=campaign)
    new.refresh_from_db()

    assert not BudgetTerms.objects.get().uses_logged_times
    assert new.planned_minutes == new.standard_minutes


def test_sheets_written_off_raise_the_share_that_is_spoiled(campaign, size):
    receive_sheets(sheet_size=size, count=40)
    write_off_sheets(sheet_size=size, count=10)

    # 3 spoiled on 100 good ones stated, 10 more and none cut: 13 / 100.
    assert spoilage_share(terms_of(campaign)) == Decimal("0.130")


def test_only_managers_switch_it(viewer, campaign):
    assert viewer.post(address(campaign, "campaign-learned-use"), {"use": "no"}).status_code == 403
