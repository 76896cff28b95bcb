"""Work by person and week: picture, table, bundles, moving by hand, giving out again, and refusals."""

from datetime import date, timedelta
from decimal import Decimal
from xml.etree import ElementTree

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from housing.core.weeks import monday_of
from housing.models import Absence, Campaign, Job, Person, Task
from tests.factories import (
    make_campaign,
    make_housing,
    make_location,
    make_object,
    make_person,
    make_sheet,
    make_tasks,
)

pytestmark = pytest.mark.django_db
SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture
def campaign(db) -> Campaign:
    """A campaign whose week 1 is the next week, so that all its hours are still there."""
    return make_campaign(work_from=monday_of(timezone.localdate()) + timedelta(weeks=1))


@pytest.fixture
def ada(campaign) -> Person:
    return take_part(campaign, name="Ada")


def take_part(campaign: Campaign, **given) -> Person:
    person = make_person(**given)
    campaign.people.add(person)
    return person


def give(campaign: Campaign, person: Person | None, *steps: str, week: int = 1, minutes: int = 60, **given):
    """A box of the campaign with tasks of a person in a week, so many minutes each."""
    box = make_housing(make_object(location=given.pop("location", None)), campaign=campaign)
    return make_tasks(
        box, *(steps or ("glue",)), person=person, week=week, planned_minutes=Decimal(minutes), **given
    )


def address(campaign: Campaign, page: str = "tasks") -> str:
    return reverse(f"housing:campaign-{page}", args=[campaign.pk])


def told(answer) -> list[str]:
    return [str(message) for message in answer.context["messages"]]


# ---- The table and the picture ---------------------------------------------------------------------------


def test_hours_to_do_stand_beside_the_hours_there_are(manager, campaign, ada):
    give(campaign, ada, "score", "glue", week=1, minutes=300)
    give(campaign, ada, week=2, minutes=1500)
    days_off = campaign.work_from + timedelta(days=8)  # the Tuesday of week 2
    Absence.objects.create(person=ada, first_day=days_off, last_day=days_off)

    (row,) = manager.get(address(campaign)).context["work"].rows

    # 2 x 300 min are 10 h of 20; 1500 min are 25 h, of which 20 - 20 / 5 = 16 are there
    assert [(cell.hours, cell.hours_there, cell.bar.words) for cell in row.cells] == [
        (10, 20, "10.0 idle"),
        (25, 16, "9.0 too much"),
    ]
    assert [(cell.boxes, cell.kinds) for cell in row.cells] == [
        (1, "mark out and score 1, fold and glue 1"),
        (1, "fold and glue 1"),
    ]


def test_the_table_adds_up_to_the_picture_and_to_the_tasks(manager, campaign, ada):
    bo = take_part(campaign, name="Bo", hours_per_week=5)
    for week, person in ((1, ada), (1, bo), (2, ada), (2, ada)):
        give(campaign, person, week=week, minutes=90)

    shown = manager.get(address(campaign)).context

    by_week = [sum(row.cells[place].minutes for row in shown["work"].rows) for place in range(2)]
    assert [cell.minutes for cell in shown["work"].sums] == by_week == [180, 180]
    in_all = sum(task.planned_minutes for task in Task.objects.all())
    assert sum(row.hours for row in shown["work"].rows) * 60 == in_all
    bars = [
        float(rect.get("width"))
        for cell in ElementTree.fromstring(shown["svg"]).iter(f"{SVG}a")
        for rect in cell.findall(f"{SVG}rect")
        if rect.get("class") == "week-to-do"
    ]
    # 1.5 h each but 3 h of Ada in week 2; all bars are on one scale
    assert [round(bar / min(bars), 2) for bar in bars] == [1, 2, 1]


def test_the_weeks_have_the_dates_of_the_calendar(manager, campaign, ada):
    Campaign.objects.update(work_from=date(2026, 12, 23))
    give(campaign, ada, week=2)

    heads = manager.get(address(campaign), {"first": 1}).context["heads"]

    # ISO 8601: week 52 of 2026 begins on Monday 21 December, week 53 on the 28th
    assert date.fromisocalendar(2026, 52, 1) == date(2026, 12, 21)
    assert [words for _, words in heads] == [
        "Week 1, 21 to 25 Dec 2026", "Week 2, 28 Dec 2026 to 1 Jan 2027",
    ]  # fmt: skip


def test_long_campaigns_are_shown_eight_weeks_at_a_time(manager, campaign, ada):
    give(campaign, ada, week=1)
    give(campaign, ada, week=60)

    first, middle, last = (
        manager.get(address(campaign), {"first": week}).context["window"] for week in (1, 9, 57)
    )

    assert (list(first.numbers), first.earlier, first.later) == ([1, 2, 3, 4, 5, 6, 7, 8], None, 9)
    assert (middle.earlier, middle.later) == (1, 17)
    assert (list(last.numbers), last.earlier, last.later) == ([57, 58, 59, 60], 49, None)


def test_the_page_opens_at_this_week_and_tells_what_is_left_over(manager, campaign, ada):
    Campaign.objects.update(work_from=monday_of(timezone.localdate()) - timedelta(weeks=2))
    give(campaign, ada, "score", "glue", week=1)
    give(campaign, ada, week=5)

    shown = manager.get(address(campaign)).context

    assert (shown["window"].first, shown["left_over"]) == (3, {"number": 2, "first": 1})


def test_weeks_without_dates_have_the_usual_hours(manager, campaign, ada):
    Campaign.objects.update(work_from=None)
    give(campaign, ada)

    page = manager.get(address(campaign))

    assert page.context["work"].rows[0].cells[0].hours_there == 20
    assert "The weeks have no dates yet" in page.content.decode()


