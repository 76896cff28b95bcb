"""Phases of a campaign: entered, changed, deleted, shown with their figures and with what is wrong."""

from datetime import date
from decimal import Decimal

import pytest
from django.urls import reverse

from housing.models import Phase
from housing.queries.budgets import live_budget
from housing.queries.phases import phases_in
from housing.services.budgets import freeze_budget, make_budget
from housing.services.campaigns import plan_campaign, set_batch
from tests.factories import make_campaign, make_design, make_object, make_person, make_sheet_size

pytestmark = pytest.mark.django_db

TYPED = {
    "name": "First grant", "starts_on": "2030-01-07", "ends_on": "2030-02-01", "money": "100",
    "first_batch": "1", "last_batch": "1", "note": "",
}  # fmt: skip


@pytest.fixture
def campaign():
    return make_campaign(make_object(), starts_on=date(2030, 1, 7))


@pytest.fixture
def planned():
    """Two boxes in two batches, planned from 7 January 2030, a Monday."""
    objects = [make_object() for _ in range(2)]
    campaign = make_campaign(*objects, starts_on=date(2030, 1, 7), search_seconds=1)
    campaign.rules.create(position=1, design=make_design(board=make_sheet_size().board))
    campaign.people.add(make_person(hours_per_week=Decimal("20")))
    set_batch(campaign=campaign, objects=objects[1:], batch=2)
    plan_campaign(campaign=campaign)
    return campaign


def address(name: str, *args) -> str:
    return reverse(f"housing:phase-{name}", args=args)


def make_phase(campaign, **given) -> Phase:
    fields = {"name": "First grant", "starts_on": date(2030, 1, 7), "ends_on": date(2030, 2, 1)}
    return Phase.objects.create(campaign=campaign, **fields | given)


def test_a_phase_is_entered_changed_and_deleted(manager, campaign):
    manager.post(address("new", campaign.pk), TYPED)

    phase = Phase.objects.get()
    assert (str(phase), phase.money, phase.first_batch) == ("First grant", 100, 1)

    manager.post(address("edit", phase.pk), {**TYPED, "money": "", "last_batch": "3"})
    phase.refresh_from_db()
    assert (phase.money, phase.last_batch) == (None, 3)

    manager.post(address("delete", phase.pk), {"confirmed": "yes"})
    assert not Phase.objects.exists()


def test_a_new_phase_goes_on_with_the_next_batch(manager, campaign):
    make_phase(campaign, last_batch=2)

    form = manager.get(address("new", campaign.pk)).context["form"]

    assert (form["first_batch"].value(), form["last_batch"].value()) == (3, 3)


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ({"name": ""}, "This field is required"),
        ({"name": "first  GRANT"}, "There is a phase “first GRANT” already"),
        ({"ends_on": "2029-12-31"}, "It starts on 07 January 2030, so it cannot end before"),
        ({"starts_on": "soon"}, "Enter a valid date"),
        ({"money": "-1"}, "Enter 0 or more"),
        ({"first_batch": "0"}, "Enter 1 to 10,000"),
        ({"first_batch": "3", "last_batch": "2"}, "The first of its batches is 3; enter 3 or more"),
    ],
)
def test_what_cannot_be_is_refused_beside_its_field_and_nothing_is_stored(manager, campaign, typed, told):
    make_phase(campaign)

    page = manager.post(address("new", campaign.pk), {**TYPED, "name": "Second", **typed})

    assert told in page.content.decode()
    assert Phase.objects.count() == 1


def test_a_viewer_sees_phases_and_changes_none(viewer, campaign):
    phase = make_phase(campaign)

    assert "First grant" in viewer.get(address("list", campaign.pk)).content.decode()
    for name, key in (("new", campaign.pk), ("edit", phase.pk), ("delete", phase.pk)):
        assert viewer.post(address(name, key), TYPED).status_code == 403
    assert Phase.objects.count() == 1


def test_phases_of_no_campaign_are_not_found(viewer):
    assert viewer.get(address("list", 999)).status_code == 404


def test_the_phases_of_all_batches_together_cost_what_has_to_be_paid(viewer, planned):
    make_phase(planned, money=Decimal("1"))
    make_phase(planned, name="Second grant", first_batch=2, last_batch=2)

    page = viewer.get(address("list", planned.pk))

    first, second = page.context["phases"]
    assert first.cost + second.cost == live_budget(planned).money
    assert first.hours + second.hours == pytest.approx(float(live_budget(planned).hours), abs=0.01)
    assert "Over its money" in page.content.decode()
    assert "“First grant” costs" in page.content.decode()


def test_the_list_asks_the_database_as_often_for_many_as_for_one(
    viewer, planned, django_assert_max_num_queries
):
    for n in range(4):
        make_phase(planned, name=f"Grant {n}")

    with django_assert_max_num_queries(32):
        viewer.get(address("list", planned.pk))


def test_a_baseline_keeps_the_phases_that_it_was_frozen_with(planned):
    phase = make_phase(planned, money=Decimal("500"))
    frozen = freeze_budget(campaign=planned, name="As asked for")
    phase.delete()

    (kept,) = phases_in(frozen).phases

    assert (kept.terms.name, kept.terms.money) == ("First grant", Decimal("500.00"))
    assert phases_in(live_budget(planned)).phases == []


def test_the_budget_shows_its_months_and_says_where_there_is_no_start(viewer, planned):
    budget = reverse("housing:campaign-budget", args=[planned.pk])
    assert "January 2030" in viewer.get(budget).content.decode()

    planned.starts_on = None
    planned.save()
    make_budget(campaign=planned)

    page = viewer.get(budget).content.decode()
    assert "The campaign has no start date" in page
    assert "No date" in page and "January 2030" not in page
