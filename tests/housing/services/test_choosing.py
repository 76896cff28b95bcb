"""From rules to boxes: what is advised is stored and made; choices by hand stay."""

from decimal import Decimal

import pytest

from housing.core.budget.lines import Section
from housing.core.choosing import Flag
from housing.models import DesignRule, Housing
from housing.queries.budgets import live_budget, read_budget
from housing.queries.choosing import boxes_to_choose_for, facts_of
from housing.queries.conflicts import conflict_groups
from housing.queries.progress import is_plan_current
from housing.services.campaigns import choose_design, plan_campaign
from housing.services.dry_run import dry_run
from housing.services.housings import house_together, is_as_worked_out
from housing.services.rule_counts import rule_reports, try_rule
from housing.services.rules import add_rules, copy_rule, move_rule, save_rule
from tests.factories import make_board, make_campaign, make_design, make_object, make_sheet_size

pytestmark = pytest.mark.django_db


@pytest.fixture
def board():
    return make_sheet_size(along_mm=Decimal(3000), across_mm=Decimal(2000)).board


@pytest.fixture
def design(board):
    """A lidded tray with the allowances of 25.4 mm that a design starts with, and padding."""
    return make_design(board=board, name="Standard", padding="20 mm foam", padding_price_m2=Decimal("9.80"))


@pytest.fixture
def campaign(design):
    """A bowl 10 x 8 3/4 x 7 1/8 in, and one rule that takes everything."""
    campaign = make_campaign(make_object(number="1990.1", materials="woollen cloth, iron"))
    campaign.rules.create(position=1, design=design, reason="Suits anything rigid.")
    return campaign


def box_of(campaign) -> Housing:
    return campaign.housings.get()


def plan_with(campaign, *rules: dict) -> Housing:
    """The one box of a campaign planned with rules put above those it has."""
    for place, given in enumerate(rules):
        new = save_rule(rule=DesignRule(campaign=campaign, **given))
        move_rule(rule=new, places=-(new.position - 1 - place))
    plan_campaign(campaign=campaign)
    return box_of(campaign)


# ---- Advised padding and allowances ----------------------------------------------------------------------


def test_an_advised_allowance_moves_the_blank(campaign):
    before = plan_with(campaign)
    blank = before.blanks.get(part="base")

    after = plan_with(campaign, {"material": "wool", "side_allowance_mm": Decimal(40)})

    # by hand: the allowance stands on both sides, so 2 x (40 - 25.4) = 29.2 mm more, inside and on the blank
    base = after.blanks.get(part="base")
    assert (after.inner_x_mm - before.inner_x_mm, base.x_mm - blank.x_mm) == (
        Decimal("29.2"),
        Decimal("29.2"),
    )
    assert (after.inner_y_mm - before.inner_y_mm, base.y_mm - blank.y_mm) == (
        Decimal("29.2"),
        Decimal("29.2"),
    )
    assert after.inner_z_mm == before.inner_z_mm


def test_an_advised_allowance_on_the_height_makes_each_wall_so_much_higher(campaign):
    before = plan_with(campaign)
    blank = before.blanks.get(part="base")

    after = plan_with(campaign, {"height_allowance_mm": Decimal("35.4")})

    # by hand: 35.4 - 25.4 = 10 mm once inside; on the blank a wall at either side, 2 x 10 mm
    assert after.inner_z_mm - before.inner_z_mm == 10
    assert after.blanks.get(part="base").x_mm - blank.x_mm == 20


def test_advised_padding_takes_the_place_of_the_design_s_and_has_the_price_it_has_elsewhere(campaign, board):
    make_design(board=board, padding="washed cotton", padding_price_m2=Decimal("4.90"))
    before = plan_with(campaign)

    after = plan_with(campaign, {"material": "wool", "padding": "Washed cotton"})

    assert after.recipe.padding == "Washed cotton"
    assert after.padding_cost == round(before.padding_cost / 2, 2)  # by hand: 4.90 is half of 9.80
    (line,) = read_budget(live_budget(campaign)).of(Section.PADDING)
    assert line.amount == after.padding_cost


