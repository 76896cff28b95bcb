"""The work list: one's own work, everybody's for managers, beginning and finishing a task."""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from decimal import Decimal

import pytest
from django.db import connection, transaction
from django.test.utils import CaptureQueriesContext
from django.utils import timezone
from hypothesis import given
from hypothesis import strategies as st

from housing.core.steps import STEPS, waits_for
from housing.models import Hold, Task
from housing.queries.tasks import waits
from tests.examples import few
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


def make_task(**given) -> Task:
    return Task.objects.create(
        **{"housing": given.get("housing") or make_housing(), "step": "cut", "sequence": 2,
           "planned_minutes": Decimal("12"), **given}
    )  # fmt: skip


@contextmanager
def rolled_back() -> Iterator[None]:
    """What is made inside is gone afterwards, so that examples do not see each other's records."""
    with transaction.atomic():
        yield
        transaction.set_rollback(True)


@pytest.fixture
def ada(client):
    """A maker who is signed in."""
    person = make_person(name="Ada", user=make_user("maker"))
    client.force_login(person.user)
    return person


def shown(client, query: str = "") -> list[Task]:
    return [row.record for row in client.get(f"/work/{query}").context["table"].paginated_rows]


def test_a_maker_sees_her_own_open_work(client, ada):
    mine = make_task(person=ada)
    make_task(person=make_person())
    make_task()

    assert shown(client) == [mine]


def test_a_manager_sees_everybodys_work_and_can_narrow_it(client):
    ada = make_person()
    tasks = [make_task(person=ada), make_task()]
    client.force_login(make_user("manager"))

    assert shown(client) == tasks
    assert shown(client, f"?person={ada.pk}") == tasks[:1]
    assert shown(client, "?person=null") == tasks[1:]


def test_a_task_is_begun_and_finished_with_its_minutes(client, ada):
    task = make_task(person=ada)

    client.post(f"/work/{task.pk}/start/")
    client.post(f"/work/{task.pk}/done/", {"minutes": "25"})

    task.refresh_from_db()
    assert (task.state, task.spent_minutes, task.person) == ("done", 25, ada)


def test_what_is_done_leaves_the_open_work(client, ada):
    task = make_task(person=ada)
    client.post(f"/work/{task.pk}/done/")

    assert shown(client) == []
    assert shown(client, "?state=done") == [task]


def test_the_list_asks_as_often_for_three_tasks_as_for_one(client, ada):
    counts = []
    for _ in range(3):
        box = make_housing(campaign=make_campaign())
        make_tasks(box, "score", "glue", person=ada)
        make_sheet(box)
        with CaptureQueriesContext(connection) as made:
            client.get("/work/")
        counts.append(len(made))

    assert counts[0] == counts[1] == counts[2]


def test_a_task_tells_what_it_waits_for_and_who_has_that(client, ada):
    box = make_housing()
    make_tasks(box, "score", person=make_person(name="Bo"))
    glue, lid = make_tasks(box, "glue", "lid", person=ada)
    make_tasks(box, "fit", person=ada)

    rows = client.get("/work/").context["table"].rows

    assert {row.record.step: row.get_cell("waits_for") for row in rows} == {
        "glue": "mark out and score, by Bo",
        "lid": "mark out and score, by Bo",
        "fit": "fold and glue, by Ada<br>make the lid, by Ada",
    }
    Task.objects.filter(step="score").update(state="done", done_at=timezone.now())
    assert shown(client, "?begin=now") == [glue, lid]
    assert [task.step for task in shown(client, "?begin=waits")] == ["fit"]


@few(25)
@given(st.dictionaries(st.sampled_from(STEPS), st.sampled_from(["to_do", "started", "done"]), min_size=1))
def test_what_can_be_begun_is_what_waits_for_no_open_step(steps):
    with rolled_back():
        box = make_housing()
        for step, state in steps.items():
            make_tasks(box, step, state=state, done_at=timezone.now() if state == "done" else None)

        found = set(Task.objects.filter(waits(False)).values_list("step", flat=True))

        # told step by step in Python, where the filter asks the database
        assert found == {
            step for step in steps if all(steps[before] == "done" for before in waits_for(step, steps))
        }


def test_a_question_keeps_the_tasks_of_its_box_waiting(client, ada):
    task = make_task(person=ada)
    Hold.objects.create(
        housing=task.housing, reason="conservator", question="May it lie flat?", asked_at=timezone.now()
    )

    (row,) = client.get("/work/").context["table"].rows

    assert row.get_cell("waits_for") == "for a conservator: May it lie flat?"
    assert shown(client, "?begin=now") == []


def test_the_list_is_narrowed_to_a_sheet_and_to_a_place(client, ada):
    room = make_location("Room 1")
    shelf = make_location("Shelf 1", parent=room)
    campaign = make_campaign()
    boxes = [make_housing(make_object(location=place), campaign=campaign) for place in (shelf, room, None)]
    tasks = [make_tasks(box, "cut", person=ada)[0] for box in boxes]
    for box in boxes[:2]:
        make_sheet(box)

    assert shown(client, "?sheet=2") == [tasks[1]]
    assert shown(client, f"?location={room.pk}") == tasks[:2]
    assert shown(client, f"?location={shelf.pk}") == tasks[:1]


def test_a_week_is_named_with_its_days_where_it_has_a_date(client, ada):
    dated = make_housing(campaign=make_campaign(work_from=date(2026, 12, 9)))
    make_tasks(dated, "cut", person=ada, week=2)
    make_task(person=ada, week=3)

    cells = [row.get_cell("week") for row in client.get("/work/").context["table"].rows]

    # ISO 8601: the week of Wednesday 9 December 2026 begins on the 7th
    assert cells == ['2 <span class="soft">14 to 18 Dec 2026</span>', "3"]


# ---- Refused ---------------------------------------------------------------------------------------------


def test_work_somebody_else_has_begun_is_not_taken_over(client, ada):
    other = make_person(name="Bo")
    task = make_task(person=other, state="started")

    answer = client.post(f"/work/{task.pk}/start/", follow=True)

    assert "Bo has begun" in str(list(answer.context["messages"])[0])
    task.refresh_from_db()
    assert task.person == other


@pytest.mark.parametrize("minutes", ["-1", "2000", "long"])
def test_minutes_that_cannot_be_leave_the_task_open(client, ada, minutes):
    task = make_task(person=ada)

    answer = client.post(f"/work/{task.pk}/done/", {"minutes": minutes}, follow=True)

    assert "is not finished" in str(list(answer.context["messages"])[0])
    task.refresh_from_db()
    assert task.state == "to_do"


def test_a_login_of_nobody_is_told_so(client):
    client.force_login(make_user("viewer"))
    make_task()

    assert "Your login belongs to no person yet" in client.get("/work/").content.decode()


def test_a_viewer_begins_no_task(client):
    client.force_login(make_user("viewer"))

    assert client.post(f"/work/{make_task().pk}/start/").status_code == 403


def test_the_way_back_never_leads_to_another_site(client, ada):
    task = make_task(person=ada)

    answer = client.post(f"/work/{task.pk}/start/", {"next": "https://elsewhere.example/"})

    assert answer.url == "/work/"


def test_who_is_not_signed_in_is_asked_to(client):
    assert client.get("/work/").status_code == 302


def test_a_task_that_is_not_there_is_missing(client, ada):
    assert client.post("/work/999/start/").status_code == 404
