"""The work list: one's own work, everybody's for managers, beginning and finishing a task."""

from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from housing.models import Task
from tests.factories import make_housing, make_person, make_user

pytestmark = pytest.mark.django_db


def make_task(**given) -> Task:
    return Task.objects.create(
        **{"housing": given.get("housing") or make_housing(), "step": "cut", "sequence": 2,
           "planned_minutes": Decimal("12"), **given}
    )  # fmt: skip


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
        make_task(person=ada)
        with CaptureQueriesContext(connection) as made:
            client.get("/work/")
        counts.append(len(made))

    assert counts[0] == counts[1] == counts[2]


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
