"""Tasks and the boxes they are about go on together."""

from decimal import Decimal

import pytest

from housing.models import Housing, Task
from housing.services.campaigns import plan_campaign
from housing.services.housings import move_housing
from housing.services.tasks import TaskRefused, finish_task, start_task
from tests.factories import make_board, make_campaign, make_design, make_object, make_person, make_sheet_size

pytestmark = [pytest.mark.django_db, pytest.mark.any_database]


@pytest.fixture
def box() -> Housing:
    """A planned box of one object, its four tasks given to one person."""
    board = make_board()
    make_sheet_size(board=board)
    thing = make_object()
    campaign = make_campaign(thing)
    campaign.people.add(make_person())
    campaign.memberships.update(chosen_design=make_design(board=board))
    plan_campaign(campaign=campaign)
    return Housing.objects.get(campaign=campaign)


def test_a_box_goes_on_as_its_steps_are_done(box):
    reached = []
    for task in box.tasks.order_by("sequence"):
        finish_task(task=task, minutes=5)
        box.refresh_from_db()
        reached.append((task.step, box.status))

    assert reached == [("cut", "in_work"), ("glue", "made"), ("fit", "made"), ("return", "housed")]


def test_a_step_waits_for_the_one_before_it(box):
    with pytest.raises(TaskRefused, match="comes after “Mark out, score and cut”"):
        finish_task(task=box.tasks.get(step="return"))

    box.refresh_from_db()
    assert box.status == "planned"


def test_measuring_is_done_when_the_size_is_entered():
    thing = make_object(height_mm=None, size_state="missing")
    campaign = make_campaign(thing)
    campaign.memberships.update(chosen_design=make_design(board=make_sheet_size().board))
    plan_campaign(campaign=campaign)
    task = Task.objects.get(step="measure")

    with pytest.raises(TaskRefused, match="has no full size yet"):
        finish_task(task=task)

    thing.height_mm, thing.size_state = 100, "known"
    thing.save()
    assert finish_task(task=task).state == "done"


def test_a_box_put_on_its_shelf_has_nothing_left_to_do(box):
    for status in ("in_work", "made", "housed"):
        box = move_housing(housing=box, status=status)

    assert not box.tasks.exclude(state=Task.State.DONE).exists()


def test_a_dropped_box_leaves_no_work_behind(box):
    move_housing(housing=box, status="dropped")

    assert not box.tasks.exists()


def test_a_second_click_changes_nothing(box):
    task = finish_task(task=box.tasks.get(step="cut"), minutes=20)

    again = finish_task(task=task, minutes=99)

    assert (again.spent_minutes, again.done_at) == (20, task.done_at)


def test_a_task_that_somebody_began_is_not_taken_from_them(box):
    first, second = make_person(), make_person()
    task = start_task(task=box.tasks.get(step="cut"), person=first)

    with pytest.raises(TaskRefused, match=f"{first} has begun"):
        start_task(task=task, person=second)


@pytest.mark.parametrize(("weights", "first"), [({}, "delicate"), ({"fragility": 0}, "used")])
def test_work_within_a_class_comes_in_the_order_of_the_score_as_the_campaign_weighs_it(weights, first):
    # Fragility counts 2 more against use 1.5 less; without fragility only the use is left.
    delicate = make_object(number="delicate", height_mm=None, fragility="very_delicate", use="never")
    used = make_object(number="used", height_mm=None, fragility="robust", use="monthly")
    campaign = make_campaign(used, delicate, weights=weights)
    campaign.memberships.update(chosen_design=make_design(board=make_sheet_size().board))
    campaign.people.add(make_person(hours_per_week=Decimal("0.1")))  # 6 minutes: one thing measured a week

    plan_campaign(campaign=campaign)

    order = Task.objects.order_by("week").values_list("housing__contents__object__number", flat=True)
    assert (order[0], len(set(Task.objects.values_list("week", flat=True)))) == (first, 2)
