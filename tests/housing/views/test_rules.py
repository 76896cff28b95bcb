"""The pages of the rules: list with counts, editing, trying, dry run, conflicts, choosing over them."""

from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from housing.intake.imports import stage_list
from housing.intake.rules import shipped_rules
from housing.intake.saving import save_list
from housing.models import DesignRule
from housing.services.campaigns import plan_campaign
from tests.factories import (
    make_board,
    make_campaign,
    make_design,
    make_object,
    make_sheet_size,
    make_user,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def campaign():
    campaign = make_campaign(make_object(number="2001.1", materials="Wool, iron"))
    campaign.rules.create(position=1, design=make_design(board=make_sheet_size().board), reason="Usual.")
    return campaign


def queries_of(client, address: str) -> int:
    client.get(address)
    with CaptureQueriesContext(connection) as made:
        assert client.get(address).status_code == 200
    return len(made)


def test_rules_are_added_moved_copied_and_deleted(manager, campaign):
    design = campaign.rules.get().design
    manager.post(
        f"/campaigns/{campaign.pk}/rules/new/",
        {"design": design.pk, "largest_over_mm": "20 in", "reason": "Large", "marks": ["fragile"]},
    )
    new = campaign.rules.get(reason="Large")
    # above the rule for everything, which would leave it nothing to decide; 20 x 25.4
    assert (new.position, new.largest_over_mm, new.marks) == (1, 508, ["fragile"])

    manager.post(f"/rules/{new.pk}/move/", {"direction": "down"})
    assert [rule.reason for rule in campaign.rules.all()] == ["Usual.", "Large"]

    manager.post(f"/rules/{new.pk}/move/", {"direction": "up"})
    assert [rule.reason for rule in campaign.rules.all()] == ["Large", "Usual."]

    manager.post(f"/rules/{new.pk}/copy/")
    assert [rule.reason for rule in campaign.rules.all()] == ["Large", "Large", "Usual."]

    manager.post(f"/rules/{new.pk}/delete/", {"confirmed": "yes"})
    assert [(rule.position, rule.reason) for rule in campaign.rules.all()] == [(1, "Large"), (2, "Usual.")]


def test_a_rule_is_saved_again_as_it_was(manager, campaign):
    rule = campaign.rules.create(
        position=2, classification="Tools; Costume", material="wool; not wood wool",
        weight_over_g=Decimal(500), shape="flat", flags=["several", "delicate"], form="folder",
        board_kind="unbuffered",
        least_caliper_mm=Decimal("1.6"), padding="tissue", side_allowance_mm=Decimal(0), marks=["gloves"],
        asks_for=["oddy"], reason="Why", source="Whence", is_advice=True, largest_up_to_mm=Decimal("333.3"),
    )  # fmt: skip
    form = manager.get(f"/rules/{rule.pk}/edit/").context["form"]
    sent = {f.name: f.field.prepare_value(f.value()) for f in form if f.value() not in (None, False, "")}
    before = DesignRule.objects.filter(pk=rule.pk).values().get()

    manager.post(f"/rules/{rule.pk}/edit/", sent)

    assert DesignRule.objects.filter(pk=rule.pk).values().get() == before


def test_the_list_shows_how_many_objects_each_rule_takes(manager, campaign):
    campaign.rules.create(position=2, padding="tissue", material="silk")

    page = manager.get(f"/campaigns/{campaign.pk}/rules/")

    assert [report.tally.takes for report in page.context["reports"]] == [1, 0]
    assert "It matches none of the campaign" in page.text


def test_the_list_asks_as_often_for_three_rules_as_for_one(manager, campaign):
    address = f"/campaigns/{campaign.pk}/rules/"
    once = queries_of(manager, address)
    for position in (2, 3):
        campaign.rules.create(position=position, design=make_design(), material="silk")
    campaign.objects_in_it.add(make_object(), make_object())

    assert queries_of(manager, address) == once


def test_while_a_rule_is_typed_only_what_it_comes_to_is_sent_back(manager, campaign):
    answer = manager.post(
        f"/campaigns/{campaign.pk}/rules/try/",
        {"material": "wool", "padding": "tissue"},
        headers={"HX-Request": "true"},
    )

    assert "<html" not in answer.text and "2001.1" in answer.text
    assert campaign.rules.count() == 1


def test_without_script_the_whole_page_comes_back_with_what_was_typed(manager, campaign):
    rule = campaign.rules.get()

    answer = manager.post(f"/rules/{rule.pk}/try/", {"material": "silk", "form": "folder"})

    assert "<html" in answer.text and 'value="silk"' in answer.text
    assert answer.context["trial"].tally.matches == 0
    rule.refresh_from_db()
    assert rule.material == ""


def test_the_shipped_rules_are_put_in_below_those_there_are(manager, campaign):
    manager.post(f"/campaigns/{campaign.pk}/rules/shipped/")

    rules = list(campaign.rules.all())
    assert (rules[0].reason, len(rules)) == ("Usual.", 1 + len(shipped_rules()))


def test_a_campaign_without_rules_is_offered_the_shipped_ones(manager):
    campaign = make_campaign()

    assert (
        f'action="/campaigns/{campaign.pk}/rules/shipped/"' in manager.get(f"/campaigns/{campaign.pk}/").text
    )


def test_every_shipped_rule_says_why_and_whence_and_that_it_is_to_be_confirmed():
    assert [
        (rule.position, rule.reason != "", rule.source != "", rule.is_advice) for rule in shipped_rules()
    ] == [(position, True, True, True) for position in range(1, 36)]


def test_no_shipped_rule_calls_buffered_board_harmful_without_saying_that_it_was_not_shown():
    # Weaver, Conservation DistList 19:53, 2006: no demonstrated harm from buffered enclosures.
    unbuffered = [rule for rule in shipped_rules() if rule.board_kind == "unbuffered"]

    assert len(unbuffered) == 2
    assert all("cautious practice" in rule.reason and "been shown" in rule.reason for rule in unbuffered)


def test_rules_written_out_are_read_back_unchanged(manager, campaign):
    campaign.rules.all().delete()
    manager.post(f"/campaigns/{campaign.pk}/rules/shipped/")
    campaign.rules.create(
        position=99, material="=1+1", design=make_design(name="-box"), weight_up_to_g=Decimal("12.5"),
        side_allowance_mm=Decimal("0"), least_caliper_mm=Decimal("3.175"),
    )  # fmt: skip
    written = manager.get(f"/campaigns/{campaign.pk}/rules.csv").content

    listed = stage_list(kind="rules", file_name="rules.csv", data=written)
    counts = save_list(listed=listed, campaign=campaign)

    assert counts["unchanged"] == campaign.rules.count() == 36
    assert b"'=1+1" in written  # no spreadsheet runs it


def test_a_new_design_starts_with_what_the_rules_ask_for(manager):
    thick, thin = make_board(is_buffered=False, caliper_mm=7), make_board(is_buffered=False, caliper_mm=2)
    make_board(is_buffered=True, caliper_mm=1)

    asked = "?form=folder&board_kind=unbuffered&padding=tissue&side_allowance_mm=12"
    form = manager.get(f"/designs/new/{asked}").context["form"]
    sturdy = manager.get(f"/designs/new/{asked}&least_caliper_mm=3").context["form"]

    assert (form["form"].value(), form["board"].value()) == ("folder", thin.pk)
    assert (form["padding"].value(), form["side_allowance_mm"].value()) == ("tissue", "12 mm")
    assert sturdy["board"].value() == thick.pk


@pytest.mark.parametrize(
    "asked", ["form=balloon", "side_allowance_mm=wide", "least_caliper_mm=-1", "padding="]
)
def test_a_new_design_overlooks_what_cannot_be(manager, asked):
    form = manager.get(f"/designs/new/?{asked}").context["form"]

    assert (form["form"].value(), form["side_allowance_mm"].value()) == ("lidded_tray", "1 in")


# ---- What the rules come to ------------------------------------------------------------------------------


@pytest.fixture
def planned(campaign):
    """The wool and iron thing planned: it is to have unbuffered board by one rule, buffered by another."""
    for position, material, kind in ((1, "wool", "unbuffered"), (2, "iron", "buffered")):
        campaign.rules.filter(position=position).update(position=9)
        campaign.rules.create(
            position=position,
            material=material,
            board_kind=kind,
            source="A source",
            is_advice=True,
            marks=["gloves"],
        )
    plan_campaign(campaign=campaign)
    return campaign


def test_the_page_of_an_object_tells_what_was_advised_by_which_rule_and_the_conflict(manager, planned):
    page = manager.get(f"/objects/{planned.objects_in_it.get().pk}/").text

    for words in (
        "unbuffered board", "Wear gloves", "Source: A source", "To be confirmed with a conservator.",
        "Ask a conservator which matters more here.",
    ):  # fmt: skip
        assert words in page


def test_the_page_of_an_object_without_a_box_tells_what_the_rules_say_now(manager, campaign):
    page = manager.get(f"/objects/{campaign.objects_in_it.get().pk}/").text

    assert "Not planned yet" in page and "It would get the design" in page


def test_a_design_is_chosen_by_hand_on_the_page_of_an_object_and_given_back(client, planned):
    client.force_login(make_user("maker"))
    thing, design = planned.objects_in_it.get(), make_design()
    address = f"/objects/{thing.pk}/overrule/"

    client.post(address, {"campaign": planned.pk, "design": design.pk})
    chosen = planned.memberships.get().chosen_design
    client.post(address, {"campaign": planned.pk, "design": ""})

    assert (chosen, planned.memberships.get().chosen_design) == (design, None)


def test_the_rules_of_an_object_are_explained_one_by_one(manager, planned):
    page = manager.get(f"/objects/{planned.objects_in_it.get().pk}/rules/").text

    assert "It matches: material contains “wool” (materials Wool, iron)." in page


def test_conflicts_are_listed_with_their_counts_and_linked(manager, planned):
    overview = manager.get(f"/campaigns/{planned.pk}/").text
    page = manager.get(f"/campaigns/{planned.pk}/rules/conflicts/?of=board_kind.1.2")

    assert f"/campaigns/{planned.pk}/rules/conflicts/?of=board_kind.1.2" in overview
    assert page.context["chosen"].number == 1
    assert "Board: rule 1 says unbuffered board, rule 2 says buffered board</b>: 1 box" in page.text
    assert "2001.1" in page.text


def test_conflicts_and_dry_run_ask_as_often_for_three_boxes_as_for_one(manager, planned):
    addresses = [f"/campaigns/{planned.pk}/rules/{page}/" for page in ("conflicts", "dry-run")]
    planned.rules.create(position=20, marks=["fragile"])
    once = [queries_of(manager, address) for address in addresses]
    planned.objects_in_it.add(make_object(materials="wool, iron"), make_object(materials="wool, iron"))
    plan_campaign(campaign=planned)
    planned.rules.create(position=21, marks=["do_not_stack"])

    assert [queries_of(manager, address) for address in addresses] == once


def test_the_dry_run_shows_now_and_then(manager, planned):
    planned.rules.create(position=20, marks=["do_not_stack"])

    page = manager.get(f"/campaigns/{planned.pk}/rules/dry-run/")

    assert page.context["found"].changed == 1
    assert "Marks: Wear gloves, Do not stack" in page.text


@pytest.mark.parametrize("page", ["", "conflicts/", "dry-run/"])
def test_a_campaign_without_rules_and_objects_has_sentences(manager, page):
    assert manager.get(f"/campaigns/{make_campaign().pk}/rules/{page}").status_code == 200


# ---- Refused ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("sent", "field"),
    [
        ({"form": "folder", "largest_over_mm": "20", "largest_up_to_mm": "10"}, "largest_up_to_mm"),
        ({"form": "folder", "weight_over_g": "20", "weight_up_to_g": "20"}, "weight_up_to_g"),
        ({"form": "folder", "thinnest_up_to_mm": "thin"}, "thinnest_up_to_mm"),
        ({"form": "balloon"}, "form"),
        ({"marks": ["shout"]}, "marks"),
        ({"form": "folder", "least_caliper_mm": "60 mm"}, "least_caliper_mm"),
        ({"material": "wool"}, "__all__"),  # it advises nothing
    ],
)
def test_a_rule_that_cannot_be_is_refused_beside_its_field(manager, campaign, sent, field):
    answer = manager.post(f"/campaigns/{campaign.pk}/rules/new/", sent)

    assert list(answer.context["form"].errors) == [field]
    assert campaign.rules.count() == 1


