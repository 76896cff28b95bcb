"""When shall we be done? The page, what is tried on it, and the picture behind it."""

import math
from dataclasses import replace
from datetime import date, datetime, timedelta
from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from housing.core.drawing.burnup_chart import BurnUp, burnup_svg
from housing.core.forecast import Forecast, Pace
from housing.models import Absence, FitCheck, HousingEvent
from housing.queries.forecast import Finish, burn_up, finish_of, pace_of
from housing.queries.what_if import Changes, workers_of
from tests.factories import make_campaign, make_housing, make_person, make_tasks, make_user

pytestmark = pytest.mark.django_db
MONDAY = date(2027, 3, 1)


@pytest.fixture
def ada():
    return make_person(name="Ada", hours_per_week=Decimal(10))


@pytest.fixture
def campaign(ada):
    """Six boxes of which each step takes an hour, all for one person of ten hours a week: 48 hours."""
    campaign = make_campaign(work_from=MONDAY)
    campaign.people.add(ada)
    for week in range(1, 7):
        make_tasks(make_housing(campaign=campaign), person=ada, week=week, planned_minutes=Decimal(60))
    return campaign


@pytest.fixture
def viewer(client):
    client.force_login(make_user())
    return client


def page_of(viewer, campaign, **tried):
    return viewer.get(reverse("housing:campaign-forecast", args=[campaign.pk]), tried)


def test_the_middle_is_where_the_hours_lead(campaign):
    finish = finish_of(campaign, MONDAY)

    # 48 hours and two boxes in a hundred again: 4.9 weeks of ten hours, the Friday of the fifth
    assert finish.hours == 48
    assert abs((finish.middle - date(2027, 4, 2)).days) <= 4
    assert finish.low < finish.middle < finish.high
    assert finish.planned == date(2027, 4, 9)  # Friday of week 6


@pytest.mark.parametrize(
    ("today", "weeks", "day"),
    [
        (MONDAY, 0.2, MONDAY),  # a fifth of the week is its first day
        (MONDAY, 0.21, date(2027, 3, 2)),
        (MONDAY, 1.0, date(2027, 3, 5)),
        (MONDAY, 4.9, date(2027, 4, 2)),
        (date(2027, 3, 4), 0.5, date(2027, 3, 4)),  # of Thursday and Friday the first half
        (date(2027, 3, 4), 1.2, date(2027, 3, 8)),  # then a fifth of the next week
        (date(2027, 3, 6), 1.2, date(2027, 3, 8)),  # on a Saturday nothing is left of the week
        (MONDAY, math.inf, None),
    ],
)
def test_weeks_become_the_day_on_which_they_are_over(today, weeks, day):
    assert Finish(Forecast(weeks, weeks, weeks, None), today, None, {}, {}, Pace()).middle == day


def test_what_is_left_on_a_weekend_is_what_is_left_on_monday(campaign):
    saturday, monday = (finish_of(campaign, MONDAY + timedelta(days=day)) for day in (5, 7))

    assert abs((saturday.middle - monday.middle).days) <= 3  # other draws, the same hours


def test_days_lost_and_days_away_end_it_later(campaign, ada):
    before = finish_of(campaign, MONDAY).middle

    lost = finish_of(campaign, MONDAY, Changes(days_lost=5)).middle
    Absence.objects.create(person=ada, first_day=MONDAY, last_day=MONDAY + timedelta(days=6))
    away = finish_of(campaign, MONDAY).middle

    assert (lost - before).days == 7
    assert away == lost


def test_days_lost_are_working_days_whatever_day_it_is(campaign):
    saturday = MONDAY + timedelta(days=5)

    before, lost = (finish_of(campaign, saturday, Changes(days_lost=n)).middle for n in (0, 2))

    assert (lost - before).days in (2, 4)  # two days, or two and a weekend


def minutes_of(people, **tried):
    """Minutes of each, this week and the next two, the last week standing for all after it."""
    told = [list(worker.minutes) for worker in workers_of(people, MONDAY, Changes(**tried))]
    return [(weeks + weeks[-1:] * 3)[:3] for weeks in told]


