"""What changed when work was given out again or moved, told in a sentence."""

from datetime import date
from decimal import Decimal

import pytest

from housing.core.assignment import Schedule
from housing.models import Task
from housing.queries.weeks import changes_since, placing_of, standing_in_words, window_of
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
        "All ends in week 9, 1 to 5 Feb 2027; before, in week 3, 21 to 25 Dec 2026."
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


def test_weeks_counted_anew_from_a_later_day_are_compared_by_their_dates(campaign, tasks):
    before = placing_of(campaign)
    campaign.work_from = date(2026, 12, 14)
    campaign.save()
    for task, week in zip(tasks, (1, 1, 2), strict=True):
        Task.objects.filter(pk=task.pk).update(week=week)

    # week 2 from the 7th is week 1 from the 14th; only what was due in the first week of all moved
    assert changes_since(before, campaign) == (
        "1 task moved to another week. All ends in week 2, 21 to 25 Dec 2026, as before."
    )


@pytest.mark.parametrize(
    ("last", "least", "told"),
    [
        (9, 9, "No way of giving it out ends earlier."),
        (0, 0, "Nobody has any of the work."),
        # 10 of 8 weeks are a quarter more
        (10, 8, "ends before week 8, so this one ends at most 2 weeks (25%) later than the best."),
    ],
)
def test_the_bound_tells_how_far_from_the_best_it_may_be(last, least, told):
    assert standing_in_words(Schedule((), last, least)).endswith(told)


def test_dropped_boxes_and_other_campaigns_are_no_work_of_this_one(campaign, tasks):
    make_tasks(make_housing(campaign=campaign, status="dropped"), "cut", week=30)
    make_tasks(make_housing(campaign=make_campaign()), "cut", week=40, planned_minutes=Decimal(5))

    assert window_of(campaign, date(2026, 12, 9)).of == 3
