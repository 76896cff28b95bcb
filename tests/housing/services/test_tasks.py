"""Tasks and the boxes they are about go on together."""

from decimal import Decimal

import pytest
from django.utils import timezone

from housing.models import Hold, Housing, Task
from housing.services.campaigns import plan_campaign
from housing.services.housings import move_housing
from housing.services.sheets import cut_sheet
from housing.services.tasks import TaskRefused, finish_task, start_task
from tests.factories import (
    make_campaign,
    make_design,
    make_housing,
    make_object,
    make_person,
    make_sheet,
    make_sheet_size,
    make_tasks,
)

pytestmark = [pytest.mark.django_db, pytest.mark.any_database]


@pytest.fixture
def box() -> Housing:
    """A planned lidded box of one object with its eight tasks; its blank lies on a sheet of the plan."""
    box = make_housing(campaign=make_campaign())
    make_tasks(box)
    make_sheet(box)
    return box


def test_a_box_goes_on_as_its_steps_are_done(box):
    reached = []
    cut_sheet(sheet=box.blanks.get().placements.get().sheet)
    for task in box.tasks.exclude(state="done").order_by("sequence"):
        finish_task(task=task, minutes=5)
        box.refresh_from_db()
        reached.append((task.step, box.status))

    assert reached == [
        ("score", "in_work"), ("glue", "in_work"), ("lid", "made"), ("fit", "made"), ("label", "made"),
        ("return", "housed"),
    ]  # fmt: skip


def test_base_and_lid_are_made_in_either_order(box):
    cut_sheet(sheet=box.blanks.get().placements.get().sheet)
    for step in ("score", "lid", "glue"):
        finish_task(task=box.tasks.get(step=step))

    box.refresh_from_db()
    assert box.status == "made"


def test_a_step_waits_for_the_one_before_it(box):
    with pytest.raises(TaskRefused, match="comes after “Label”"):
        finish_task(task=box.tasks.get(step="return"))

    box.refresh_from_db()
    assert box.status == "planned"


def test_a_step_is_not_begun_before_what_it_waits_for(box):
    ada = make_person(name="Ada")
    box.tasks.filter(step="cut").update(person=ada)

    with pytest.raises(TaskRefused, match="comes after “Cut”, which is not done yet. .* It is Ada’s."):
        start_task(task=box.tasks.get(step="score"), person=make_person())

    assert box.tasks.get(step="score").state == "to_do"


def test_what_somebody_began_is_theirs_though_another_says_that_it_is_done(box):
    cut_sheet(sheet=box.blanks.get().placements.get().sheet)
    maker, manager = make_person(), make_person()
    begun = start_task(task=box.tasks.get(step="score"), person=maker)

    assert finish_task(task=begun, person=manager).person == maker
    # one that nobody had begun is whose who did it, whoever it was given to
    box.tasks.filter(step="glue").update(person=maker)
    assert finish_task(task=box.tasks.get(step="glue"), person=manager).person == manager


@pytest.mark.parametrize("step", ["fetch", "cut"])
def test_cutting_is_not_done_apart_from_the_sheet_so_that_the_stock_is_right(box, step):
    Task.objects.filter(step="fetch").exclude(step=step).update(state="done", done_at=timezone.now())

    with pytest.raises(
        TaskRefused, match="is cut from Sheet 1 of the cutting plan. Note there that it is cut"
    ):
        finish_task(task=box.tasks.get(step=step))


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
    cut_sheet(sheet=box.blanks.get().placements.get().sheet)
    task = finish_task(task=box.tasks.get(step="score"), minutes=20)

    again = finish_task(task=task, minutes=99)

    assert (again.spent_minutes, again.done_at) == (20, task.done_at)


@pytest.mark.parametrize("minutes", [-1, Decimal("1440.5")])
def test_minutes_that_nobody_works_on_end_are_refused(box, minutes):
    cut_sheet(sheet=box.blanks.get().placements.get().sheet)

    with pytest.raises(TaskRefused, match="cannot be right. Enter 0 to 1440"):
        finish_task(task=box.tasks.get(step="score"), minutes=minutes)

    assert box.tasks.get(step="score").state == "to_do"


def test_a_task_that_somebody_began_is_not_taken_from_them(box):
    first, second = make_person(), make_person()
    task = start_task(task=box.tasks.get(step="fetch"), person=first)

    with pytest.raises(TaskRefused, match=f"{first} has begun"):
        start_task(task=task, person=second)


def test_what_is_done_says_by_whom(box):
    cut_sheet(sheet=box.blanks.get().placements.get().sheet)
    ada = make_person(name="Ada")
    done = finish_task(task=box.tasks.get(step="score"), person=ada)

    with pytest.raises(TaskRefused, match="is done already, by Ada on"):
        start_task(task=done, person=make_person())


def test_work_on_a_box_rests_while_a_question_is_open(box):
    hold = Hold.objects.create(
        housing=box, reason="conservator", question="Is this mould?", asked_at=timezone.now()
    )
    with pytest.raises(TaskRefused, match="waits for a conservator: “Is this mould\\?”"):
        start_task(task=box.tasks.get(step="fetch"))

    hold.answer, hold.answered_at = "No, dust.", timezone.now()
    hold.save()
    assert start_task(task=box.tasks.get(step="fetch")).state == "started"


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
