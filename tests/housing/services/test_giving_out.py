"""Giving out the work: sheets, days away, open questions, what stays, and what is written."""

from datetime import date
from decimal import Decimal

import pytest
from dateutil.rrule import MO, WEEKLY, rrule
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from housing.models import Absence, Hold, Task
from housing.queries.budgets import changes_since, live_budget
from housing.queries.giving_out import last_schedule
from housing.services.budgets import make_budget
from housing.services.giving_out import assign_tasks
from tests.factories import make_campaign, make_design, make_housing, make_person, make_sheet, make_sheet_size

pytestmark = [pytest.mark.django_db, pytest.mark.any_database]

WEDNESDAY = date(2026, 12, 2)


@pytest.fixture
def design():
    return make_design()


@pytest.fixture
def boxes(design):
    """Two lidded boxes of one campaign, whose blanks lie on one sheet."""
    campaign = make_campaign()
    boxes = [make_housing(campaign=campaign, design=design) for _ in range(2)]
    make_sheet(*boxes)
    return boxes


@pytest.fixture
def campaign(boxes):
    return boxes[0].campaign


def give_out(campaign, today=WEDNESDAY) -> list[Task]:
    assign_tasks(campaign=campaign, today=today)
    return list(Task.objects.filter(housing__campaign=campaign).order_by("housing", "sequence"))


def test_what_is_cut_from_one_sheet_goes_to_one_person_in_one_week(campaign):
    campaign.people.add(make_person(), make_person())

    tasks = give_out(campaign)

    sheet = campaign.plan.sheets.get()
    cutting = {(task.person, task.week) for task in tasks if task.step in ("fetch", "cut")}
    assert cutting == {(sheet.person, sheet.week)}
    assert {task.sheet for task in tasks} == {sheet}
    assert all(task.reason for task in tasks)


def test_a_box_on_two_sheets_is_scored_when_both_are_cut(boxes, campaign):
    lid = make_sheet(boxes[0], part="lid", sheet_size=campaign.plan.sheets.get().sheet_size)
    campaign.people.add(make_person(hours_per_week=Decimal("0.1")))  # 6 minutes: a step or so a week

    tasks = give_out(campaign)

    assert {task.sheet.position for task in tasks} == {1}
    lid.refresh_from_db()
    score = next(task for task in tasks if (task.housing, task.step) == (boxes[0], "score"))
    assert score.week >= lid.week


@pytest.mark.parametrize(
    ("starts_on", "today", "monday"),
    [
        (None, date(2026, 12, 2), date(2026, 11, 30)),  # a Wednesday
        (None, date(2026, 12, 6), date(2026, 12, 7)),  # a Sunday: from the Monday after
        (date(2027, 1, 5), date(2026, 12, 2), date(2027, 1, 4)),  # not begun yet
        (date(2026, 1, 5), date(2026, 12, 2), date(2026, 11, 30)),  # begun long ago
    ],
)
def test_weeks_are_counted_from_the_monday_on_which_there_is_work(campaign, starts_on, today, monday):
    campaign.starts_on = starts_on

    give_out(campaign, today)

    campaign.refresh_from_db()
    # source: the recurrence rules of RFC 5545 as python-dateutil works them out
    mondays = list(rrule(WEEKLY, byweekday=MO, dtstart=date(2026, 11, 30), count=10))
    assert (campaign.work_from, campaign.work_from in [one.date() for one in mondays]) == (monday, True)


def test_days_away_move_the_work_to_the_weeks_after(campaign):
    person = make_person()
    campaign.people.add(person)
    Absence.objects.create(person=person, first_day=date(2026, 11, 30), last_day=date(2026, 12, 11))

    # away for the rest of the week of 30 November and all of the next
    assert {task.week for task in give_out(campaign)} == {3}


def test_of_the_week_that_has_begun_only_the_rest_is_given_out(boxes, campaign):
    # One hour a week is 12 minutes a day; Friday has 12 left, so not all tasks fit as they would on Monday.
    campaign.people.add(make_person(hours_per_week=Decimal(1)))

    on_monday = sum(task.planned_minutes for task in give_out(campaign, date(2026, 11, 30)) if task.week == 1)
    on_friday = sum(task.planned_minutes for task in give_out(campaign, date(2026, 12, 4)) if task.week == 1)

    assert 12 < on_monday <= 60
    assert on_friday <= 12


