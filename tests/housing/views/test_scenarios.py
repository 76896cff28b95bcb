"""Scenarios of a campaign on their pages: side by side, entered, copied, deleted, and worked out."""

from decimal import Decimal

import pytest
from django.urls import reverse

from housing.models import Job, Scenario
from tests.factories import (
    make_board,
    make_campaign,
    make_design,
    make_object,
    make_person,
    make_sheet_size,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def campaign():
    design = make_design(board=make_sheet_size().board)
    campaign = make_campaign(make_object(number="1990.1"), make_object(number="1990.2"))
    campaign.rules.create(position=1, design=design)
    campaign.people.add(make_person())
    return campaign


def make_scenario(campaign, **given) -> Scenario:
    return Scenario.objects.create(**{"campaign": campaign, "name": "Only A", **given})


def address(name: str, pk: int) -> str:
    return reverse(f"housing:scenario-{name}", args=[pk])


def typed(**given) -> dict:
    return {"name": "Other way", "note": "", **given}


# ---- Side by side ----------------------------------------------------------------------------------------


def test_scenarios_stand_beside_the_campaign_with_what_is_different(viewer, campaign):
    make_scenario(campaign, differences={"only_priorities": ["A"], "rate_per_hour": "30"})

    page = viewer.get(address("list", campaign.pk)).content.decode()

    assert "As it is" in page
    assert "Only priority A" in page
    assert "30.00 USD" in page
    assert "Not worked out yet" in page


def test_a_campaign_without_scenarios_offers_some_to_begin_from(manager, campaign):
    page = manager.get(address("list", campaign.pk)).content.decode()

    assert "Buy where one fits" in page and "Only priority A" in page


def test_a_scenario_that_cannot_be_read_says_why_and_spoils_no_other(viewer, campaign):
    make_scenario(campaign, differences={"colour": "red"})
    make_scenario(campaign, name="Sound", differences={"only_priorities": ["B"]})

    page = viewer.get(address("list", campaign.pk)).content.decode()

    assert "A scenario cannot change “colour”" in page
    assert "Only priority B" in page


@pytest.mark.parametrize("number", [1, 3])
def test_the_page_asks_the_database_as_often_for_many_as_for_one(
    viewer, campaign, number, django_assert_max_num_queries
):
    board = make_board()
    for n in range(number):
        make_scenario(
            campaign,
            name=f"Way {n}",
            differences={"board": {str(board.pk): board.pk + n + 1}},
            result={"figures": {"money": "1.00", "objects": n}, "inputs": "", "problems": []},
        )

    with django_assert_max_num_queries(40):
        viewer.get(address("list", campaign.pk))


# ---- Entered ---------------------------------------------------------------------------------------------


def test_only_what_is_different_is_kept(manager, campaign):
    manager.post(address("new", campaign.pk), typed(only_priorities=["A"], rate_per_hour="30"))

    kept = Scenario.objects.get()
    assert kept.differences == {"only_priorities": ["A"], "rate_per_hour": "30"}
    assert kept.result == {}


def test_objects_boards_people_prices_and_terms_are_kept_by_their_keys(manager, campaign):
    design = campaign.rules.get().design
    sheet, person = design.board.sheet_sizes.get(), campaign.people.get()
    board = make_sheet_size().board

    manager.post(
        address("new", campaign.pk),
        typed(
            only_objects="1990.2; 1990.1", buys="on", slack_mm="1 in", heaviest_g="3 kg",
            **{
                f"board_{design.board_id}": board.pk, f"sheet_{sheet.pk}": "14.20",
                f"hours_{person.pk}": "12", "term_indirect_share": "15", "term_contingency_percent": "95",
            },
        ),
    )  # fmt: skip

    first, second = campaign.objects_in_it.order_by("number").values_list("pk", flat=True)
    assert Scenario.objects.get().differences == {
        "only_objects": [second, first],
        "board": {str(design.board_id): board.pk},
        "ready_made": {"slack_mm": 25.4, "heaviest_g": 3000.0},
        "prices": {f"sheet:{sheet.pk}": "14.20"},
        "people": {str(person.pk): "12"},
        "terms": {"indirect_share": "0.1500", "contingency_percent": "95"},  # 15 % = 0.15
    }


def test_what_was_entered_is_shown_again_to_be_changed(manager, campaign):
    thing = campaign.objects_in_it.first()
    scenario = make_scenario(
        campaign,
        differences={"only_objects": [thing.pk], "ready_made": {"slack_mm": 25.4, "heaviest_g": None}},
    )

    form = manager.get(address("edit", scenario.pk)).context["form"]

    assert form["only_objects"].value() == thing.number
    assert form["buys"].value() is True
    assert form["slack_mm"].value() == "1 in"
    assert form["heaviest_g"].value() is None


def test_saving_again_without_a_change_keeps_what_is_different(manager, campaign):
    differences = {"only_priorities": ["B"], "people": {str(campaign.people.get().pk): "0"}}
    extra = make_person()
    campaign.people.add(extra)
    scenario = make_scenario(campaign, differences=differences)
    form = manager.get(address("edit", scenario.pk)).context["form"]
    shown = {
        field.html_name: field.value()
        for field in form
        if field.value() is not False and field.value() not in (None, "")
    }

    manager.post(address("edit", scenario.pk), shown)

    scenario.refresh_from_db()
    assert scenario.differences == differences


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"name": ""}, "This field is required"),
        ({"name": "Only A"}, "has a scenario of that name"),
        ({"only_objects": "1990.1\n1801.9"}, "Not in this campaign: 1801.9."),
        ({"rate_per_hour": "-3"}, "greater than or equal to 0"),
        ({"term_learning_rate": "20"}, "Enter 50 to 100 per cent"),
    ],
)
def test_what_cannot_be_so_is_refused_and_nothing_is_stored(manager, campaign, given, told):
    make_scenario(campaign)

    page = manager.post(address("new", campaign.pk), typed(**given)).content.decode()

    assert told in page
    assert Scenario.objects.count() == 1


