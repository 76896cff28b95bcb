"""What a person finds at the bench on a day."""

from datetime import date, timedelta
from decimal import Decimal
from uuid import uuid4

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from housing.models import FitCheck, Hold, Task, WorkSpell
from housing.queries.bench import SHOWN_BOXES, bench_day
from housing.queries.bench_boxes import box_at_bench, boxes_of_sheet
from housing.services.bench_entries import Ask, record
from housing.services.sheets import cut_sheet, issue_sheet
from objects.core.cautions import cautions_for
from tests.factories import (
    make_campaign,
    make_housing,
    make_location,
    make_object,
    make_person,
    make_sheet,
    make_tasks,
    make_user,
)

pytestmark = pytest.mark.django_db
MONDAY = date(2027, 3, 1)
FRIDAY = MONDAY + timedelta(days=4)


@pytest.fixture
def ada():
    return make_person(name="Ada")


@pytest.fixture
def campaign():
    return make_campaign(work_from=MONDAY)


def make_box(campaign, ada, week=1, thing=None):
    box = make_housing(*([thing] if thing else []), campaign=campaign)
    make_tasks(box, person=ada, week=week)
    return box


def test_the_first_sheet_to_take_comes_with_its_boxes_and_its_stock(campaign, ada):
    boxes = [make_box(campaign, ada), make_box(campaign, ada)]
    sheet = make_sheet(*boxes, person=ada, stock=3)

    (due,) = bench_day(ada, FRIDAY).sheets

    assert (due.sheet, due.boxes, due.in_stock, due.is_issued) == (sheet, 2, 3, False)
    assert due.minutes == 40  # fetching and cutting two boxes, 10 minutes each


def test_a_sheet_taken_already_comes_before_all_others(campaign, ada):
    first, second = (make_sheet(make_box(campaign, ada), person=ada) for _ in range(2))
    issue_sheet(sheet=second)

    assert [due.sheet for due in bench_day(ada, FRIDAY).sheets] == [second, first]


def test_without_board_the_sheet_says_so(campaign, ada):
    make_sheet(make_box(campaign, ada), person=ada, stock=0)

    (due,) = bench_day(ada, FRIDAY).sheets

    assert due.lacks_board


def test_what_waits_for_others_says_for_whom(campaign, ada):
    box = make_box(campaign, ada)
    box.tasks.exclude(step="glue").update(person=make_person(name="Bea"))

    day = bench_day(ada, FRIDAY)

    (waiting,) = day.waiting
    assert waiting.next.waits == ("mark out and score, by Bea",)
    assert day.boxes == []


def test_boxes_of_a_cut_sheet_can_be_gone_on_with(campaign, ada):
    box = make_box(campaign, ada)
    cut_sheet(sheet=make_sheet(box, person=ada))

    (due,) = bench_day(ada, FRIDAY).boxes

    assert (due.housing, due.next.task.step, due.can_begin) == (box, "score", True)


def test_returning_is_listed_by_place(campaign, ada):
    shelf = make_location("Shelf 9")
    box = make_box(campaign, ada, thing=make_object(location=shelf))
    box.tasks.exclude(step="return").update(state="done", done_at=timezone.now())

    ((place, (due,)),) = bench_day(ada, FRIDAY).places

    assert (place, due.task.step) == ("Shelf 9", "return")


def test_only_what_is_due_by_now_is_shown_and_late_work_is_marked(campaign, ada):
    late, later = make_box(campaign, ada, week=1), make_box(campaign, ada, week=3)
    for box in (late, later):
        box.tasks.filter(step__in=["fetch", "cut"]).update(state="done", done_at=timezone.now())

    (due,) = bench_day(ada, FRIDAY + timedelta(days=7)).boxes

    assert (due.housing, due.next.is_late) == (late, True)


def test_with_nothing_due_the_next_week_is_shown(campaign, ada):
    box = make_box(campaign, ada, week=5)
    box.tasks.filter(step__in=["fetch", "cut"]).update(state="done", done_at=timezone.now())

    day = bench_day(ada, FRIDAY)

    assert (day.ahead, [due.housing for due in day.boxes]) == (True, [box])


def test_whoever_has_no_work_finds_an_empty_day(ada):
    day = bench_day(ada, FRIDAY)

    assert day.is_empty
    assert day.running is None


def test_the_clock_that_runs_and_what_was_done_today(campaign, ada):
    box, user = make_box(campaign, ada), make_user("maker")
    cut_sheet(sheet=make_sheet(box, person=ada))
    score, glue = box.tasks.get(step="score"), box.tasks.get(step="glue")
    now = timezone.now()
    for what, task, minutes in (("done", score, Decimal(12)), ("start", glue, None)):
        ask = Ask(what, user, now, person=ada, task=task, minutes=minutes)
        record(entry_id=uuid4(), ask=ask)

    day = bench_day(ada, timezone.localdate())

    assert (day.running.what, day.running.is_sheet) == (glue, False)
    assert ([entry.task for entry in day.done], day.minutes_done) == ([score], 12)


