"""Planning a small campaign: what is planned, what waits, what a cut sheet moves, and planning again."""

from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction

from boards.services import StockRefused, drop_offcut, keep_offcut, receive_sheets
from housing.models import HousedObject, Housing, PlannedBlank
from housing.queries.budgets import live_budget
from housing.queries.progress import is_plan_current
from housing.services.campaigns import CampaignRefused, plan_campaign
from housing.services.housings import move_housing
from housing.services.nesting import PlanRefused
from housing.services.sheets import cut_sheet
from tests.factories import (
    balance_of,
    make_campaign,
    make_design,
    make_housing,
    make_object,
    make_person,
    make_sheet_size,
)

pytestmark = [pytest.mark.django_db, pytest.mark.any_database]


@pytest.fixture
def size():
    """A sheet of 60 x 40 in: one base of the example bowl, 32 3/4 x 31 1/8 in and a little more, a sheet."""
    size = make_sheet_size()
    receive_sheets(sheet_size=size, count=10)
    return size


@pytest.fixture
def design(size):
    return make_design(board=size.board)


def campaign_of(design, *objects, **given):
    campaign = make_campaign(*objects, **given)
    campaign.rules.create(position=1, design=design, reason="All alike")
    campaign.people.add(make_person())
    return campaign


def test_a_plan_gives_every_measured_object_a_box_on_a_sheet(design):
    campaign = campaign_of(design, make_object(), make_object())

    plan = plan_campaign(campaign=campaign)

    assert [h.status for h in campaign.housings.all()] == ["planned", "planned"]
    assert PlannedBlank.objects.filter(sheet__plan=plan).count() == 4  # a base and a lid each


def test_what_cannot_be_planned_is_counted_apart_by_its_problem(design):
    no_rule = make_object(classification="Textiles")
    campaign = make_campaign(
        make_object(), no_rule, make_object(height_mm=None), make_object(size_state="check"),
        make_object(width_mm=Decimal("3000")),
    )  # fmt: skip
    campaign.rules.create(position=1, design=design, classification="Ceramics")

    plan_campaign(campaign=campaign)

    found = campaign.housings.order_by("problem").values_list("problem", flat=True)
    assert list(found) == ["", "check", "no_design", "too_large", "unmeasured"]


def test_a_cut_sheet_takes_from_the_stock_and_begins_its_housings(design, size):
    campaign = campaign_of(design, make_object())
    sheet = plan_campaign(campaign=campaign).sheets.first()

    cut_sheet(sheet=sheet)

    assert balance_of(size) == 9  # 10 - 1
    assert campaign.housings.get().status == Housing.Status.IN_WORK


def test_planning_again_keeps_cut_sheets_and_finds_the_lid_of_a_begun_box_a_new_place(design):
    campaign = campaign_of(design, make_object())
    plan = plan_campaign(campaign=campaign)
    # Base 32 3/4 x 31 1/8 in and lid about 19 x 17 in (common practice, no source): both fit 60 x 40 in, so
    # the lid is moved to a sheet of its own to have a box of which only the base is cut.
    first = plan.sheets.get()
    lid = first.placements.get(blank__part="lid")
    lid.sheet = plan.sheets.create(
        position=2, board=first.board, sheet_size=first.sheet_size, along_mm=first.along_mm,
        across_mm=first.across_mm, price=first.price,
    )  # fmt: skip
    lid.save()
    cut_sheet(sheet=first)

    plan_campaign(campaign=campaign)

    first.refresh_from_db()
    assert first.cut_at and [p.blank.part for p in first.placements.all()] == ["base"]
    (new,) = plan.sheets.exclude(pk=first.pk)
    assert [p.blank for p in new.placements.all()] == [lid.blank]


def test_a_box_begun_without_cutting_its_sheet_is_planned_beside_the_others(design):
    campaign = campaign_of(design, make_object(), make_object())
    plan_campaign(campaign=campaign)
    move_housing(housing=campaign.housings.first(), status=Housing.Status.IN_WORK)

    plan = plan_campaign(campaign=campaign)

    assert sum(sheet.placements.count() for sheet in plan.sheets.all()) == 4  # base and lid of two boxes
    assert 0 < plan.board_plans.get().used_share < 1


def test_planning_twice_gives_the_same_housings(design):
    campaign = campaign_of(design, make_object(), make_object())
    plan_campaign(campaign=campaign)
    before = list(campaign.housings.values_list("pk", flat=True))

    plan_campaign(campaign=campaign)

    assert list(campaign.housings.values_list("pk", flat=True)) == before


