"""Work given to people by hand: what it takes along, what is refused, and what stays."""

from datetime import timedelta

import pytest
from django.utils import timezone

from housing.models import Task
from housing.services.giving_out import assign_tasks
from housing.services.work_by_hand import ReassignRefused, reassign, reassign_sheet, release
from tests.factories import make_campaign, make_housing, make_object, make_person, make_sheet, make_user

pytestmark = [pytest.mark.django_db, pytest.mark.any_database]


@pytest.fixture
def campaign():
    """Two boxes on one sheet, given out to Ada; Ben takes part too and has all skills."""
    campaign = make_campaign()
    first = make_housing(make_object(hazards="arsenic"), campaign=campaign)
    make_sheet(first, make_housing(campaign=campaign, design=first.design))
    campaign.people.add(make_person(name="Ada"))
    assign_tasks(campaign=campaign)
    campaign.people.add(make_person(name="Ben"))
    return campaign


@pytest.fixture
def ben(campaign):
    return campaign.people.get(name="Ben")


def task_of(campaign, step: str) -> Task:
    return Task.objects.filter(housing__campaign=campaign, step=step).order_by("housing").first()


def test_a_task_given_by_hand_stays_and_says_by_whom(campaign, ben):
    (moved,) = reassign(tasks=[task_of(campaign, "label")], person=ben, by=make_user(username="mo"))

    assert (moved.person, moved.is_fixed) == (ben, True)
    assert moved.reason.startswith("Given by hand by mo; week ")
    assign_tasks(campaign=campaign)
    assert task_of(campaign, "label").person == ben


def test_one_task_of_a_sheet_takes_the_whole_sheet_along(campaign, ben):
    moved = reassign(tasks=[task_of(campaign, "cut")], person=ben)

    assert sorted(task.step for task in moved) == ["cut", "cut", "fetch", "fetch"]
    assert {task.person for task in moved} == {ben}
    assert campaign.plan.sheets.get().person == ben


def test_a_sheet_is_given_by_hand(campaign, ben):
    assert len(reassign_sheet(sheet=campaign.plan.sheets.get(), person=ben)) == 4

    assert campaign.plan.sheets.get().person == ben


def test_work_is_left_to_nobody_by_hand_and_then_to_the_planner_again(campaign):
    task = task_of(campaign, "label")
    (nobodys,) = reassign(tasks=[task], person=None, by=make_user(username="mo"))

    assert (nobodys.person, nobodys.reason) == (None, "Given to nobody by hand by mo.")

    (given,) = release(tasks=[task])
    assert (given.person is None, given.is_fixed) == (False, False)


def test_what_was_not_given_by_hand_is_left_as_it_is(campaign):
    assert release(tasks=[task_of(campaign, "label")]) == []


@pytest.mark.parametrize(
    ("change", "step", "says"),
    [
        ({"skills": "cut; fold"}, "return", "Ben does not have the skill “Return to shelf”"),
        ({"handles_hazards": False}, "label", "Ben may not handle hazardous objects"),
        ({"is_active": False}, "label", "Ben takes no part in"),
    ],
)
def test_somebody_who_cannot_do_it_is_refused(campaign, ben, change, step, says):
    type(ben).objects.filter(pk=ben.pk).update(**change)
    ben.refresh_from_db()

    with pytest.raises(ReassignRefused, match=says):
        reassign(tasks=[task_of(campaign, step)], person=ben)

    assert not Task.objects.filter(is_fixed=True).exists()


def test_somebody_who_takes_no_part_in_the_campaign_is_refused(campaign):
    with pytest.raises(ReassignRefused, match="Add them on the campaign's edit page first"):
        reassign(tasks=[task_of(campaign, "label")], person=make_person())


@pytest.mark.parametrize(
    ("state", "says"), [("started", "Ada has begun “Cut"), ("done", "is done already, by Ada on")]
)
def test_what_is_begun_by_somebody_else_or_done_is_refused(campaign, ben, state, says):
    now = timezone.now()
    task = task_of(campaign, "cut")
    Task.objects.filter(pk=task.pk).update(state=state, started_at=now - timedelta(hours=1), done_at=now)

    with pytest.raises(ReassignRefused, match=says):
        reassign(tasks=[task], person=ben)

    assert not Task.objects.filter(is_fixed=True).exists()


def test_a_sheet_that_is_cut_is_refused(campaign, ben):
    sheet = campaign.plan.sheets.get()
    campaign.plan.sheets.update(cut_at=timezone.now())

    with pytest.raises(ReassignRefused, match="Sheet 1 was cut already"):
        reassign_sheet(sheet=sheet, person=ben)


def test_tasks_of_two_campaigns_are_not_moved_at_once(campaign, ben):
    other = make_housing(campaign=make_campaign())
    task = Task.objects.create(housing=other, step="label", sequence=8, planned_minutes=5)

    with pytest.raises(ReassignRefused, match="Move those of one campaign at a time"):
        reassign(tasks=[task, task_of(campaign, "label")], person=ben)