def test_days_lost_begin_on_the_day_named_and_weekends_between_them_are_not_lost(ada):
    friday = MONDAY + timedelta(days=4)

    # 600 a week are 120 a day: Friday, and Monday of the week after, but neither Saturday nor Sunday
    assert minutes_of([ada], days_lost=2, lost_from=friday) == [[480, 480, 600]]
    # a day that is past stands for today
    assert minutes_of([ada], days_lost=1, lost_from=MONDAY - timedelta(days=9)) == [[480, 600, 600]]


def test_a_day_lost_on_which_somebody_is_away_anyhow_is_lost_once(ada):
    Absence.objects.create(person=ada, first_day=MONDAY, last_day=MONDAY + timedelta(days=1))

    assert minutes_of([ada], days_lost=1) == [[360, 600, 600]]


def test_other_hours_last_until_the_day_named(ada):
    wednesday = MONDAY + timedelta(days=9)
    twenty = {ada.pk: Decimal(20)}

    assert minutes_of([ada], hours=twenty) == [[1200, 1200, 1200]]
    # the second week: three days of 240 and two of 120
    assert minutes_of([ada], hours=twenty, hours_until=wednesday) == [[1200, 960, 600]]


def test_somebody_comes_and_leaves_on_the_days_named(ada):
    came, left = MONDAY + timedelta(days=3), MONDAY + timedelta(days=7)
    more = {"more_hours": Decimal(5), "more_skills": frozenset(["cut"]), "more_from": came}

    # five hours are 60 minutes a day: from Thursday on, until the Monday after
    assert minutes_of([ada], **more)[1] == [120, 300, 300]
    assert minutes_of([ada], **more, more_until=left)[1] == [120, 60, 0]


def test_somebody_more_with_the_right_skills_ends_it_sooner(campaign):
    all_skills = frozenset(["cut", "fold", "fit", "label", "return"])

    before = finish_of(campaign, MONDAY).middle
    helped = finish_of(campaign, MONDAY, Changes(more_hours=Decimal(10), more_skills=all_skills)).middle
    of_no_use = finish_of(
        campaign, MONDAY, Changes(more_hours=Decimal(10), more_skills=frozenset(["measure"]))
    ).middle

    # twice the hours, half the weeks: 2.45 instead of 4.9
    assert abs((helped - date(2027, 3, 17)).days) <= 3
    assert of_no_use == before


def test_pace_is_read_off_logged_minutes_and_remakes(campaign, ada):
    box = campaign.housings.first()
    done = timezone.make_aware(datetime(2027, 3, 1, 12))
    box.tasks.filter(step__in=["fetch", "cut"]).update(state="done", done_at=done, spent_minutes=Decimal(90))
    FitCheck.objects.create(
        housing=box, fits=False, lid_closes=True, nothing_touches=True, cause="cutting", remedy="remake",
        at=done,
    )  # fmt: skip

    pace = pace_of(campaign, [ada], MONDAY + timedelta(days=14))

    assert (pace.planned, pace.spent, pace.jobs) == (120, 180, 2)
    assert pace.worked_share == pytest.approx(180 / (2 * 600))  # of two weeks of ten hours
    assert (pace.remade, pace.finished) == (1, 1)


def test_work_nobody_can_do_has_no_end_and_the_page_says_so(campaign, viewer, ada):
    ada.skills = "cut; fold; fit"
    ada.save()

    page = page_of(viewer, campaign).content.decode()

    assert "It never ends as things stand" in page
    assert "Return to shelf" in page


