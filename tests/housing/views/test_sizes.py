"""Pages of the standard sizes, and what is refused there."""

import pytest
from django.urls import reverse

from housing.models import Job, Scenario, SizeFamily
from housing.services.campaigns import plan_campaign
from housing.services.size_families import find_sizes
from tests.factories import make_campaign, make_design, make_object, make_sheet_size

pytestmark = pytest.mark.django_db


@pytest.fixture
def campaign():
    design = make_design(board=make_sheet_size().board)
    campaign = make_campaign(make_object(), make_object(height_mm=240))
    campaign.rules.create(position=1, design=design)
    plan_campaign(campaign=campaign)
    return campaign


@pytest.fixture
def family(campaign):
    design = campaign.rules.get().design
    return SizeFamily.objects.create(campaign=campaign, name="Bowls", design=design, sizes_wanted=1)


def address(campaign, name, *more) -> str:
    return reverse(f"housing:size-family-{name}", args=[campaign.pk, *more])


def typed(campaign, **given) -> dict:
    design = campaign.rules.get().design_id
    return {
        "name": "Bowls", "design": design, "sizes_wanted": "3", "slack_mm": "40 mm", "volume_price": "0",
    } | given  # fmt: skip


def test_a_family_is_entered_and_looked_for_in_the_background(manager, campaign):
    manager.post(address(campaign, "new"), typed(campaign))

    assert SizeFamily.objects.get().sizes_wanted == 3
    assert Job.objects.get().kind == Job.Kind.SIZES


def test_what_was_found_is_shown_with_its_bound_and_curve(viewer, campaign, family):
    find_sizes(family=family)

    page = viewer.get(address(campaign, "detail", family.pk)).content.decode()

    assert "The sizes" in page and "costs less than" in page
    assert "<svg" in page


def test_before_anything_is_found_the_page_says_so(viewer, campaign, family):
    assert "No sizes are found yet" in viewer.get(address(campaign, "detail", family.pk)).content.decode()
    assert "Not yet" in viewer.get(address(campaign, "list")).content.decode()


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        ({"sizes_wanted": "0"}, "1"),
        ({"slack_mm": "wide"}, "wide"),
        ({"design": ""}, "required"),
        ({"volume_price": "-1"}, "0"),
    ],
)
def test_what_cannot_be_looked_for_is_refused(manager, campaign, wrong, words):
    page = manager.post(address(campaign, "new"), typed(campaign, **wrong)).content.decode()

    assert words in page
    assert not SizeFamily.objects.exists() and not Job.objects.exists()


def test_it_becomes_a_scenario_and_can_be_deleted(manager, campaign, family):
    find_sizes(family=family)

    manager.post(address(campaign, "scenario", family.pk))
    manager.post(address(campaign, "delete", family.pk), {"confirmed": "yes"})

    assert Scenario.objects.get().differences == {"sizes": family.pk}
    assert not SizeFamily.objects.exists()


def test_only_managers_look_for_sizes(viewer, campaign, family):
    assert viewer.get(address(campaign, "new")).status_code == 403
    assert viewer.post(address(campaign, "find", family.pk)).status_code == 403