def test_a_design_without_padding_is_lined_where_rules_advise_it(campaign, design):
    design.padding, design.padding_price_m2 = "", Decimal(0)
    design.save()

    box = plan_with(campaign, {"padding": "Washed cotton"})

    (line,) = read_budget(live_budget(campaign)).of(Section.PADDING)
    assert box.recipe.padding == "Washed cotton"
    assert line.quantity > 0


def test_the_design_itself_stays_as_it_is(campaign, design):
    box = plan_with(campaign, {"padding": "tissue", "side_allowance_mm": Decimal(40)})

    design.refresh_from_db()
    assert (design.padding, design.side_allowance_mm) == ("20 mm foam", Decimal("25.4"))
    assert (box.design, box.recipe.pk) == (design, design.pk)


def test_a_box_made_as_advised_is_as_it_was_worked_out(campaign):
    box = plan_with(campaign, {"side_allowance_mm": Decimal(40)})

    assert is_as_worked_out(Housing.objects.get(pk=box.pk))


def test_what_is_advised_is_kept_with_rule_reason_and_source(campaign):
    box = plan_with(
        campaign,
        {
            "material": "wool",
            "board_kind": "buffered",
            "reason": "Why not",
            "source": "A source",
            "is_advice": True,
        },
    )

    assert box.advice["board_kind"] == {
        "piece": "board_kind", "value": "buffered", "words": "buffered board", "position": 1,
        "reason": "Why not", "source": "A source", "is_advice": True,
    }  # fmt: skip
    assert box.advice["design"]["position"] == 2


def test_planning_again_and_keeping_sheets_works_a_box_out_anew_once_its_allowance_is_advised(campaign):
    before = plan_with(campaign)
    save_rule(rule=DesignRule(campaign=campaign, side_allowance_mm=Decimal(40)))

    plan_campaign(campaign=campaign, keep=True)

    assert box_of(campaign).inner_x_mm - before.inner_x_mm == Decimal("29.2")


def test_planning_again_and_keeping_sheets_tells_a_new_mark_without_moving_the_box(campaign):
    plan_with(campaign)
    blanks = list(box_of(campaign).blanks.values_list("pk", "placements__sheet__position"))
    save_rule(rule=DesignRule(campaign=campaign, marks=["fragile"], reason="It breaks."))

    plan_campaign(campaign=campaign, keep=True)

    box = box_of(campaign)
    assert [mark["value"] for mark in box.advice["marks"]] == ["fragile"]
    assert list(box.blanks.values_list("pk", "placements__sheet__position")) == blanks


# ---- From advice to a design -----------------------------------------------------------------------------


def test_without_a_design_of_the_form_a_box_waits_and_says_what_to_make(campaign):
    box = plan_with(campaign, {"material": "wool", "form": "folder", "board_kind": "unbuffered"})

    assert (box.status, box.problem) == ("waiting", "no_design")
    assert box.problem_note == (
        "No design of the form Folder with ties on unbuffered board. Make one: Designs, New design."
    )
    assert box.advice["form"]["value"] == "folder"


def test_of_form_and_design_of_two_rules_only_the_one_that_decides_is_kept(campaign, board):
    folder = make_design(form="folder", board=board)
    campaign.objects_in_it.update(height_mm=3)

    box = plan_with(campaign, {"material": "wool", "form": "folder"})

    assert box.design == folder
    assert (box.advice["form"]["position"], "design" in box.advice) == (1, False)


def test_a_new_design_of_an_advised_form_makes_the_plan_out_of_date(campaign, board):
    plan_with(campaign, {"material": "wool", "form": "folder"})
    assert is_plan_current(campaign)

    make_design(form="folder", board=board)

    assert not is_plan_current(campaign)