def test_a_question_makes_sheet_and_box_wait(campaign, ada):
    box = make_box(campaign, ada)
    make_sheet(box, person=ada)
    Hold.objects.create(housing=box, question="Is this mould?", asked_at=timezone.now())

    day = bench_day(ada, FRIDAY)

    assert day.sheets[0].holds == (f"{box} waits for a conservator: Is this mould?",)
    assert day.waiting[0].next.waits[0] == "for a conservator: Is this mould?"


def test_a_box_shows_its_steps_in_order_and_the_next_one(campaign, ada):
    box = make_box(campaign, ada)
    cut_sheet(sheet=make_sheet(box, person=ada))
    bea = make_person(name="Bea")
    Task.objects.filter(housing=box, step="label").update(person=bea)

    shown = box_at_bench(box, FRIDAY)

    assert [due.task.step for due in shown.tasks] == [
        "fetch", "cut", "score", "glue", "lid", "fit", "label", "return"
    ]  # fmt: skip
    assert shown.next.task.step == "score"
    assert shown.next_for(bea).task.step == "label"


def test_a_day_of_many_boxes_asks_as_often_as_one_of_a_few(campaign, ada):
    def queries() -> int:
        with CaptureQueriesContext(
            connection,
        ) as captured:
            day = bench_day(ada, FRIDAY)
            [str(due.task) for box in [*day.boxes, *day.waiting] for due in box.tasks]
        return len(captured)

    make_sheet(make_box(campaign, ada), person=ada)
    few = queries()
    for _ in range(4):
        make_sheet(make_box(campaign, ada), make_box(campaign, ada), person=ada)

    assert queries() == few


def test_the_boxes_of_a_sheet_come_in_the_order_of_their_numbers(campaign, ada):
    boxes = [make_box(campaign, ada) for _ in range(3)]

    assert boxes_of_sheet(make_sheet(*boxes)) == boxes


def test_what_waits_only_for_ones_own_sheet_is_shown_with_the_sheet(campaign, ada):
    make_sheet(make_box(campaign, ada), person=ada)

    day = bench_day(ada, FRIDAY)

    assert (len(day.sheets), day.boxes, day.waiting) == (1, [], [])


def test_what_was_begun_is_shown_whatever_its_week(campaign, ada):
    make_tasks(make_housing(campaign=campaign), "glue", person=ada, week=1)
    (begun,) = make_tasks(make_housing(campaign=campaign), "glue", person=ada, week=7, state="started")

    assert begun in [due.next.task for due in bench_day(ada, FRIDAY).boxes]


def test_the_next_work_is_that_of_the_campaign_whose_week_comes_first(ada):
    # Mondays by any calendar of 2027: week 3 from 1 March is 15 March, week 2 from 15 March is 22 March
    for start, week in ((MONDAY, 3), (MONDAY + timedelta(days=14), 2)):
        make_tasks(make_housing(campaign=make_campaign(work_from=start)), "glue", person=ada, week=week)

    (due,) = bench_day(ada, FRIDAY).boxes

    assert due.next.week == 3


def test_more_boxes_than_a_page_holds_are_counted(campaign, ada):
    for _ in range(SHOWN_BOXES + 2):
        make_tasks(make_housing(campaign=campaign), "glue", "lid", person=ada)

    day = bench_day(ada, FRIDAY)

    assert (len(day.boxes), day.more) == (SHOWN_BOXES, 2)


def test_a_box_tells_what_is_in_it_and_what_to_mind(campaign, ada):
    thing = make_object(hazards="arsenic", weight_g=800)
    box = make_box(campaign, ada, thing=thing)
    sheet = make_sheet(box, person=ada)
    checks = [
        FitCheck.objects.create(
            housing=box, fits=True, lid_closes=True, nothing_touches=True, at=timezone.now(), is_void=is_void
        )
        for is_void in (False, True)
    ]
    WorkSpell.objects.create(task=box.tasks.get(step="score"), person=ada, started_at=timezone.now())

    shown = box_at_bench(box, FRIDAY)

    assert (shown.contents, shown.sheets, shown.fit_checks) == ([thing], [sheet], checks[:1])
    assert [spell.person for spell in shown.running] == [ada]
    assert shown.hazards == ["Arsenic"]
    assert shown.cautions == cautions_for(["arsenic"])
    assert "grammage" in shown.handling.sentences[0]  # nobody has told what the board weighs