def test_the_burn_up_counts_boxes_done_and_planned(campaign):
    box = campaign.housings.first()
    box.status = "housed"
    box.save()
    event = HousingEvent.objects.create(housing=box, status="housed")
    HousingEvent.objects.filter(pk=event.pk).update(at=timezone.make_aware(datetime(2027, 3, 3, 9)))
    box.tasks.update(state="done", done_at=timezone.now())
    make_tasks(make_housing(campaign=campaign, status="waiting"), "measure")
    today = MONDAY + timedelta(days=15)

    chart = burn_up(campaign, today, finish_of(campaign, today))

    assert (chart.total, chart.weeks[0], chart.unplanned) == (7, MONDAY, 1)
    assert chart.done[:4] == [1, 1, 1, None]
    # one box a week, of which that of week 2 is late and due with that of week 3
    assert chart.planned[:6] == [None, None, 3, 4, 5, 6]
    assert chart.middle[:2] == [None, None]
    assert chart.middle[-1] == 6  # the one that is still to be measured has no work that ends on its shelf


def test_what_is_expected_grows_evenly_over_working_days(campaign):
    chart = burn_up(campaign, MONDAY, replace(finish_of(campaign, MONDAY), found=Forecast(2, 3, 4, None)))

    # six boxes in 2, 3 and 4 weeks
    assert (chart.high[:4], chart.middle[:4], chart.low[:4]) == ([3, 6, 6, 6], [2, 4, 6, 6], [1.5, 3, 4.5, 6])


def test_the_picture_stays_in_its_frame_and_tells_itself_in_words():
    chart = BurnUp(
        [MONDAY + timedelta(days=7 * week) for week in range(4)], 10,
        [0.0, 4.0, None, None], [0.0, 3.0, 6.0, 10.0], [None, 4.0, 5.0, 7.0], [None, 4.0, 7.0, 10.0],
        [None, 4.0, 9.0, 10.0], MONDAY + timedelta(days=7),
    )  # fmt: skip

    svg = burnup_svg("Boxes", chart)

    assert "4 of 10 boxes are done by the week of 8 Mar 2027." in svg
    told = " ".join(part.split('"')[0] for part in svg.split('points="')[1:])
    numbers = [float(number) for number in told.replace(",", " ").split()]
    assert 0 <= min(numbers) <= max(numbers) <= 720


def test_the_page_shows_the_end_the_picture_and_its_table(campaign, viewer):
    answer = page_of(viewer, campaign)

    page = answer.content.decode()
    assert answer.status_code == 200
    assert "Most likely by" in page
    assert "burn-chart" in page
    assert "The same as a table" in page


def test_what_is_tried_stands_beside_what_is(campaign, viewer):
    page = page_of(viewer, campaign, days_lost=5).content.decode()

    assert "As tried" in page
    assert "days later." in page


@pytest.mark.parametrize(
    ("tried", "problem"),
    [
        ({"days_lost": "-1"}, "Days cannot be fewer than 0."),
        ({"days_lost": "a few"}, "Enter whole days, such as 1."),
        ({"more_hours": "100"}, "Nobody works more than 80 hours a week."),
        ({"more_hours": "5"}, "Tick at least one skill of whoever comes."),
        ({"more_from": "soon"}, "Enter a day such as 2026-05-31."),
        ({"lost_from": "2027-03-01"}, "A day is entered for it: enter how many too, or take the day out."),
        (
            {"more_hours": "5", "more_from": "2027-03-02", "more_until": "2027-03-01"},
            "The last day lies before the first.",
        ),
        ({"hours_until": "2027-03-01"}, "Enter whose hours are others until then"),
    ],
)
def test_what_cannot_be_tried_is_refused_beside_its_field(campaign, viewer, tried, problem):
    answer = page_of(viewer, campaign, **tried)

    assert answer.status_code == 400
    assert problem in answer.content.decode()


def test_a_campaign_without_work_is_done(viewer):
    page = page_of(viewer, make_campaign()).content.decode()

    assert "All work that is planned is done." in page


def test_many_boxes_ask_as_often_as_a_few(campaign, viewer, ada):
    def queries() -> int:
        with CaptureQueriesContext(connection) as captured:
            page_of(viewer, campaign)
        return len(captured)

    queries()
    few = queries()
    for week in range(6):
        make_tasks(make_housing(campaign=campaign), person=ada, week=week + 1)
    campaign.people.add(make_person(), make_person())

    assert queries() == few
