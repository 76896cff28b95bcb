"""Planning again: what is cut and what can stay does not move, the rest is valid, costs and tasks add up."""

from collections.abc import Callable
from decimal import Decimal
from random import Random

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from boards.core import nesting
from boards.core.nesting import Layout, Piece, check
from boards.services import keep_offcut, receive_sheets
from housing.core.waste_corners import waste_corners
from housing.models import Blank, Campaign, CuttingPlan, Housing, PlannedSheet, Task
from housing.queries.budgets import live_budget
from housing.queries.plans import cut_sheet_of
from housing.services.budgets import make_budget
from housing.services.campaigns import CampaignRefused, add_objects, plan_campaign, set_batch
from housing.services.giving_out import assign_tasks
from housing.services.housings import house_together, move_housing
from housing.services.nesting import rules_of
from housing.services.sheets import cut_sheet
from housing.services.tasks import start_task, uncut_sheets
from objects.models import CatalogueObject
from tests.factories import (
    make_board,
    make_campaign,
    make_design,
    make_location,
    make_object,
    make_person,
    make_sheet_size,
)

pytestmark = pytest.mark.django_db

# What a stored sheet is, apart from its key, price and batch.
type Sheets = dict[int, tuple]


@pytest.fixture(autouse=True)
def little_work(monkeypatch):
    """A tenth of the search: here it counts what moves, not how close to the least the plans are."""
    work_for = nesting.work_for
    monkeypatch.setattr(nesting, "work_for", lambda blanks: work_for(blanks) / 10)


@pytest.fixture
def size():
    """A sheet of 60 x 40 in, twenty of them in stock."""
    size = make_sheet_size(board=make_board(code="B32"))
    receive_sheets(sheet_size=size, count=20)
    return size


@pytest.fixture
def design(size):
    return make_design(board=size.board, padding="felt", padding_price_m2=Decimal("12.50"))