def test_a_conflict_of_two_rules_is_kept_and_counted(campaign):
    plan_with(
        campaign,
        {"material": "wool", "board_kind": "unbuffered", "reason": "Protein."},
        {"material": "iron", "board_kind": "buffered", "reason": "Rust."},
    )

    groups = conflict_groups(campaign)

    assert [(g.piece, g.kept, g.other, g.kept_reason, g.other_reason, g.number) for g in groups] == [
        ("board_kind", None, 1, "", "Protein.", 1),  # the design of rule 3 is on buffered board
        ("board_kind", 1, 2, "Protein.", "Rust.", 1),
    ]


def test_a_design_on_the_wrong_board_is_taken_and_the_one_that_would_do_is_named(campaign, design):
    other = make_design(name="Unbuffered", board=make_board(is_buffered=False))

    box = plan_with(
        campaign, {"material": "wool", "design": design}, {"material": "wool", "board_kind": "unbuffered"}
    )

    # the rule about the board is as general as the one that names the design: nothing is said of it
    assert "conflicts" not in box.advice
    box = plan_with(campaign, {"material": "iron", "board_kind": "unbuffered"})
    (told,) = box.advice["conflicts"]
    assert (box.design, told["instead"]) == (design, other.pk)


# ---- Chosen by hand --------------------------------------------------------------------------------------


@pytest.mark.parametrize("keep", [False, True])
def test_a_choice_by_hand_survives_every_planning_and_the_advice_stands_beside_it(campaign, board, keep):
    thing, mine = campaign.objects_in_it.get(), make_design(name="Mine", board=board)
    plan_campaign(campaign=campaign)
    choose_design(campaign=campaign, objects=[thing], design=mine)
    save_rule(rule=DesignRule(campaign=campaign, material="wool", board_kind="unbuffered"))

    for _ in range(2):
        plan_campaign(campaign=campaign, keep=keep)

    box = box_of(campaign)
    assert (box.design, box.design_reason, box.advice["by_hand"]) == (mine, "Chosen by hand.", True)
    assert [told["words"] for told in box.advice["conflicts"]] == ["unbuffered board"]


def test_given_back_to_the_rules_an_object_follows_them_again(campaign, design, board):
    thing = campaign.objects_in_it.get()
    choose_design(campaign=campaign, objects=[thing], design=make_design(board=board))
    plan_campaign(campaign=campaign)

    choose_design(campaign=campaign, objects=[thing], design=None)
    plan_campaign(campaign=campaign)

    assert box_of(campaign).design == design


# ---- Facts -----------------------------------------------------------------------------------------------


def test_a_set_has_the_largest_of_each_side_all_materials_and_the_weight_as_far_as_known():
    cup = make_object(height_mm=80, width_mm=90, depth_mm=70, weight_g=200, materials="silver", use="weekly")
    saucer = make_object(height_mm=20, width_mm=140, depth_mm=140, materials="glass", condition="poor")

    facts = facts_of([cup, saucer])

    assert (facts.sides_mm, facts.materials) == ((80.0, 140.0, 140.0), "silver; glass")
    assert (facts.weight_g, facts.is_weight_whole) == (200.0, False)
    assert facts.so == {Flag.SEVERAL, Flag.OFTEN_USED, Flag.UNSTABLE}
    assert facts.unknown == {Flag.PROJECTING, Flag.DELICATE, Flag.HAZARDOUS, Flag.MUST_STAND}


def test_objects_housed_together_are_chosen_for_as_one_box(campaign):
    campaign.objects_in_it.add(other := make_object(number="1990.2"))
    house_together(contents=[other, campaign.objects_in_it.get(number="1990.1")], campaign=campaign)

    (box,) = boxes_to_choose_for(campaign)

    assert [thing.number for thing in box.contents] == ["1990.2", "1990.1"]


# ---- Counts and dry run ----------------------------------------------------------------------------------