def test_an_object_has_one_live_housing(design):
    thing = make_object()
    make_housing(thing, design=design)

    with pytest.raises(IntegrityError), transaction.atomic():
        HousedObject.objects.create(housing=make_housing(design=design), object=thing)


def test_the_budget_is_worked_out_with_the_plan_and_shared_out_over_the_boxes():
    size = make_sheet_size()  # none in stock
    campaign = campaign_of(make_design(board=size.board), make_object(), make_object(width_mm=Decimal("400")))

    plan = plan_campaign(campaign=campaign)

    budget = live_budget(campaign)
    boxes = campaign.housings.all()
    assert budget.money == sum(box.cost for box in boxes) > 0
    # 3 % more sheets than are cut, in whole ones: one more of up to 33
    assert sum(box.board_cost for box in boxes) == (plan.sheets.count() + 1) * size.price


# ---- Refused ---------------------------------------------------------------------------------------------


def test_a_campaign_without_objects_is_not_planned(design):
    with pytest.raises(CampaignRefused, match="has no objects yet"):
        plan_campaign(campaign=campaign_of(design))


def test_a_sheet_is_cut_once(design, size):
    sheet = plan_campaign(campaign=campaign_of(design, make_object())).sheets.first()
    cut_sheet(sheet=sheet)

    with pytest.raises(PlanRefused, match="was cut already"):
        cut_sheet(sheet=sheet)

    assert balance_of(size) == 9


def test_a_sheet_that_is_not_in_stock_is_not_cut():
    size = make_sheet_size()
    campaign = campaign_of(make_design(board=size.board), make_object())
    sheet = plan_campaign(campaign=campaign).sheets.first()

    with pytest.raises(StockRefused, match="Only 0 sheets"):
        cut_sheet(sheet=sheet)

    assert campaign.housings.get().status == Housing.Status.PLANNED


def test_a_sheet_is_not_cut_from_an_offcut_that_is_gone(design):
    offcut = keep_offcut(board=design.board, along_mm=1500, across_mm=1000)
    sheet = plan_campaign(campaign=campaign_of(design, make_object())).sheets.get(offcut=offcut)
    drop_offcut(offcut=offcut)

    with pytest.raises(PlanRefused, match="no longer on the rack"):
        cut_sheet(sheet=sheet)


def test_what_changes_while_a_plan_is_worked_out_makes_it_out_of_date(design):
    thing = make_object()
    campaign = campaign_of(design, thing)

    plan_campaign(campaign=campaign, progress=lambda percent, stage, *more: percent == 15 and thing.save())

    assert not is_plan_current(campaign)


def test_a_box_begun_while_its_campaign_is_planned_stops_the_plan(design):
    campaign = campaign_of(design, make_object())
    sheet = plan_campaign(campaign=campaign).sheets.get()

    with pytest.raises(CampaignRefused, match="while it was being planned"):
        plan_campaign(
            campaign=campaign,
            progress=lambda percent, _, *more: percent == 15 and not more and cut_sheet(sheet=sheet),
        )


def test_a_lid_cut_while_its_campaign_is_planned_is_not_planned_again(design):
    campaign = campaign_of(design, make_object())
    sheet = plan_campaign(campaign=campaign).sheets.get()
    campaign.housings.update(status=Housing.Status.IN_WORK)  # begun, but no sheet of it is cut

    with pytest.raises(CampaignRefused, match="while it was being planned"):
        plan_campaign(
            campaign=campaign,
            progress=lambda percent, _, *more: percent == 15 and not more and cut_sheet(sheet=sheet),
        )


def test_a_box_that_has_to_wait_keeps_nothing_of_an_earlier_plan(design):
    thing = make_object()
    campaign = campaign_of(design, thing)
    plan_campaign(campaign=campaign)
    thing.size_state = "check"
    thing.save()

    plan_campaign(campaign=campaign)

    box = Housing.objects.get(campaign=campaign)
    # measuring it again is work, all else is open: 6 min and 11 % for rest, 0.11 h at 24
    assert (box.status, box.labour_minutes) == ("waiting", Decimal("6.66"))
    assert box.cost == box.labour_cost == Decimal("2.64")
    assert box.inner_mm == box.outside_mm == (None, None, None)
