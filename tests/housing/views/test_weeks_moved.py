"""Work moved by hand: ticked and sent, dragged in a real browser, left to the planner again, and refused."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.urls import reverse
from django.utils import timezone
from playwright.sync_api import Page, expect

from housing.core.weeks import monday_of
from housing.models import Campaign, Task
from tests.factories import (
    make_campaign,
    make_housing,
    make_object,
    make_person,
    make_sheet,
    make_tasks,
    make_user,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def campaign(db) -> Campaign:
    """A campaign of Ada and Bo, two boxes on one sheet, all given to Ada in week 1, which is the next."""
    campaign = make_campaign(work_from=monday_of(timezone.localdate()) + timedelta(weeks=1))
    ada, bo = (make_person(name=name, hours_per_week=Decimal(40)) for name in ("Ada", "Bo"))
    campaign.people.add(ada, bo)
    boxes = [make_housing(make_object(), campaign=campaign) for _ in range(2)]
    for box in boxes:
        make_tasks(box, "fetch", "cut", "score", "fit", person=ada)
    make_sheet(*boxes)
    return campaign


def person_of(campaign: Campaign, name: str) -> str:
    return str(campaign.people.get(name=name).pk)


def send(client, campaign: Campaign, **sent) -> list[str]:
    """What the page says once the form was sent."""
    address = reverse("housing:campaign-move", args=[campaign.pk])
    answer = client.post(address, {"first": "1", "week": "1", **sent}, follow=True)
    assert answer.redirect_chain[0][0] == f"/campaigns/{campaign.pk}/tasks/?first=1&week=1#week"
    return [str(message) for message in answer.context["messages"]]


def who_has(*steps: str) -> list[tuple[str, str, bool]]:
    rows = Task.objects.filter(step__in=steps).order_by("housing", "sequence")
    return [(task.step, task.person.name, task.is_fixed) for task in rows.select_related("person")]


def test_tasks_that_are_ticked_go_to_the_person_and_stay_there(manager, campaign):
    fit = Task.objects.filter(step="fit").order_by("pk")
    keys = ",".join(str(task.pk) for task in fit)

    (told,) = send(manager, campaign, to=person_of(campaign, "Bo"), bundle=keys)

    assert who_has("fit") == [("fit", "Bo", True)] * 2
    assert "moved to somebody else" in told
    assert "All ends in week" in told

    manager.post(reverse("housing:campaign-give-out", args=[campaign.pk]))
    assert who_has("fit") == [("fit", "Bo", True)] * 2


def test_a_sheet_goes_to_one_person_with_all_that_is_cut_from_it(manager, campaign):
    sheet = campaign.plan.sheets.get()

    send(manager, campaign, to=person_of(campaign, "Bo"), sheet=str(sheet.pk))

    assert who_has("fetch", "cut") == [("fetch", "Bo", True), ("cut", "Bo", True)] * 2
    sheet.refresh_from_db()
    assert sheet.person.name == "Bo"


def test_what_was_given_by_hand_is_left_to_the_planner_again(manager, campaign):
    key = str(Task.objects.filter(step="fit").first().pk)
    send(manager, campaign, to=person_of(campaign, "Bo"), task=key)

    send(manager, campaign, action="release", task=key)

    assert not Task.objects.filter(is_fixed=True).exists()


def test_work_is_given_out_again_and_told(manager, campaign):
    address = reverse("housing:campaign-give-out", args=[campaign.pk])

    answer = manager.post(address, follow=True)

    assert answer.redirect_chain == [(f"/campaigns/{campaign.pk}/tasks/", 302)]
    (told,) = (str(message) for message in answer.context["messages"])
    assert "All ends in week" in told


def test_a_person_who_cannot_do_it_is_refused_and_nothing_moves(manager, campaign):
    campaign.people.filter(name="Bo").update(skills="measure")
    key = str(Task.objects.filter(step="fit").first().pk)

    (told,) = send(manager, campaign, to=person_of(campaign, "Bo"), task=key)

    assert told.startswith("Nothing was moved.")
    assert who_has("fit") == [("fit", "Ada", False)] * 2


def test_a_bundle_is_dragged_onto_another_person(page: Page, live_server, transactional_db, campaign):
    make_user("manager", username="manager", password="bone folder")
    errors: list[str] = []
    page.on("console", lambda said: errors.append(said.text) if said.type == "error" else None)
    page.goto(f"{live_server.url}/campaigns/{campaign.pk}/tasks/")
    page.get_by_label("Username").fill("manager")
    page.get_by_label("Password").fill("bone folder")
    page.get_by_role("button", name="Sign in").click()
    lane = page.locator("[data-lane]", has=page.get_by_role("heading", name="Bo", exact=True))

    handle = page.locator("[data-bundle]", has_text="Sheet 1").locator(".bundle-handle")
    lane.evaluate("lane => lane.scrollIntoView({block: 'center', behavior: 'instant'})")
    at, to = handle.bounding_box(), lane.bounding_box()
    page.mouse.move(at["x"] + at["width"] / 2, at["y"] + at["height"] / 2)
    page.mouse.down()
    page.mouse.move(to["x"] + 40, to["y"] + 20, steps=5)
    page.mouse.up()

    expect(page.get_by_role("status").first).to_contain_text("moved to somebody else")
    assert who_has("fetch", "cut") == [("fetch", "Bo", True), ("cut", "Bo", True)] * 2
    assert errors == []
