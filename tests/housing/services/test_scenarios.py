"""Scenarios worked out: equal to the campaign's budget where nothing differs, and nothing of it changes."""

from decimal import Decimal

import pytest
from django.core import serializers

from boards.models import Board, Offcut, SheetSize, StockMovement
from boards.services import receive_sheets
from housing.core.budget.lines import Section
from housing.core.budget.stored import from_json
from housing.core.scenario_figures import Figures
from housing.core.scenarios import ScenarioRefused
from housing.models import (
    Blank,
    Budget,
    CampaignObject,
    Design,
    HousedObject,
    Housing,
    HousingEvent,
    Job,
    PlannedBlank,
    PlannedSheet,
    PlanRecord,
    ReadyMadeBox,
    Scenario,
    Task,
)
from housing.queries.budgets import live_budget
from housing.queries.scenario_columns import columns_of
from housing.services import jobs
from housing.services.budgets import make_budget
from housing.services.campaigns import plan_campaign
from housing.services.scenarios import compute_scenario, save_scenario
from housing.services.sheets import cut_sheet
from objects.models import CatalogueObject
from tests.factories import (
    log_steps,
    make_board,
    make_campaign,
    make_design,
    make_location,
    make_object,
    make_person,
    make_sheet_size,
)

pytestmark = pytest.mark.django_db

INCH = Decimal("25.4")
KEPT = (
    Housing, HousedObject, HousingEvent, Blank, Task, PlannedSheet, PlannedBlank, PlanRecord, Budget, Design,
    Board, SheetSize, StockMovement, Offcut, CampaignObject, CatalogueObject,
)  # fmt: skip


@pytest.fixture
def campaign():
    """Five bowls of priorities A, B, B, C and C, the last not measured; a volunteer and two who are paid.

    Sheets so large that each batch is cut from one of its own, which no search can better.
    """
    size = make_sheet_size(price=Decimal("12.50"), along_mm=Decimal(3600), across_mm=Decimal(2400))
    receive_sheets(sheet_size=size, count=1)
    shelf = make_location()
    things = [
        make_object(priority=priority, location=shelf, height_mm=height and Decimal(height))
        for priority, height in (("A", "254"), ("B", "200"), ("B", "120"), ("C", "254"), ("C", None))
    ]
    campaign = make_campaign(*things, rate_per_hour=Decimal("24"), mix_batches=False)
    campaign.memberships.filter(object__priority="C").update(batch=2)
    campaign.rules.create(position=1, design=make_design(board=size.board, padding="Foam"))
    campaign.people.add(
        make_person(rate_per_hour=Decimal("31"), hours_per_week=Decimal(4)),
        make_person(rate_per_hour=Decimal("19.37"), skills="cut; fold", hours_per_week=Decimal(6)),
        make_person(kind="volunteer", rate_per_hour=0, in_kind_rate=Decimal(15), skills="fit; return"),
    )
    plan_campaign(campaign=campaign)
    return campaign


def worked_out(campaign, **differences) -> Scenario:
    scenario = save_scenario(
        scenario=Scenario(
            campaign=campaign, name=f"Way {campaign.scenarios.count()}", differences=differences
        )
    )
    return compute_scenario(scenario=scenario)


def figures_of(scenario) -> Figures:
    return Figures.from_json(scenario.result["figures"])


def as_stored() -> str:
    return serializers.serialize("json", (row for model in KEPT for row in model.objects.order_by("pk")))


# ---- Nothing differs -------------------------------------------------------------------------------------


def test_where_nothing_differs_it_comes_to_the_campaigns_own_figures_to_the_cent(campaign):
    scenario = worked_out(campaign)

    as_it_is, column = columns_of(campaign)
    assert from_json(scenario.result["budget"]).lines == from_json(live_budget(campaign).content).lines
    assert column.figures == as_it_is.figures


def test_so_it_does_when_work_has_begun(campaign):
    cut_sheet(sheet=campaign.plan.sheets.first())
    log_steps(campaign, "score", Decimal(20))
    make_budget(campaign=campaign)

    scenario = worked_out(campaign)

    budget = live_budget(campaign)
    assert figures_of(scenario).money == budget.money
    assert from_json(scenario.result["budget"]).section_totals() == from_json(budget.content).section_totals()


