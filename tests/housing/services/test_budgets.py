"""A campaign's budget: what is in it, what each box costs of it, what outdates it, what freezing keeps."""

from datetime import timedelta
from decimal import ROUND_HALF_UP, Decimal

import pytest
from django.utils import timezone

from boards.models import Supplier, Supply
from boards.services import receive_sheets
from housing.core.budget.lines import Section
from housing.models import BudgetTerms, Design, Grade, Person, StandardTime, Task
from housing.queries.budgets import changes_since, is_budget_current, live_budget, read_budget
from housing.services.budgets import BudgetRefused, freeze_budget, make_budget
from housing.services.campaigns import add_objects, plan_campaign
from housing.services.housings import move_housing
from housing.services.sheets import cut_sheet
from tests.factories import make_campaign, make_design, make_object, make_person, make_sheet_size

pytestmark = pytest.mark.django_db


@pytest.fixture
def size():
    return make_sheet_size()


@pytest.fixture
def campaign(size):
    """Two bowls and one that is still to be measured; every box a lidded tray from one board."""
    campaign = make_campaign(make_object(), make_object(), make_object(height_mm=None))
    campaign.rules.create(position=1, design=make_design(board=size.board))
    campaign.people.add(make_person())
    plan_campaign(campaign=campaign)
    return campaign


def budget_of(campaign):
    return read_budget(live_budget(campaign))


def problems(campaign) -> list[str]:
    return [problem.what for problem in budget_of(campaign).problems]


# ---- What is in it ---------------------------------------------------------------------------------------


def test_board_is_bought_for_the_sheets_of_the_plan(campaign, size):
    (board,) = budget_of(campaign).of(Section.BOARD)

    # 3 % more than the sheets to be cut, in whole ones: one more
    assert board.quantity == campaign.plan.sheets.count() + 1
    assert board.amount == board.quantity * Decimal("12.50")


@pytest.mark.parametrize("terms", [{}, {"indirect_share": Decimal("0.15"), "board_spoilage_share": 0}])
def test_what_the_boxes_cost_is_what_has_to_be_paid(campaign, terms):
    BudgetTerms.objects.create(campaign=campaign, **terms)
    Supply.objects.create(
        name="Label", kind="label", unit="piece", price=Decimal("7.77"), pack=100, is_usual=True
    )

    budget = make_budget(campaign=campaign)

    boxes = list(campaign.housings.all())
    assert sum(box.cost for box in boxes) == budget.money > 0
    for groups in ("by_design", "by_board", "by_batch"):
        assert sum(Decimal(row["total"]) for row in budget.content[groups]) == budget.money
        assert sum(row["boxes"] for row in budget.content[groups]) == len(boxes)
    assert float(sum(box.labour_minutes for box in boxes)) / 60 == pytest.approx(
        float(budget.hours), abs=0.02
    )


def test_indirect_costs_come_on_top_of_all_others(campaign):
    before = budget_of(campaign).money
    BudgetTerms.objects.create(campaign=campaign, indirect_share=Decimal("0.15"))

    after = read_budget(make_budget(campaign=campaign))

    # half a cent away from zero: 12.105 is 12.11
    assert after.money == before + (before * Decimal("0.15")).quantize(Decimal("0.01"), ROUND_HALF_UP)


def test_what_a_volunteer_gives_is_worth_something_and_costs_nothing(campaign):
    Person.objects.update(kind="volunteer", in_kind_rate=Decimal("20"))

    budget = read_budget(make_budget(campaign=campaign))

    assert budget.of(Section.LABOUR) == ()
    assert sum(line.amount for line in budget.of(Section.IN_KIND)) > 0
    assert {box.labour_cost for box in campaign.housings.all()} == {0}
    assert all(box.labour_minutes > 0 for box in campaign.housings.all())


def test_freight_is_borne_by_the_boxes_whose_board_it_brings(campaign, size):
    supplier = Supplier.objects.create(name="Board maker", freight_each=Decimal("40"))
    size.supplier = supplier
    size.save()

    make_budget(campaign=campaign)

    planned = campaign.housings.filter(status="planned")
    assert sum(box.other_cost for box in planned) == 40
    assert campaign.housings.get(status="waiting").other_cost == 0


def test_a_dropped_box_leaves_the_budget(campaign):
    box = campaign.housings.filter(status="planned").first()
    move_housing(housing=box, status="dropped")

    budget = make_budget(campaign=campaign)

    assert budget.boxes == 2
    rest = campaign.housings.exclude(pk=box.pk)
    assert sum(one.cost for one in rest) == budget.money


def test_cutting_a_sheet_changes_no_budget(campaign, size):
    receive_sheets(sheet_size=size, count=9)
    before = make_budget(campaign=campaign)
    cut_sheet(sheet=campaign.plan.sheets.first())

    after = make_budget(campaign=campaign)

    assert after.content["lines"] == before.content["lines"]


# ---- What is missing is said -----------------------------------------------------------------------------