def test_work_nobody_has_is_told_with_its_reason(manager, campaign):
    give(campaign, None, reason="Nobody has the skill “fold”.")

    (row,) = manager.get(address(campaign)).context["unassigned"]

    assert (row["number"], row["hours"], row["reason"]) == (1, 1, "Nobody has the skill “fold”.")


def test_the_page_asks_as_often_for_three_people_as_for_one(manager, campaign):
    counts = []
    for number in range(3):
        person = take_part(campaign)
        box = make_housing(make_object(location=make_location()), campaign=campaign)
        make_tasks(box, person=person, reason=f"Because {number}")
        make_sheet(box)
        Absence.objects.create(person=person, first_day="2026-12-01", last_day="2026-12-01")
        with CaptureQueriesContext(connection) as made:
            manager.get(address(campaign))
        counts.append(len(made))

    assert counts[0] == counts[1] == counts[2]


# ---- Bundles ---------------------------------------------------------------------------------------------


def test_work_is_bundled_by_sheet_and_by_place(manager, campaign, ada):
    shelf = make_location("Shelf A")
    boxes = [make_housing(make_object(location=shelf), campaign=campaign) for _ in range(2)]
    for box in boxes:
        make_tasks(box, "fetch", "cut", "score", "glue", person=ada, reason="Ada has the fewest hours to do.")
    make_sheet(*boxes)
    give(campaign, ada)

    (lane,) = manager.get(address(campaign)).context["lanes"]

    assert [(bundle.name, bundle.boxes, bundle.steps, bundle.minutes) for bundle in lane.bundles] == [
        ("Sheet 1", 2, "fetch board and cut", 40),
        ("No location", 1, "fold and glue", 60),
        ("Shelf A", 2, "mark out and score and fold and glue", 40),
    ]
    assert lane.bundles[0].reasons == ["Ada has the fewest hours to do."]


def test_a_bundle_tells_what_it_waits_for_and_who_has_that(manager, campaign, ada):
    bo = take_part(campaign, name="Bo")
    score, _ = give(campaign, bo, "score", "glue")
    Task.objects.filter(step="glue").update(person=ada)

    of_ada, of_bo = manager.get(address(campaign)).context["lanes"]
    assert of_ada.bundles[0].waiting == "mark out and score, Bo, week 1"
    assert of_bo.bundles[0].waiting == ""

    Task.objects.filter(pk=score.pk).update(state="done", done_at=timezone.now())
    of_ada, _ = manager.get(address(campaign)).context["lanes"]
    assert of_ada.bundles[0].waiting == ""
    assert "Can be begun now" in manager.get(address(campaign)).content.decode()


# ---- Refused ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("sent", "words"),
    [
        ({"to": "nobody"}, "Nothing is ticked."),
        ({"task": "1"}, "Choose who is to do it."),
        ({"to": "999", "task": "1"}, "This person does not take part."),
        ({"to": "nobody", "task": "999"}, "Some of what was ticked is done"),
        ({"to": "nobody", "bundle": "1,x"}, "Some of what was ticked is done"),
        ({"to": "nobody", "sheet": "999"}, "Some of what was ticked is done"),
    ],
)
def test_what_cannot_be_moved_stays_and_a_sentence_says_why(manager, campaign, ada, sent, words):
    (task,) = give(campaign, ada)
    sent = {key: str(task.pk) if value == "1" else value for key, value in sent.items()}

    answer = manager.post(address(campaign, "move"), {**sent, "first": "1", "week": "1"}, follow=True)

    assert told(answer)[0].startswith(words)
    task.refresh_from_db()
    assert (task.person, task.is_fixed) == (ada, False)


def test_tasks_of_another_campaign_are_not_moved(manager, campaign, ada):
    (task,) = give(make_campaign(), ada)

    answer = manager.post(address(campaign, "move"), {"to": str(ada.pk), "task": task.pk}, follow=True)

    assert told(answer)[0].startswith("Some of what was ticked is done")


def test_nothing_moves_while_the_campaign_is_closed_or_being_planned(manager, campaign, ada):
    (task,) = give(campaign, ada)
    sent = {"to": "nobody", "task": task.pk}

    Job.objects.create(kind="plan", title="Plan", parameters={"campaign": campaign.pk})
    planning = told(manager.post(address(campaign, "move"), sent, follow=True))
    Job.objects.all().delete()
    Campaign.objects.update(is_closed=True)
    closed = told(manager.post(address(campaign, "move"), sent, follow=True))
    again = told(manager.post(address(campaign, "give-out"), follow=True))

    assert "is being planned" in planning[0]
    assert "is closed" in closed[0]
    assert "is closed" in again[0]
    task.refresh_from_db()
    assert task.person == ada


def test_only_managers_move_work_and_give_it_out(maker, campaign, ada):
    give(campaign, ada)

    assert maker.get(address(campaign)).status_code == 200
    assert maker.post(address(campaign, "move"), {"to": "nobody"}).status_code == 403
    assert maker.post(address(campaign, "give-out")).status_code == 403


def test_weeks_that_cannot_be_are_shown_as_the_nearest_there_are(manager, campaign, ada):
    give(campaign, ada, week=3)

    windows = [
        manager.get(address(campaign), {"first": first, "week": "x"}).context["window"]
        for first in ("0", "99", "many")
    ]

    assert [list(window.numbers) for window in windows] == [[1, 2, 3], [3], [1, 2, 3]]


def test_who_is_not_signed_in_is_asked_to(client, campaign):
    assert client.get(address(campaign)).status_code == 302


def test_a_campaign_that_is_not_there_is_missing(manager):
    assert manager.get("/campaigns/999/tasks/").status_code == 404
    assert manager.post("/campaigns/999/tasks/move/").status_code == 404