def test_nothing_of_the_campaign_changes(campaign):
    ReadyMadeBox.objects.create(name="Cube", inner_x_mm=305, inner_y_mm=305, inner_z_mm=305, price=9)
    other = make_sheet_size(along_mm=Decimal(3600), across_mm=Decimal(2400)).board
    before = as_stored()

    worked_out(
        campaign,
        ready_made={"slack_mm": 60, "heaviest_g": None},
        board={str(campaign.rules.get().design.board_id): other.pk},
        only_priorities=["A", "B"],
        rate_per_hour="40",
    )

    assert as_stored() == before


# ---- What differs ----------------------------------------------------------------------------------------


def test_only_priority_a_makes_one_box_and_leaves_out_the_others(campaign):
    figures = figures_of(worked_out(campaign, only_priorities=["A"]))

    # one of five bowls is of priority A; of the other four one waits to be measured, and is not asked for
    assert (figures.made, figures.objects, figures.left_out, figures.waiting) == (1, 1, 4, 0)
    assert figures.money < live_budget(campaign).money


def test_boxes_begun_stay_in_whatever_is_asked_for(campaign):
    cut_sheet(sheet=campaign.plan.sheets.first())
    begun = campaign.housings.filter(status="in_work").count()

    figures = figures_of(worked_out(campaign, only_objects=[campaign.objects_in_it.last().pk]))

    assert figures.made >= begun > 0


def test_another_price_of_a_sheet_is_paid_for_every_sheet(campaign):
    size = SheetSize.objects.get()

    before, after = worked_out(campaign), worked_out(campaign, prices={f"sheet:{size.pk}": "22.50"})

    boards = [from_json(one.result["budget"]).section_totals()[Section.BOARD] for one in (before, after)]
    (line,) = from_json(before.result["budget"]).of(Section.BOARD)
    # 22.50 - 12.50 = 10.00 more for each sheet that is bought
    assert boards[1] - boards[0] == 10 * line.quantity
    assert SheetSize.objects.get().price == Decimal("12.50")


def test_fewer_hours_a_week_end_the_work_later(campaign):
    people = {str(person.pk): "1" for person in campaign.people.all()}

    finish = [figures_of(worked_out(campaign, **given)).finish for given in ({}, {"people": people})]

    assert finish[1] > finish[0]


def test_terms_of_its_own_leave_the_campaigns_alone(campaign):
    plain, dearer = worked_out(campaign), worked_out(campaign, terms={"indirect_share": "0.10"})

    money = from_json(plain.result["budget"]).money
    # 10 % of all other money, rounded to hundredths
    assert from_json(dearer.result["budget"]).money == money + round(money / 10, 2)
    assert not from_json(live_budget(campaign).content).of(Section.INDIRECT)


def test_bought_boxes_are_paid_by_the_pack_and_spare_board_and_hours(campaign):
    ReadyMadeBox.objects.create(
        name="Tall", inner_x_mm=11 * INCH, inner_y_mm=10 * INCH, inner_z_mm=12 * INCH, pack=5,
        price=Decimal("30.00"),
    )  # fmt: skip

    plain, buying = worked_out(campaign), worked_out(campaign, ready_made={"slack_mm": 40})

    # two bowls are 10 in high and need 11 in of height; the lower ones would leave more than 40 mm above
    assert figures_of(buying).bought == 2
    (line,) = from_json(buying.result["budget"]).of(Section.READY_MADE)
    assert line.amount == Decimal("30.00")  # one pack of five
    assert figures_of(buying).hours < figures_of(plain).hours
    assert sum(figures_of(buying).sheets.values()) <= sum(figures_of(plain).sheets.values())


# ---- Bad input -------------------------------------------------------------------------------------------