@pytest.fixture
def campaign(design):
    """Twelve bowls of many sizes, two people, and a plan."""
    widths = (60, 90, 130, 150, 170, 200, 230, 260, 300, 340, 380, 400)
    shelf = make_location()
    bowls = [
        make_object(width_mm=width, depth_mm=width, height_mm=width // 2, location=shelf) for width in widths
    ]
    campaign = make_campaign(*bowls)
    campaign.people.add(make_person(), make_person(hours_per_week=Decimal("8"), handles_hazards=False))
    campaign.rules.create(position=1, design=design, reason="Suits anything rigid.")
    plan_campaign(campaign=campaign)
    return campaign


def again(campaign: Campaign, **given) -> CuttingPlan:
    return plan_campaign(campaign=Campaign.objects.get(pk=campaign.pk), keep=True, **given)


def sheets_of(campaign: Campaign) -> Sheets:
    """The stored sheets by key: position, source, blanks with their places, cuts, offcuts."""
    rows = PlannedSheet.objects.filter(plan__campaign=campaign).prefetch_related("placements")
    return {
        row.pk: (
            row.position, row.sheet_size_id, row.offcut_id, row.cuts, row.offcuts,
            sorted(row.placements.values_list("pk", "blank", "x_mm", "y_mm", "turned", "host")),
        )
        for row in rows
    }  # fmt: skip


def sheets_without(campaign: Campaign, *things: CatalogueObject) -> Sheets:
    """The stored sheets on which nothing of these objects lies."""
    theirs = PlannedSheet.objects.filter(placements__blank__housing__contents__object__in=things)
    return {
        pk: sheet
        for pk, sheet in sheets_of(campaign).items()
        if pk not in theirs.values_list("pk", flat=True)
    }


def stays(before: Sheets, campaign: Campaign) -> bool:
    """Whether sheets are still there, as they were."""
    return before.items() <= sheets_of(campaign).items()


def moves_least(others: Sheets, campaign: Campaign, *things: CatalogueObject) -> bool:
    """Whether of the sheets of others no more changed than now hold a blank of these objects."""
    of_things = PlannedSheet.objects.filter(
        plan__campaign=campaign, cut_at=None, placements__blank__housing__contents__object__in=things
    )
    now = sheets_of(campaign)
    gone = [pk for pk, sheet in others.items() if now.get(pk) != sheet]
    return len(gone) <= of_things.distinct().count()


def assert_is_whole(campaign: Campaign) -> None:
    """Every blank once, the sheets not yet cut without fault, costs and tasks as if all were done anew."""
    wanted = Blank.objects.filter(
        housing__campaign=campaign, housing__status__in=("planned", "in_work"), material="board"
    )
    placed = Blank.objects.filter(placements__sheet__plan__campaign=campaign).values_list("pk", flat=True)
    assert sorted(placed) == sorted(wanted.values_list("pk", flat=True))
    assert faults(campaign) == ()
    for board_plan in campaign.plan.board_plans.all():
        sheets = campaign.plan.sheets.filter(board=board_plan.board, cut_at=None)
        assert sum(sheet.price for sheet in sheets) == board_plan.cost
    found = costs_and_tasks(campaign)
    plan = CuttingPlan.objects.get(campaign=campaign)
    Housing.objects.filter(campaign=campaign).update(board_cost=0, glue_cost=0, labour_minutes=0)
    Task.objects.filter(housing__campaign=campaign, state="to_do").delete()
    assign_tasks(campaign=plan.campaign)
    make_budget(campaign=plan.campaign)
    assert found == costs_and_tasks(campaign)


def faults(campaign: Campaign) -> tuple[str, ...]:
    """What the judge says of the stored sheets that are not yet cut; blanks as they are stored now."""
    rows = PlannedSheet.objects.filter(plan__campaign=campaign, cut_at=None)
    made = [cut_sheet_of(row) for row in rows]
    pieces = [
        piece_of(str(placed.pk), placed.blank, campaign.may_turn)
        for row in rows
        for placed in row.placements.all()
    ]
    layout = Layout(tuple(sheet for sheet, _ in made), ())
    return check(layout, pieces, [source for _, source in made], rules_of(campaign))


def piece_of(key: str, blank: Blank, may_turn: bool) -> Piece:
    flat = blank.to_core()
    waste = [(rest.x_mm, rest.y_mm, rest.width_mm, rest.height_mm) for rest in flat.waste]
    corners = waste_corners(flat.x_mm, flat.y_mm, waste, flat.flute_along)
    along, across = round(flat.along_mm, 4), round(flat.across_mm, 4)
    return Piece(key, along, across, may_turn, corners)


def costs_and_tasks(campaign: Campaign) -> dict[str, list]:
    content = live_budget(campaign).content
    housings = Housing.objects.filter(campaign=campaign, blanks__placements__sheet__plan__campaign=campaign)
    tasks = Task.objects.filter(housing__campaign=campaign).order_by("housing", "sequence")
    return {
        "budget": {key: content[key] for key in ("lines", "problems", "hours", "by_design", "by_board")},
        "housings": list(
            housings.distinct().order_by("pk").values_list(
                "pk", "board_cost", "glue_cost", "padding_cost", "labour_cost", "other_cost", "labour_minutes"
            )
        ),
        "tasks": list(
            tasks.values_list(
                "housing", "step", "sequence", "planned_minutes", "person", "week", "reason", "state"
            )
        ),
    }  # fmt: skip


# ---- What stays ------------------------------------------------------------------------------------------


@pytest.mark.any_database
def test_nothing_changed_leaves_all_as_it_was(campaign):
    sheets, tasks = sheets_of(campaign), set(Task.objects.values_list("pk", flat=True))
    costs = costs_and_tasks(campaign)

    plan = again(campaign)

    assert plan.pk == campaign.plan.pk
    assert sheets_of(campaign) == sheets
    assert set(Task.objects.values_list("pk", flat=True)) == tasks
    assert costs_and_tasks(campaign) == costs
    assert_is_whole(campaign)


def test_an_object_added_moves_no_more_than_the_sheets_it_goes_on(campaign):
    before = sheets_of(campaign)
    add_objects(campaign=campaign, objects=[new := make_object(width_mm=410, depth_mm=410)])

    again(campaign)

    assert moves_least(before, campaign, new)
    assert_is_whole(campaign)


def test_an_object_measured_again_leaves_the_sheets_of_others(campaign):
    thing = campaign.objects_in_it.order_by("width_mm")[6]
    others = sheets_without(campaign, thing)
    thing.width_mm += 3
    thing.save()

    again(campaign)

    assert moves_least(others, campaign, thing)
    assert_is_whole(campaign)


def test_a_box_that_becomes_smaller_on_the_same_sheet_is_laid_out_in_its_new_size(campaign):
    thing = campaign.objects_in_it.order_by("width_mm")[0]
    others = sheets_without(campaign, thing)
    thing.width_mm -= 2
    thing.save()

    again(campaign)

    assert moves_least(others, campaign, thing)
    assert_is_whole(campaign)


def test_a_box_worked_out_again_to_the_same_size_keeps_its_sheets(campaign):
    sheets = sheets_of(campaign)
    campaign.objects_in_it.first().save()  # its time of change only

    again(campaign)

    assert sheets_of(campaign) == sheets
    assert_is_whole(campaign)


def test_a_dropped_box_leaves_the_sheets_of_others(campaign):
    thing = campaign.objects_in_it.order_by("width_mm")[5]
    others = sheets_without(campaign, thing)
    move_housing(housing=thing.housings.get(), status="dropped")
    campaign.memberships.filter(object=thing).delete()

    again(campaign)

    assert stays(others, campaign)
    assert not thing.housings.get().blanks.filter(placements__isnull=False).exists()
    assert_is_whole(campaign)


def test_a_box_that_is_made_anew_leaves_the_sheets_of_others(campaign):
    thing = campaign.objects_in_it.order_by("width_mm")[5]
    others = sheets_without(campaign, thing)
    move_housing(housing=thing.housings.get(), status="dropped")

    again(campaign)

    assert moves_least(others, campaign, thing)
    assert thing.housings.filter(status="planned").count() == 1
    assert_is_whole(campaign)


def test_a_set_made_of_two_boxes_leaves_the_sheets_of_others(campaign):
    pair = list(campaign.objects_in_it.order_by("width_mm")[:2])
    others = sheets_without(campaign, *pair)
    house_together(contents=pair, campaign=campaign)

    again(campaign)

    assert moves_least(others, campaign, *pair)
    assert_is_whole(campaign)


def test_another_form_for_one_object_leaves_the_sheets_of_others(campaign, design):
    thing = campaign.objects_in_it.order_by("width_mm")[3]
    others = sheets_without(campaign, thing)
    folder = make_design(board=design.board, form="four_flap")
    campaign.memberships.filter(object=thing).update(chosen_design=folder)

    again(campaign)

    assert moves_least(others, campaign, thing)
    assert thing.housings.get().design == folder
    assert_is_whole(campaign)


@pytest.mark.any_database
def test_another_board_leaves_the_sheets_of_boards_that_stay(campaign, design):
    things = campaign.objects_in_it.order_by("width_mm")[:4]
    other = make_design(board=make_sheet_size(board=make_board(code="E16")).board)
    campaign.memberships.filter(object__in=things.values("pk")).update(chosen_design=other)
    again(campaign)
    of_other = {sheet.pk for sheet in campaign.plan.sheets.filter(board=other.board)}
    before = {pk: sheet for pk, sheet in sheets_of(campaign).items() if pk in of_other}

    design.board.caliper_mm = Decimal("3.3")  # as the next delivery turned out
    design.board.save()
    again(campaign)

    assert before
    assert stays(before, campaign)
    assert_is_whole(campaign)


def test_cut_sheets_stay_and_the_rest_of_begun_boxes_stays_planned(campaign):
    cut = [cut_sheet(sheet=sheet) for sheet in campaign.plan.sheets.order_by("position")[:2]]
    before = sheets_of(campaign)

    again(campaign)

    assert sheets_of(campaign) == before
    assert set(campaign.plan.sheets.exclude(cut_at=None)) == set(cut)
    assert_is_whole(campaign)


def test_tasks_that_were_begun_stay_with_whoever_began_them(campaign):
    housing = campaign.housings.order_by("pk")[4]
    person = campaign.people.last()
    for sheet in uncut_sheets(housing):
        cut_sheet(sheet=sheet, person=person, minutes=Decimal(20))
    begun = start_task(task=housing.tasks.get(step="score"), person=person)
    thing = campaign.objects_in_it.order_by("width_mm")[0]
    thing.width_mm += 10
    thing.save()

    again(campaign)

    begun.refresh_from_db()
    assert (begun.person, begun.state) == (person, "started")
    assert_is_whole(campaign)


# ---- What is brought up to date --------------------------------------------------------------------------


def test_a_sheet_that_stays_costs_what_it_costs_now(campaign, size):
    sheets = sheets_of(campaign)
    size.price = Decimal("15.10")
    size.save()

    again(campaign)

    assert sheets_of(campaign) == sheets
    assert {sheet.price for sheet in campaign.plan.sheets.all()} == {Decimal("15.10")}
    assert_is_whole(campaign)


def test_an_hour_of_work_costs_what_it_costs_now(campaign):
    before = sum(campaign.housings.values_list("labour_cost", flat=True))
    campaign.rate_per_hour *= 2
    campaign.save()
    campaign.people.update(rate_per_hour=campaign.rate_per_hour)

    again(campaign)

    now = sum(campaign.housings.values_list("labour_cost", flat=True))
    assert now == pytest.approx(2 * before, abs=Decimal("0.12"))  # twelve boxes, each rounded to a cent
    assert_is_whole(campaign)


def test_a_sheet_that_stays_is_cut_for_the_first_batch_on_it(campaign):
    sheets = sheets_of(campaign)
    set_batch(campaign=campaign, objects=campaign.objects_in_it.all(), batch=2)

    again(campaign)

    assert sheets_of(campaign) == sheets
    assert {sheet.batch for sheet in campaign.plan.sheets.all()} == {2}


def test_a_reason_worded_anew_is_told(campaign):
    sheets = sheets_of(campaign)
    campaign.rules.update(reason="As all rigid things.")

    again(campaign)

    assert sheets_of(campaign) == sheets
    assert set(campaign.housings.values_list("design_reason", flat=True)) == {"As all rigid things."}


def test_figures_of_a_design_change_costs_and_leave_sheets(campaign, design):
    sheets = sheets_of(campaign)
    design.standard_times.create(
        element="glue", low=Decimal("2"), likely=Decimal("2.5"), high=Decimal("4"), source="Timed"
    )

    again(campaign)

    assert sheets_of(campaign) == sheets
    assert_is_whole(campaign)


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("kerf_mm", Decimal("0")),
        ("kerf_mm", Decimal("4")),
        ("trim_mm", Decimal("0")),
        ("trim_mm", Decimal("12")),
        ("may_turn", True),
        ("use_corners", False),
        ("edge_to_edge", False),
        ("offcut_side_mm", Decimal("400")),
    ],
)
def test_other_rules_of_cutting_are_obeyed(campaign, field, value):
    setattr(campaign, field, value)
    campaign.save()

    again(campaign)

    assert_is_whole(Campaign.objects.get(pk=campaign.pk))