def test_what_is_typed_wrong_is_told_while_typing(manager, campaign):
    answer = manager.post(
        f"/campaigns/{campaign.pk}/rules/try/",
        {"form": "folder", "largest_up_to_mm": "wide"},
        headers={"HX-Request": "true"},
    )

    assert answer.context["trial"] is None
    assert "Largest side up to:" in answer.text


def test_a_rule_moves_up_or_down_only(manager, campaign):
    assert manager.post(f"/rules/{campaign.rules.get().pk}/move/", {"direction": "away"}).status_code == 400


def test_no_design_can_be_chosen_over_the_rules_of_a_closed_campaign(manager, planned):
    planned.is_closed = True
    planned.save()
    thing = planned.objects_in_it.get()

    manager.post(f"/objects/{thing.pk}/overrule/", {"campaign": planned.pk, "design": make_design().pk})

    assert planned.memberships.get().chosen_design is None


@pytest.mark.parametrize("address", ["edit/", "try/", "copy/", "delete/", "move/"])
def test_a_maker_changes_no_rule(client, campaign, address):
    client.force_login(make_user("maker"))

    assert client.post(f"/rules/{campaign.rules.get().pk}/{address}").status_code == 403


@pytest.mark.parametrize("address", ["new/", "try/", "shipped/"])
def test_a_maker_adds_no_rule(client, campaign, address):
    client.force_login(make_user("maker"))

    assert client.post(f"/campaigns/{campaign.pk}/rules/{address}").status_code == 403


def test_a_viewer_overrules_nothing(client, campaign):
    client.force_login(make_user("viewer"))

    assert client.post(f"/objects/{campaign.objects_in_it.get().pk}/overrule/").status_code == 403


def test_who_is_not_signed_in_sees_no_rules(client, campaign):
    assert client.get(f"/campaigns/{campaign.pk}/rules/").status_code == 302


@pytest.mark.parametrize("address", ["campaigns/999/rules/", "rules/999/edit/", "objects/999/rules/"])
def test_rules_that_are_not_there_are_missing(manager, address):
    assert manager.get(f"/{address}").status_code == 404
