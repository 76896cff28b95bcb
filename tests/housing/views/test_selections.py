"""Pages of the choices within limits, and what is refused there."""

import pytest
from django.urls import reverse

from housing.models import Scenario, Selection
from housing.services.campaigns import plan_campaign
from tests.factories import make_campaign, make_design, make_object, make_person, make_sheet_size

pytestmark = pytest.mark.django_db


@pytest.fixture
def campaign():
    design = make_design(board=make_sheet_size().board)
    campaign = make_campaign(make_object(number="T1"), make_object(number="T2"))
    campaign.rules.create(position=1, design=design)
    campaign.people.add(make_person())
    plan_campaign(campaign=campaign)
    return campaign


def address(campaign, name="new", *more) -> str:
    return reverse(f"housing:selection-{name}", args=[campaign.pk, *more])


def typed(**given) -> dict:
    return {"name": "Spring grant", "money": "5000", "must": "", "must_not": "", "sets": "", **given}


def test_limits_are_entered_and_answered_at_once(manager, campaign):
    page = manager.post(address(campaign), typed(must="T1"), follow=True).content.decode()

    assert "objects chosen" in page
    assert "T1" in page and "T2" in page
    assert Selection.objects.get().result["chosen"]


def test_the_list_shows_what_was_chosen(viewer, manager, campaign):
    manager.post(address(campaign), typed())

    assert "Spring grant" in viewer.get(address(campaign, "list")).content.decode()


def test_before_anything_is_chosen_the_page_says_so(viewer, campaign):
    selection = Selection.objects.create(campaign=campaign, name="Empty")

    page = viewer.get(address(campaign, "detail", selection.pk)).content.decode()

    assert "Nothing is chosen yet" in page


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        ({"money": ""}, "Without a limit everything can be done"),
        ({"money": "-5"}, "0"),
        ({"must": "X77"}, "X77 is not in the campaign"),
        ({"must": "T1", "must_not": "T1"}, "T1 is on both lists"),
        ({"sets": "T1"}, "A set has two objects or more"),
        ({"hours_cut": "many"}, "number"),
    ],
)
def test_bad_limits_are_refused_beside_their_field(manager, campaign, wrong, words):
    page = manager.post(address(campaign), typed(**wrong)).content.decode()

    assert words in page
    assert not Selection.objects.exists()


def test_limits_too_small_are_kept_and_the_reason_is_said(manager, campaign):
    page = manager.post(address(campaign), typed(money="1"), follow=True).content.decode()

    assert "too small for a single box" in page
    assert Selection.objects.get().result == {}


def test_a_choice_becomes_a_scenario_and_a_batch(manager, campaign):
    manager.post(address(campaign), typed())
    selection = Selection.objects.get()

    manager.post(address(campaign, "scenario", selection.pk))
    manager.post(address(campaign, "batch", selection.pk), {"batch": "2"})

    assert Scenario.objects.get().differences["only_objects"]
    assert set(campaign.memberships.values_list("batch", flat=True)) == {2}


def test_a_batch_that_is_none_is_refused(manager, campaign):
    manager.post(address(campaign), typed())

    page = manager.post(
        address(campaign, "batch", Selection.objects.get().pk), {"batch": "0"}, follow=True
    ).content.decode()

    assert "Enter a batch from 1 to 999" in page


def test_a_choice_can_be_deleted(manager, campaign):
    manager.post(address(campaign), typed())

    manager.post(address(campaign, "delete", Selection.objects.get().pk), {"confirmed": "yes"})

    assert not Selection.objects.exists()


@pytest.mark.parametrize("name", ["new", "edit"])
def test_only_managers_set_limits(viewer, campaign, name):
    more = [Selection.objects.create(campaign=campaign, name="S").pk] if name == "edit" else []

    assert viewer.get(address(campaign, name, *more)).status_code == 403