def test_batches_that_may_mix_no_longer_are_parted(campaign):
    set_batch(campaign=campaign, objects=campaign.objects_in_it.order_by("pk")[:5], batch=2)
    again(campaign)
    campaign.mix_batches = False
    campaign.save()

    again(campaign)

    of_object = dict(campaign.memberships.values_list("object", "batch"))
    for sheet in campaign.plan.sheets.all():
        lying = sheet.placements.values_list("blank__housing__contents__object", flat=True)
        assert {of_object[thing] for thing in lying} == {sheet.batch}


def test_an_offcut_that_came_in_meanwhile_does_not_move_what_can_stay(campaign, size):
    sheets = sheets_of(campaign)
    keep_offcut(board=size.board, along_mm=1500, across_mm=1000)

    again(campaign)

    assert stays(sheets, campaign)
    assert_is_whole(campaign)


def test_a_box_that_no_longer_fits_a_sheet_waits(campaign, size):
    campaign.trim_mm = Decimal("100")
    campaign.save()
    size.across_mm = Decimal("800")
    size.save()

    again(campaign)

    assert campaign.housings.filter(problem="too_large").exists()
    assert_is_whole(Campaign.objects.get(pk=campaign.pk))


# ---- Refused ---------------------------------------------------------------------------------------------


