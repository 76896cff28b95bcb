"""What was logged corrects the standard times that hold: not those of then, and nothing twice."""

from decimal import Decimal

import pytest
from django.utils import timezone

from housing.models import BudgetTerms, StandardTime, Task
from housing.queries.budgets import terms_of
from housing.queries.learned import learned
from housing.queries.logged import corrections_of, logged_tasks
from housing.services.campaigns import plan_campaign
from housing.services.logged import restate_standard_minutes
from housing.services.standards import record_standard_time, reset_standard_time
from tests.factories import log_steps, make_campaign, make_design, make_object, make_person, make_sheet_size

pytestmark = pytest.mark.django_db


@pytest.fixture
def campaign():
    """Two bowls, nothing for rest; returning each to its shelf, 4 minutes as shipped, took 6."""
    campaign = make_campaign(make_object(), make_object())
    campaign.rules.create(position=1, design=make_design(board=make_sheet_size().board))
    campaign.people.add(make_person())
    BudgetTerms.objects.create(campaign=campaign, allowance_share=0)
    plan_campaign(campaign=campaign)
    log_steps(campaign, "return", 6)
    return campaign


def time_of_returning(minutes: float) -> StandardTime:
    return StandardTime(element="return", low=minutes, likely=minutes, high=minutes, source="Timed")


def jobs_say(campaign) -> int:
    """Of all forms, in per cent of the standard time."""
    (row,) = learned(terms_of(campaign)).steps
    return row.percents[1]


def test_a_standard_time_set_to_what_was_logged_is_not_corrected_again(campaign):
    assert jobs_say(campaign) == 150

    record_standard_time(time=time_of_returning(6))

    assert jobs_say(campaign) == 100
    assert set(corrections_of(terms_of(campaign)).values()) == {1}


def test_taking_a_standard_time_back_brings_the_correction_back(campaign):
    time = record_standard_time(time=time_of_returning(6))

    reset_standard_time(time=time)

    assert jobs_say(campaign) == 150


def test_other_terms_for_rest_change_what_steps_should_have_taken(campaign):
    BudgetTerms.objects.update(allowance_share=Decimal("0.5"))

    assert restate_standard_minutes(campaigns=[campaign]) == 2
    assert restate_standard_minutes(campaigns=[campaign]) == 0

    assert jobs_say(campaign) == 100  # 6 for 4 and half as much again


def test_steps_finished_before_standard_minutes_were_kept_get_them(campaign):
    Task.objects.update(standard_minutes=None)
    assert logged_tasks(terms_of(campaign)) == []

    restate_standard_minutes()

    assert [job.standard for job in logged_tasks(terms_of(campaign))] == [4, 4]


def test_measuring_that_is_over_keeps_its_standard_time(campaign):
    task = Task.objects.filter(step="score").first()
    Task.objects.filter(pk=task.pk).update(step="measure", sequence=1)
    log_steps(campaign, "measure", 12)

    restate_standard_minutes()

    task.refresh_from_db()
    assert task.standard_minutes == 6  # one object, as shipped


def test_what_learning_explains_is_not_learned_a_second_time(campaign):
    # An 80 % curve whose fourth box takes the standard time: the first two take 1 and 0.8 over 0.64 of it.
    terms = terms_of(campaign)
    fitting = Task.objects.filter(step="fit").order_by("pk")
    for task, factor in zip(fitting, (Decimal("1.5625"), Decimal("1.25")), strict=True):
        minutes = task.standard_minutes * factor
        Task.objects.filter(pk=task.pk).update(state="done", done_at=timezone.now(), spent_minutes=minutes)
    terms.learning, terms.learning_rate, terms.learning_reference = "unit", Decimal("0.8"), 4

    found = {(job.step, round(job.spent / job.standard, 2)) for job in logged_tasks(terms)}

    assert found == {("fit", 1.0), ("return", 1.5)}  # the way to the shelf is not learned