def test_boxes_that_wait_make_it_incomplete_and_are_counted(campaign):
    campaign.memberships.create(object=make_object())

    make_budget(campaign=campaign)

    assert "1 box waits: not measured" in problems(campaign)
    assert "1 object was added since the campaign was planned" in problems(campaign)
    assert not live_budget(campaign).is_complete


def test_a_campaign_in_which_no_box_could_be_planned_has_a_budget_that_says_so():
    campaign = make_campaign(make_object())
    plan_campaign(campaign=campaign)

    budget = live_budget(campaign)

    assert (budget.money, budget.is_complete, budget.boxes) == (0, False, 0)
    assert f"No box of “{campaign}” is planned" in problems(campaign)


@pytest.mark.parametrize(
    ("price", "words"), [(None, "has no price"), (Decimal("0"), "is 0")], ids=["missing", "zero"]
)
def test_a_supply_without_a_price_makes_it_incomplete(campaign, price, words):
    Supply.objects.create(name="Label", kind="label", unit="piece", price=price, is_usual=True)

    make_budget(campaign=campaign)

    (told,) = [what for what in problems(campaign) if words in what]
    assert "Label" in told
    assert not live_budget(campaign).is_complete


def test_there_is_none_before_the_plan():
    with pytest.raises(BudgetRefused, match="has no plan yet. Plan it first"):
        make_budget(campaign=make_campaign(make_object()))


# ---- Out of date -----------------------------------------------------------------------------------------


def change_price(campaign):
    campaign.plan.sheets.first().sheet_size.__class__.objects.update(price=13)


def change_standard(campaign):
    StandardTime.objects.create(element="cut", low=1, likely=2, high=3, source="Timed")


def change_terms(campaign):
    BudgetTerms.objects.create(campaign=campaign, labels_each=2)


def change_grade(campaign):
    grade = Grade.objects.create(name="Technician", on_cost_share=Decimal("0.28"))
    campaign.people.update(grade=grade)


def replan(campaign):
    campaign.plan.made_at += timedelta(seconds=1)
    campaign.plan.save()


def log_slow_cutting(campaign):
    for task in Task.objects.filter(step="cut", housing__campaign=campaign):
        spent = 3 * task.standard_minutes
        Task.objects.filter(pk=task.pk).update(state="done", done_at=timezone.now(), spent_minutes=spent)


CHANGES = {
    "minutes that were logged, which correct the standard times": log_slow_cutting,
    "a price of board, or a supplier": change_price,
    "a supply or its price": lambda campaign: Supply.objects.create(name="Tape", kind="tape", unit="m"),
    "a standard time": change_standard,
    "a person or a grade": change_grade,
    "the terms or the campaign's own figures": change_terms,
    "the cutting plan": replan,
    "an object, a design or a board that the plan rests on": lambda campaign: Design.objects.first().save(),
}


@pytest.mark.parametrize(("words", "change"), CHANGES.items(), ids=CHANGES)
def test_a_change_outdates_it_until_it_is_worked_out_again(campaign, words, change):
    assert is_budget_current(live_budget(campaign))

    change(campaign)

    assert words in changes_since(live_budget(campaign))
    assert not is_budget_current(live_budget(campaign))


def test_terms_saved_as_they_were_outdate_nothing(campaign):
    BudgetTerms.objects.create(campaign=campaign)

    assert is_budget_current(live_budget(campaign))


def test_a_price_of_a_board_that_the_campaign_does_not_use_outdates_nothing(campaign):
    make_sheet_size(price=99)

    assert is_budget_current(live_budget(campaign))


# ---- Frozen ----------------------------------------------------------------------------------------------


def test_a_frozen_budget_stays_as_it_was_when_prices_and_plans_change(campaign, size):
    frozen = freeze_budget(campaign=campaign, name="  The  grant ", by=None)
    before = (frozen.name, frozen.money, frozen.hours, frozen.content)
    size.price = 20
    size.save()
    add_objects(campaign=campaign, objects=[make_object()])
    plan_campaign(campaign=campaign)

    live = make_budget(campaign=campaign)

    frozen.refresh_from_db()
    assert (frozen.name, frozen.money, frozen.hours, frozen.content) == before
    assert before[0] == "The grant"
    assert live.pk != frozen.pk and live.money > frozen.money


def test_a_budget_frozen_out_of_date_says_what_had_changed(campaign):
    change_standard(campaign)

    frozen = freeze_budget(campaign=campaign, name="As asked for", by=None)

    assert frozen.content["changed_when_frozen"] == ["a standard time"]


@pytest.mark.parametrize(
    ("name", "words"), [("the GRANT", "There is a baseline"), ("   ", "A baseline needs a name")]
)
def test_a_baseline_needs_a_name_of_its_own(campaign, name, words):
    freeze_budget(campaign=campaign, name="The grant", by=None)

    with pytest.raises(BudgetRefused, match=words):
        freeze_budget(campaign=campaign, name=name, by=None)


def test_there_is_nothing_to_freeze_before_there_is_a_budget():
    with pytest.raises(BudgetRefused, match="has no budget yet"):
        freeze_budget(campaign=make_campaign(), name="The grant", by=None)