@pytest.mark.parametrize(
    ("board", "told"),
    [
        ({}, "has no sheet size"),
        ({"withdrawn_on": "2020-05-01"}, "is no longer sold since 01 May 2020"),
    ],
)
def test_a_board_that_nothing_can_be_cut_from_is_named(manager, campaign, board, told):
    other = make_board(**board)
    used = campaign.rules.get().design.board_id

    page = manager.post(address("new", campaign.pk), typed(**{f"board_{used}": other.pk})).content.decode()

    assert f"{other.code} {told}" in page
    assert not Scenario.objects.exists()


def test_a_scenario_in_which_nobody_has_hours_is_refused(manager, campaign):
    given = {f"hours_{person.pk}": "0" for person in campaign.people.all()}

    page = manager.post(address("new", campaign.pk), typed(**given)).content.decode()

    assert "Nobody with hours takes part" in page


# ---- Begun from a preset, copied, deleted ----------------------------------------------------------------


@pytest.mark.parametrize(
    ("key", "differences"),
    [
        ("custom", {}),
        ("urgent", {"only_priorities": ["A"]}),
        ("buy", {"ready_made": {"slack_mm": 40.0, "heaviest_g": 5000.0}}),
    ],
)
def test_a_preset_begins_a_scenario_without_storing_it(manager, campaign, key, differences):
    form = manager.get(address("new", campaign.pk) + f"?from={key}").context["form"]

    assert form.instance.differences == differences
    assert form.instance.name
    assert not Scenario.objects.exists()


def test_another_board_is_one_of_the_same_kind_that_can_be_cut(manager, campaign):
    used = campaign.rules.get().design.board
    make_board(caliper_mm=Decimal("3.2"))  # no sheets
    make_sheet_size(board=make_board(is_buffered=False, caliper_mm=Decimal("3.2")))
    thicker = make_sheet_size(board=make_board(caliper_mm=Decimal("4"))).board

    form = manager.get(address("new", campaign.pk) + "?from=board").context["form"]

    assert form.instance.differences == {"board": {str(used.pk): thicker.pk}}


def test_a_preset_that_lacks_something_says_what(manager, campaign):
    page = manager.get(address("new", campaign.pk) + "?from=sizes").content.decode()

    assert "There is no family of standard sizes yet" in page


def test_a_copy_has_the_differences_but_no_figures(manager, campaign):
    scenario = make_scenario(campaign, differences={"only_priorities": ["A"]}, result={"figures": {}})

    manager.post(address("copy", scenario.pk))

    copied = campaign.scenarios.exclude(pk=scenario.pk).get()
    assert (copied.name, copied.differences, copied.result) == ("Only A 2", {"only_priorities": ["A"]}, {})


def test_a_scenario_is_deleted(manager, campaign):
    manager.post(address("delete", make_scenario(campaign).pk), {"confirmed": "yes"})

    assert not Scenario.objects.exists()


def test_there_are_never_more_than_can_be_compared(manager, campaign):
    for n in range(12):
        make_scenario(campaign, name=f"Way {n}")

    page = manager.post(address("copy", campaign.scenarios.first().pk), follow=True).content.decode()

    assert "12 scenarios, and more cannot be compared" in page
    assert campaign.scenarios.count() == 12


# ---- Worked out ------------------------------------------------------------------------------------------


def test_one_or_all_are_worked_out_in_the_background_once(manager, campaign):
    scenario = make_scenario(campaign)

    manager.post(address("work-out", scenario.pk))
    manager.post(address("work-out-all", campaign.pk))  # the first is still waiting: no second job

    job = Job.objects.get()
    assert (job.kind, job.parameters) == ("scenario", {"campaign": campaign.pk, "scenarios": [scenario.pk]})


def test_with_no_scenario_there_is_nothing_to_work_out(manager, campaign):
    page = manager.post(address("work-out-all", campaign.pk), follow=True).content.decode()

    assert "has no scenarios yet" in page
    assert not Job.objects.exists()


@pytest.mark.parametrize("name", ["copy", "delete", "work-out"])
def test_a_viewer_changes_nothing(viewer, campaign, name):
    scenario = make_scenario(campaign)

    assert viewer.post(address(name, scenario.pk)).status_code == 403
    assert viewer.get(address("new", campaign.pk)).status_code == 403
    assert campaign.scenarios.count() == 1
