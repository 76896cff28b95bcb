"""What changed when work was given out again or moved, told in a sentence."""

from datetime import date
from decimal import Decimal

import pytest

from housing.models import Task
from housing.queries.weeks import changes_since, placing_of, window_of
from tests.factories import make_campaign, make_housing, make_person, make_tasks

pytestmark = pytest.mark.django_db


@pytest.fixture
def campaign(db):
    return make_campaign(work_from=date(2026, 12, 9))


@pytest.fixture
def tasks(campaign) -> list[Task]:
    """Three tasks of Ada, in weeks 1 to 3."""
    ada = make_person(name="Ada")
    made = make_tasks(make_housing(campaign=campaign), "score", "glue", "fit", person=ada)
    for week, task in enumerate(made, start=1):
        Task.objects.filter(pk=task.pk).update(week=week)
    return made


def test_nothing_moved_is_said_too(campaign, tasks):
    before = placing_of(campaign)

    told = changes_since(before, campaign)

    # ISO 8601: the week of Wednesday 9 December 2026 begins on the 7th, two weeks later on the 21st
    assert told == "Nothing moved. All ends in week 3, 21 to 25 Dec 2026, as before."


def test_what_moved_is_counted_apart_by_person_and_by_week(campaign, tasks):
    before = placing_of(campaign)
    score, glue, _ = (task.pk for task in tasks)
    Task.objects.filter(pk=score).update(person=make_person(), week=9)
    Task.objects.filter(pk=glue).update(week=4)

    assert changes_since(before, campaign) == (
        "1 task moved to somebody else; 1 task moved to another week. "
        "All ends in week 9, 1 to 5 Feb 2027; before, it was week 3."
    )


def test_new_tasks_and_those_needed_no_longer_are_told(campaign, tasks):
    before = placing_of(campaign)
    tasks[-1].delete()
    make_tasks(make_housing(campaign=campaign), "cut", "score", week=3)

    told = changes_since(before, campaign)

    assert told.startswith("2 tasks are new; 1 task is needed no longer. All ends in week 3,")


def test_the_end_of_all_work_is_told_where_none_is_left(campaign, tasks):
    before = placing_of(campaign)
    Task.objects.all().delete()

    assert changes_since(before, campaign) == "3 tasks are needed no longer. No work is open."


def test_dropped_boxes_and_other_campaigns_are_no_work_of_this_one(campaign, tasks):
    make_tasks(make_housing(campaign=campaign, status="dropped"), "cut", week=30)
    make_tasks(make_housing(campaign=make_campaign()), "cut", week=40, planned_minutes=Decimal(5))

    assert window_of(campaign, date(2026, 12, 9)).of == 3