def test_a_rule_is_counted_where_it_stands_and_warned_of(campaign, design):
    campaign.rules.create(position=2, form="folder", material="wool")
    campaign.rules.create(position=3, design=design, form="folder", material="felt", padding="tissue")

    reports = rule_reports(campaign)

    assert [(report.tally.takes, report.tally.matches) for report in reports] == [(1, 1), (0, 1), (0, 0)]
    assert reports[1].warnings == (
        "It can never decide anything: rule 1 above says it all first. Move it up, or delete it.",
    )
    assert reports[2].warnings == (
        "It matches none of the campaign's objects.",
        "It names the form “Folder with ties”, but its design “Standard” has “Tray with telescoping lid”. "
        "Choose one of them.",
    )


def test_a_rule_that_is_only_typed_is_counted_as_if_it_came_last(campaign):
    trial = try_rule(DesignRule(campaign=campaign, material="wool", padding="tissue"))

    assert (trial.tally.takes, trial.tally.matches, trial.in_all) == (1, 1, 1)
    assert [thing.number for thing in trial.objects] == ["1990.1"]
    assert campaign.rules.count() == 1


def test_a_new_rule_stands_above_one_for_everything_and_below_all_others(campaign, design):
    wool = save_rule(rule=DesignRule(campaign=campaign, material="wool", design=design))
    iron = save_rule(rule=DesignRule(campaign=campaign, material="iron", design=design))
    anything = save_rule(rule=DesignRule(campaign=campaign, padding="tissue"))

    assert [rule.material for rule in campaign.rules.all()] == ["wool", "iron", "", ""]
    assert [rule.position for rule in (wool, iron, anything)] == [1, 2, 4]


def test_a_dry_run_tells_what_would_change_and_stores_nothing(campaign, board):
    box = plan_with(campaign)
    chosen = make_object(number="1990.2")
    campaign.objects_in_it.add(chosen)
    choose_design(campaign=campaign, objects=[chosen], design=make_design(name="Mine", board=board))
    save_rule(
        rule=DesignRule(
            campaign=campaign, material="wool", padding="tissue", marks=["fragile"], reason="It is soft."
        )
    )

    found = dry_run(campaign)

    assert (found.changed, found.new, found.same, found.overrides, found.begun) == (1, 1, 0, 1, 0)
    first, second = found.changes
    assert (first.now.padding.split(";")[0], first.then.padding.split(";")[0]) == ("20 mm foam", "tissue")
    assert (first.now.marks, first.then.marks) == ("", "Fragile, handle with care")
    assert first.causes == (
        (1, "Padding: tissue. It is soft."),
        (1, "Mark: Fragile, handle with care. It is soft."),
    )
    assert (second.now, second.then.design, second.by_hand) == (None, "Mine", True)
    assert second.causes[0] == (None, "Chosen by hand.")
    box.refresh_from_db()
    assert "marks" not in box.advice


def test_after_planning_a_dry_run_finds_nothing_to_change(campaign):
    plan_with(campaign, {"material": "wool", "side_allowance_mm": Decimal(40), "marks": ["fragile"]})

    found = dry_run(campaign)

    assert (found.changes, found.same) == ([], 1)


def test_a_box_being_made_is_left_out_of_a_dry_run(campaign):
    box = plan_with(campaign)
    Housing.objects.filter(pk=box.pk).update(status="in_work")

    found = dry_run(campaign)

    assert (found.begun, found.same, found.changes) == (1, 0, [])


# ---- Rules in their row ----------------------------------------------------------------------------------


def test_a_copy_stands_right_below_its_rule_and_says_the_same(campaign, design):
    campaign.rules.create(position=2, form="folder", marks=["fragile"], flags=["several"])

    copied = copy_rule(rule=campaign.rules.get(position=1))

    assert list(campaign.rules.values_list("position", "design", "form")) == [
        (1, design.pk, ""), (2, design.pk, ""), (3, None, "folder"),
    ]  # fmt: skip
    assert copied.reason == "Suits anything rigid."


def test_rules_put_in_stand_below_those_there_are(campaign):
    add_rules(campaign=campaign, rules=[DesignRule(form="tray"), DesignRule(form="folder")])

    assert list(campaign.rules.values_list("position", "form")) == [(1, ""), (2, "tray"), (3, "folder")]
