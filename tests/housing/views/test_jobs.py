"""The page of a job: how far it is, and the buttons that stop it."""

import pytest
from playwright.sync_api import Page, expect

from housing.models import Job
from tests.factories import make_campaign, make_user

BEST, CANCEL = "Take the best plan so far", ">Cancel</button>"
PARTIAL = {"HX-Request": "true"}


def make_job(**given) -> Job:
    return Job.objects.create(**{"kind": "plan", "title": "Plan “Attic”", "state": "running", **given})


def text_of(client, job: Job, **asked) -> str:
    answer = client.get(f"/jobs/{job.pk}/", **asked)
    assert answer.status_code == 200
    return answer.content.decode()


def test_the_best_plan_so_far_is_taken(manager):
    job = make_job()

    answer = manager.post(f"/jobs/{job.pk}/finish/", follow=True)

    job.refresh_from_db()
    assert (job.state, job.wish) == ("running", "finish")
    assert answer.redirect_chain == [(f"/jobs/{job.pk}/", 302)]
    assert "the best plan found so far is taken" in answer.text and BEST not in answer.text


def test_a_running_job_is_cancelled(manager):
    job = make_job()

    answer = manager.post(f"/jobs/{job.pk}/cancel/", {"confirmed": "yes"}, follow=True)

    job.refresh_from_db()
    assert (job.state, job.wish) == ("running", "cancel")
    assert "It is being cancelled" in answer.text and CANCEL not in answer.text


def test_a_waiting_job_is_cancelled_at_once(manager):
    job = make_job(state="waiting")

    answer = manager.post(f"/jobs/{job.pk}/cancel/", {"confirmed": "yes"}, follow=True)

    assert "It was cancelled; nothing was changed." in answer.text
    assert 'class="tag tag-cancelled">Cancelled<' in answer.text
    assert 'hx-get="/jobs/' not in answer.text


@pytest.mark.parametrize("action", ["finish", "cancel"])
def test_a_job_that_is_over_is_not_stopped_and_the_page_says_why(manager, action):
    job = make_job(state="done")

    answer = manager.post(f"/jobs/{job.pk}/{action}/", follow=True)

    assert [str(message) for message in answer.context["messages"]] == [
        "This work is over already (done); nothing is left to stop."
    ]


def test_whoever_started_a_job_may_cancel_it(db, client):
    user = make_user("surveyor")
    client.force_login(user)
    job = make_job(kind="import", by=user)
    assert CANCEL in text_of(client, job)

    client.post(f"/jobs/{job.pk}/cancel/", {"confirmed": "yes"})

    job.refresh_from_db()
    assert job.wish == "cancel"


@pytest.mark.parametrize("action", ["finish", "cancel"])
@pytest.mark.parametrize("role", ["viewer", "surveyor", "maker", ""])
def test_only_a_manager_stops_jobs(db, client, role, action):
    client.force_login(make_user(role))
    job = make_job()

    assert client.post(f"/jobs/{job.pk}/{action}/").status_code == 403

    job.refresh_from_db()
    assert job.wish == ""


@pytest.mark.parametrize("action", ["finish", "cancel"])
def test_whoever_is_not_signed_in_is_asked_to(db, client, action):
    job = make_job()

    assert client.post(f"/jobs/{job.pk}/{action}/").url.startswith("/accounts/login/")


@pytest.mark.parametrize("action", ["finish", "cancel"])
def test_stopping_is_no_link(manager, action):
    assert manager.get(f"/jobs/{make_job().pk}/{action}/").status_code == 405


@pytest.mark.parametrize("action", ["finish", "cancel"])
def test_a_job_that_is_not_there_is_not_found(manager, action):
    assert manager.post(f"/jobs/404/{action}/").status_code == 404


@pytest.mark.parametrize(
    ("given", "best", "cancel"),
    [
        ({}, True, True),
        ({"state": "waiting"}, False, True),  # there is no plan yet
        ({"kind": "print"}, False, True),  # half a print is of no use
        ({"wish": "finish"}, False, True),
        ({"wish": "cancel"}, False, False),
        ({"state": "done"}, False, False),
        ({"state": "cancelled"}, False, False),
    ],
)
def test_a_button_is_there_while_it_can_be_pressed(manager, given, best, cancel):
    text = text_of(manager, make_job(**given))

    assert (BEST in text, CANCEL in text) == (best, cancel)


def test_a_viewer_sees_how_it_stands_but_no_buttons(db, client):
    client.force_login(make_user("viewer"))
    job = make_job(standing={"cost": "1234.50 USD", "above_least": "2.1 %"})

    text = text_of(client, job)

    assert "<dt>Cost</dt><dd>1234.50 USD</dd>" in text
    assert "<dt>Above least</dt><dd>2.1 %</dd>" in text
    assert BEST not in text and CANCEL not in text


def test_the_page_fetches_its_progress_alone_while_the_buttons_stay_the_same(manager):
    job = make_job(percent=40)

    answer = manager.get(f"/jobs/{job.pk}/", {"phase": "running"}, headers=PARTIAL)

    assert "40%" in answer.text and f'hx-get="/jobs/{job.pk}/"' in answer.text
    assert BEST not in answer.text
    assert "HX-Retarget" not in answer.headers


@pytest.mark.parametrize("given", [{"state": "done"}, {"wish": "cancel"}])
def test_the_page_fetches_the_buttons_too_when_they_change(manager, given):
    job = make_job(**given)

    answer = manager.get(f"/jobs/{job.pk}/", {"phase": "running"}, headers=PARTIAL)

    assert answer.headers["HX-Retarget"] == "#job"
    assert 'id="job"' in answer.text and "<html" not in answer.text


def test_the_keyboard_stays_on_the_button_while_the_page_refreshes_and_when_the_job_is_over(
    page: Page, live_server, transactional_db
):
    make_user("manager", username="manager", password="bone folder")
    campaign = make_campaign()
    job = make_job(parameters={"campaign": campaign.pk})
    page.goto(f"{live_server.url}/jobs/{job.pk}/")
    page.get_by_label("Username").fill("manager")
    page.get_by_label("Password").fill("bone folder")
    page.get_by_role("button", name="Sign in").click()
    best = page.get_by_role("button", name=BEST)
    best.focus()

    Job.objects.update(standing={"sheets": 112})
    expect(page.get_by_role("main")).to_contain_text("112")
    expect(best).to_be_focused()
    Job.objects.update(state="done", message="112 sheets are planned.", result_url="/campaigns/")

    expect(page.get_by_role("link", name="Show what was made")).to_be_focused()


def test_a_planning_is_cancelled_without_script(browser, live_server, transactional_db):
    make_user("manager", username="manager", password="bone folder")
    job = make_job()
    page = browser.new_page(java_script_enabled=False)
    page.goto(f"{live_server.url}/jobs/{job.pk}/")
    page.get_by_label("Username").fill("manager")
    page.get_by_label("Password").fill("bone folder")
    page.get_by_role("button", name="Sign in").click()

    page.get_by_role("button", name="Cancel").click()
    page.get_by_role("button", name="Cancel the work").click()

    expect(page.get_by_role("main")).to_contain_text("It is being cancelled")
    page.close()