def test_a_campaign_planned_meanwhile_is_not_planned_again_on_top(campaign):
    def meanwhile(percent: int, *told) -> None:
        if percent == 15 and len(told) == 1:
            plan_campaign(campaign=Campaign.objects.get(pk=campaign.pk))

    with pytest.raises(CampaignRefused, match="Somebody planned"):
        again(campaign, progress=meanwhile)


# ---- Many changes, one after the other -------------------------------------------------------------------


def remeasure(campaign: Campaign, chance: Random) -> None:
    thing = chance.choice(campaign.objects_in_it.order_by("pk"))
    thing.width_mm = Decimal(chance.randint(40, 420))
    thing.save()


def add(campaign: Campaign, chance: Random) -> None:
    add_objects(campaign=campaign, objects=[make_object(width_mm=chance.randint(40, 420))])


def drop(campaign: Campaign, chance: Random) -> None:
    housing = chance.choice(campaign.housings.filter(status="planned").order_by("pk"))
    move_housing(housing=housing, status="dropped")


def cut(campaign: Campaign, chance: Random) -> None:
    cut_sheet(sheet=chance.choice(campaign.plan.sheets.filter(cut_at=None).order_by("pk")))


def unmeasure(campaign: Campaign, chance: Random) -> None:
    thing = chance.choice(campaign.objects_in_it.order_by("pk"))
    thing.size_state = chance.choice(["check", "known"])
    thing.save()


@pytest.mark.any_database
@pytest.mark.parametrize("seed", range(3))
def test_many_changes_one_after_the_other(campaign, seed):
    chance = Random(seed)
    changes: list[Callable] = [remeasure, add, drop, cut, unmeasure]
    for _ in range(5):
        for change in chance.sample(changes, 2):
            change(campaign, chance)
        was_cut = {
            sheet: sheets_of(campaign)[sheet]
            for sheet in campaign.plan.sheets.exclude(cut_at=None).values_list("pk", flat=True)
        }

        again(campaign)

        assert stays(was_cut, campaign)
        assert_is_whole(campaign)


def test_nothing_changed_takes_as_many_queries_for_many_boxes_as_for_few(campaign):
    def queries() -> int:
        with CaptureQueriesContext(connection) as made:
            again(campaign)
        return len(made)

    few = queries()
    add_objects(campaign=campaign, objects=[make_object() for _ in range(8)])
    again(campaign)

    assert queries() == few