def test_work_on_a_box_with_an_open_question_waits_but_its_sheet_is_cut(boxes, campaign):
    campaign.people.add(make_person())
    Hold.objects.create(housing=boxes[0], question="Is this mould?", asked_at=timezone.now())

    tasks = give_out(campaign)

    weeks = {step: {task.week for task in tasks if task.step == step} for step in ("cut", "score")}
    assert weeks == {"cut": {1}, "score": {1, 2}}
    score = next(task for task in tasks if (task.housing, task.step) == (boxes[0], "score"))
    assert "it rests until week 2, as the box waits for a conservator" in score.reason


def test_a_newcomer_does_not_make_the_hard_form(design):
    design = make_design(form="clamshell", board=design.board)
    box = make_housing(campaign=make_campaign(), design=design)
    newcomer, maker = make_person(training="newcomer", hours_per_week=40), make_person(hours_per_week=4)
    box.campaign.people.add(newcomer, maker)
    size = make_sheet_size(board=design.board)
    for part in ("base", "lid", "spine"):
        make_sheet(box, part=part, sheet_size=size)

    tasks = give_out(box.campaign)

    assert {task.person for task in tasks if task.step in ("score", "glue", "lid")} == {maker}


def test_what_is_begun_and_what_was_given_by_hand_stays(boxes, campaign):
    ada, ben = make_person(), make_person()
    campaign.people.add(ada, ben)
    tasks = give_out(campaign)
    begun, by_hand = (next(task for task in tasks if task.step == step) for step in ("cut", "label"))
    Task.objects.filter(pk=begun.pk).update(state="started", person=ben, started_at=timezone.now())
    Task.objects.filter(pk=by_hand.pk).update(is_fixed=True, person=ben, reason="Given by hand by mo")

    give_out(campaign)

    begun.refresh_from_db()
    by_hand.refresh_from_db()
    assert (begun.person, begun.state) == (ben, "started")
    assert (by_hand.person, by_hand.is_fixed) == (ben, True)
    assert by_hand.reason == "Given by hand by mo; week 1 is the first in which it can be done."


def test_whom_it_was_given_to_is_gone_and_the_planner_has_it_again(campaign):
    ada, ben = make_person(), make_person()
    campaign.people.add(ada, ben)
    task = give_out(campaign)[0]
    Task.objects.filter(pk=task.pk).update(is_fixed=True, person=ben, reason="Given by hand by mo")
    ben.delete()

    give_out(campaign)

    task.refresh_from_db()
    assert (task.person, task.is_fixed) == (ada, False)


def test_nothing_is_written_where_nothing_changes(campaign):
    campaign.people.add(make_person(), make_person())
    give_out(campaign)

    with CaptureQueriesContext(connection) as made:
        assign_tasks(campaign=campaign, today=WEDNESDAY)

    written = [each["sql"] for each in made if each["sql"].startswith(("UPDATE", "INSERT", "DELETE"))]
    assert written == []


def test_as_many_queries_for_many_boxes_as_for_few(design, campaign):
    campaign.people.add(make_person())

    def queries() -> int:
        give_out(campaign)
        with CaptureQueriesContext(connection) as made:
            assign_tasks(campaign=campaign, today=WEDNESDAY)
        return len(made)

    few = queries()
    more = [make_housing(campaign=campaign, design=design) for _ in range(6)]
    make_sheet(*more, sheet_size=campaign.plan.sheets.get().sheet_size)

    assert queries() == few


def test_a_budget_is_out_of_date_when_others_do_the_work(campaign):
    ada, ben = make_person(), make_person()
    campaign.people.add(ada, ben)
    give_out(campaign)
    make_budget(campaign=campaign, with_range=False)
    assert "who does what" not in changes_since(live_budget(campaign))

    Task.objects.filter(person=ada).update(person=ben)

    assert "who does what" in changes_since(live_budget(campaign))


def test_how_the_work_stands_is_held_against_a_bound(campaign):
    campaign.people.add(make_person(), make_person())
    give_out(campaign)
    Task.objects.update(week=4)  # as if somebody had put all of it off

    schedule = last_schedule(campaign, WEDNESDAY)

    assert (schedule.last_week, schedule.least_week) == (4, 1)
