"""Minutes of tasks: by the standard times, as planned, and what changes them."""

from decimal import Decimal as D

import pytest

from housing.models import BudgetTerms, Housing, StandardTime, Task
from housing.queries.box_facts import facts_of_campaign
from housing.queries.budgets import live_budget, terms_of
from housing.services.campaigns import plan_campaign
from housing.services.minutes import minutes_of
from housing.services.standards import record_standard_time, reset_standard_time
from housing.services.tasks import start_task
from tests.factories import log_steps, make_campaign, make_design, make_object, make_person, make_sheet_size

pytestmark = pytest.mark.django_db
NO_ALLOWANCE = {"allowance_share": 0, "alike_share": 1, "learning": "none"}


@pytest.fixture
def campaign():
    """One bowl of 10 x 8 3/4 x 7 1/8 in, whose lidded tray is drawn nominally, and nothing for rest."""
    board = make_sheet_size().board
    campaign = make_campaign(make_object())
    campaign.rules.create(position=1, design=make_design(board=board, drawn="nominal"))
    campaign.people.add(make_person())
    BudgetTerms.objects.create(campaign=campaign, **NO_ALLOWANCE)
    plan_campaign(campaign=campaign)
    return campaign


def minutes_of_tasks(campaign) -> dict[str, tuple[D, D]]:
    rows = Task.objects.filter(housing__campaign=campaign).order_by("sequence")
    return {step: both for step, *both in rows.values_list("step", "standard_minutes", "planned_minutes")}


def test_the_minutes_of_a_lidded_tray_are_those_worked_by_hand(campaign):
    # Base and lid: scores 139.5 in = 3.5433 m, cuts 313.5 in = 7.9629 m (test_box_facts.py), 16 folds,
    # 8 joints, half of each in the lid. Fetch: 3. Cut: 7.9629 x 1.5 = 11.94. Score: 2 x 2.5 to mark out +
    # 3.5433 x 1.2 = 9.25. Glue, and lid: 8 x 0.2 + 4 x 1 = 5.60. Fit and photograph: 2.5 + 2 = 4.5.
    # Label: 1.5. Return: 4. Shipped times, assumed.
    by_hand = {
        "fetch": D("3.00"), "cut": D("11.94"), "score": D("9.25"), "glue": D("5.60"), "lid": D("5.60"),
        "fit": D("4.50"), "label": D("1.50"), "return": D("4.00"),
    }  # fmt: skip

    assert minutes_of_tasks(campaign) == {step: [one, one] for step, one in by_hand.items()}


def test_measuring_takes_the_standard_time_of_each_object():
    campaign = make_campaign(make_object(height_mm=None))
    BudgetTerms.objects.create(campaign=campaign, **NO_ALLOWANCE)

    plan_campaign(campaign=campaign)

    assert minutes_of_tasks(campaign) == {"measure": [6, 6]}  # as shipped, assumed


def test_a_changed_time_reaches_the_tasks_when_only_what_changed_is_planned_again(campaign):
    plan = campaign.plan
    time = StandardTime(element="return", low=5, likely=7, high=9, source="Timed on ten boxes")
    record_standard_time(time=time)
    plan_campaign(campaign=campaign, keep=True)
    longer = minutes_of_tasks(campaign)["return"]
    reset_standard_time(time=time)

    plan_campaign(campaign=campaign, keep=True)

    assert (longer, minutes_of_tasks(campaign)["return"]) == ([7, 7], [4, 4])
    assert campaign.plan.sheets.count() == plan.sheets.count()


def test_a_task_that_was_begun_keeps_its_minutes(campaign):
    for step in ("fetch", "cut", "score"):
        log_steps(campaign, step, None)
    start_task(task=Task.objects.get(step="glue"))
    before = minutes_of_tasks(campaign)
    BudgetTerms.objects.update(allowance_share=D("0.5"))

    plan_campaign(campaign=campaign, keep=True)

    after = minutes_of_tasks(campaign)
    assert after["glue"] == before["glue"]
    assert after["return"] == [6, 6]  # 4 and half as much again


def test_learning_and_the_log_change_what_is_planned_and_leave_the_standard(campaign):
    BudgetTerms.objects.update(learning="unit", learning_rate=D("0.8"), learning_reference=4)

    plan_campaign(campaign=campaign, keep=True)

    # The first box takes 1 / 0.64 of the fourth, whose time the standard is (80 % table); 1.5 / 0.64 = 2.34.
    assert minutes_of_tasks(campaign)["label"] == [D("1.50"), pytest.approx(D("2.34"), abs=D("0.006"))]
    assert minutes_of_tasks(campaign)["return"] == [4, 4]


@pytest.mark.parametrize(("uses_log", "is_longer"), [(True, True), (False, False)])
def test_logged_minutes_correct_tasks_only_where_the_terms_say_so(campaign, uses_log, is_longer):
    log_steps(campaign, "score", 60)
    other = make_campaign(make_object())
    other.rules.create(position=1, design=campaign.rules.get().design)
    BudgetTerms.objects.create(campaign=other, uses_logged_times=uses_log, **NO_ALLOWANCE)

    plan_campaign(campaign=other)

    standard, planned = minutes_of_tasks(other)["score"]
    assert standard == D("9.25")
    assert (planned > standard) is is_longer


def test_tasks_add_up_to_the_hours_of_the_budget(campaign):
    planned = sum(planned for _, planned in minutes_of_tasks(campaign).values())

    assert live_budget(campaign).hours == round(planned / 60, 2)


def test_steps_of_a_box_are_told_by_its_key(campaign):
    steps = minutes_of(campaign, terms_of(campaign), facts_of_campaign(campaign)).steps()

    assert {key: list(of_box) for key, of_box in steps.items()} == {
        str(Housing.objects.get().pk): ["fetch", "cut", "score", "glue", "lid", "fit", "label", "return"]
    }