def test_it_is_refused_where_no_box_is_left_and_keeps_what_it_came_to_before(campaign):
    unmeasured = campaign.objects_in_it.get(height_mm=None)
    scenario = worked_out(campaign)
    scenario.differences = {"only_objects": [unmeasured.pk]}
    scenario.save()

    with pytest.raises(
        ScenarioRefused, match="Not one box is left to be made or bought: 4 are left out and 1 wait"
    ):
        compute_scenario(scenario=scenario)

    assert Scenario.objects.get().result == scenario.result


def test_a_board_without_a_sheet_size_is_named(campaign):
    other = make_board(code="Q9")

    with pytest.raises(ScenarioRefused, match="Q9 has no sheet size"):
        worked_out(campaign, board={str(campaign.rules.get().design.board_id): other.pk})


def test_a_person_without_hours_is_named(campaign):
    idle = make_person(name="Idle Ida", hours_per_week=0)
    campaign.people.add(idle)

    problems = worked_out(campaign).result["problems"]

    assert "Idle Ida has no hours a week" in [problem["what"] for problem in problems]


def test_work_that_nobody_can_do_has_no_end_and_says_why(campaign):
    people = {str(person.pk): "0" for person in campaign.people.exclude(kind="volunteer")}

    scenario = worked_out(campaign, people=people)

    assert figures_of(scenario).finish is None
    assert any("nobody" in problem["what"] for problem in scenario.result["problems"])


def test_a_campaign_without_objects_says_so():
    with pytest.raises(ScenarioRefused, match="has no objects yet"):
        worked_out(make_campaign())


def test_one_changed_meanwhile_is_not_overwritten(campaign, monkeypatch):
    scenario = worked_out(campaign)
    before = scenario.result

    def change_it(percent, stage, standing=None):
        Scenario.objects.filter(pk=scenario.pk).update(differences={"only_priorities": ["A"]})

    with pytest.raises(ScenarioRefused, match="changed or deleted while it was being worked out"):
        compute_scenario(scenario=scenario, progress=change_it)

    assert Scenario.objects.get().result == before


# ---- Whether it still holds ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "change",
    [
        lambda campaign: SheetSize.objects.update(price=99),
        lambda campaign: campaign.rules.get().design.save(),
        lambda campaign: campaign.objects_in_it.first().save(),
        lambda campaign: campaign.objects_in_it.add(make_object()),
        lambda campaign: Scenario.objects.update(differences={"only_priorities": ["A"]}),
        lambda campaign: campaign.people.first().delete(),
    ],
    ids=["price", "design", "object", "objects", "differences", "people"],
)
def test_a_change_of_what_it_rests_on_marks_it_out_of_date(campaign, change):
    worked_out(campaign)
    assert columns_of(campaign)[1].is_current

    change(campaign)

    assert not columns_of(campaign)[1].is_current


# ---- In the background -----------------------------------------------------------------------------------


def run(*scenarios: Scenario, **given) -> Job:
    """Work scenarios out as the worker does."""
    asked = {"campaign": scenarios[0].campaign_id, "scenarios": [scenario.pk for scenario in scenarios]}
    job = Job.objects.create(kind=Job.Kind.SCENARIO, title="Work out", parameters=asked, **given)
    jobs.run_job.func(job.pk)
    job.refresh_from_db()
    return job


def test_a_job_works_out_what_it_can_and_names_the_rest(campaign):
    good = save_scenario(scenario=Scenario(campaign=campaign, name="Good"))
    no_board = {"board": {str(Board.objects.get().pk): 999}}
    bad = save_scenario(scenario=Scenario(campaign=campaign, name="Bad", differences=no_board))

    job = run(good, bad)

    assert job.state == Job.State.DONE
    assert job.message.startswith(
        "1 worked out; the campaign is as it was. “Bad” could not be worked out: The board"
    )
    good.refresh_from_db()
    assert good.result and not Scenario.objects.get(pk=bad.pk).result


@pytest.mark.django_db(transaction=True)
def test_a_cancelled_job_leaves_every_scenario_as_it_was(campaign):
    scenario = save_scenario(scenario=Scenario(campaign=campaign, name="Way"))

    job = run(scenario, wish=Job.Wish.CANCEL)

    scenario.refresh_from_db()
    assert (job.state, scenario.result) == (Job.State.CANCELLED, {})
