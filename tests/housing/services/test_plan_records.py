"""Keeping what a plan was: its figures and names, in few queries, and the last records only."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from boards.services import keep_offcut
from housing.core.plan_comparison import BoardFigures, SheetContents
from housing.models import Blank, CuttingPlan, PlanRecord
from housing.queries.plans import label_of
from housing.services.plan_records import KEPT, keep_record
from tests.factories import (
    make_board,
    make_campaign,
    make_design,
    make_housing,
    make_object,
    make_sheet_size,
    make_user,
)

pytestmark = [pytest.mark.django_db, pytest.mark.any_database]


@pytest.fixture
def size():
    """A sheet of 1000 x 500 mm, 0.5 m2, of board B7 at 12.50."""
    return make_sheet_size(board=make_board(code="B7"), along_mm=Decimal("1000"), across_mm=Decimal("500"))


@pytest.fixture
def plan(size):
    campaign = make_campaign(make_object(number="1998.1"), make_object(number="1998.2"))
    return CuttingPlan.objects.create(campaign=campaign, kerf_mm=Decimal("1"), trim_mm=Decimal("5.5"))


def add_sheet(plan, size, *blanks, **given):
    """A new sheet of the plan; blanks: (blank, x, y, along, across)."""
    sheet = plan.sheets.create(
        **{
            "position": plan.sheets.count() + 1,
            "board": size.board,
            "sheet_size": None if given.get("offcut") else size,
            "along_mm": size.along_mm,
            "across_mm": size.across_mm,
            "price": size.price,
            **given,
        }
    )
    for blank, x_mm, y_mm, along_mm, across_mm in blanks:
        sheet.placements.create(blank=blank, x_mm=x_mm, y_mm=y_mm, along_mm=along_mm, across_mm=across_mm)
    return sheet


def make_blank(housing, part: str) -> Blank:
    return housing.blanks.create(part=part, x_mm=1, y_mm=1, flute_along="x", geometry={})


def box_of(plan, *numbers: str, design=None):
    objects = [make_object(number=number) for number in numbers]
    return make_housing(*objects, campaign=plan.campaign, design=design)


def test_a_record_tells_the_sheets_and_the_names_of_their_blanks(plan, size):
    box = box_of(plan, "1998.1.3", "1998.1.4")
    offcut = keep_offcut(board=size.board, along_mm=Decimal("400"), across_mm=Decimal("300.5"), note="")
    add_sheet(
        plan, size,
        (make_blank(box, "lid"), 0, 200, 300, 200), (make_blank(box, "inner_tray"), 0, 0, 300, 199),
    )  # fmt: skip
    add_sheet(plan, size, offcut=offcut, along_mm=400, across_mm=Decimal("300.5"), cut_at=timezone.now())

    record = keep_record(plan)

    record.refresh_from_db()
    assert record.to_core().sheets == (
        SheetContents(
            "B7", "1000 × 500 mm", 1000.0, 500.0, False,
            ("1998.1.3, 1998.1.4 inner tray", "1998.1.3, 1998.1.4 lid"),
        ),
        SheetContents("B7", f"offcut {offcut.pk}", 400.0, 300.5, True, ()),
    )  # fmt: skip


def test_blanks_are_named_as_on_the_sheets_of_the_plan(plan, size):
    box = box_of(plan, "1998.1.3", "1998.1.4")
    sheet = add_sheet(plan, size, (make_blank(box, "inner_tray"), 0, 0, 300, 200))

    record = keep_record(plan)

    assert record.sheets[0]["blanks"] == (label_of(sheet.placements.get()),)


def test_a_record_tells_the_figures_of_each_board(plan, size):
    box, other = box_of(plan, "1998.1.3"), box_of(plan, "1998.1.5")
    add_sheet(
        plan, size,
        (make_blank(box, "base"), 0, 0, 500, 400),  # 0.20 m2
        (make_blank(box, "lid"), 0, 0, 100, 50),  # in its corner, 0.005 m2
        offcuts=[
            {"x_mm": 0, "y_mm": 401, "along_mm": 1000.0, "across_mm": 99.0},
            {"x_mm": 501, "y_mm": 0, "along_mm": 499.0, "across_mm": 400.0},
        ],
    )  # fmt: skip
    add_sheet(plan, size, (make_blank(other, "base"), 0, 0, 500, 400), cut_at=timezone.now())
    plan.board_plans.create(
        board=size.board, cost=Decimal("12.50"), least_cost=Decimal("6.25"), sheets=1, least_sheets=1,
        used_share=0.41,
    )  # fmt: skip

    record = keep_record(plan)

    record.refresh_from_db()
    assert record.to_core().boards == (
        BoardFigures(
            board="B7", cost=Decimal("12.50"), least_cost=Decimal("6.25"), sheets=1, least_sheets=1,
            cut_cost=Decimal("12.50"), cut_sheets=1, blanks=3,
            used_share=pytest.approx(0.405),  # 0.20 + 0.005 + 0.20 of two sheets of 0.5 m2
            offcut_mm2=298_600.0,  # 1000 x 99 + 499 x 400 = 99,000 + 199,600
            in_corners=1,
        ),
    )  # fmt: skip
    assert (record.cost, record.sheet_count) == (Decimal("25.00"), 2)  # a new sheet and a cut one


def test_a_board_whose_sheets_are_all_cut_has_no_new_cost(plan, size):
    add_sheet(plan, size, cut_at=timezone.now())

    (row,) = keep_record(plan).to_core().boards

    assert (row.cost, row.sheets, row.cut_cost, row.cut_sheets) == (0, 0, Decimal("12.50"), 1)


def test_a_record_tells_the_rules_its_plan_went_by(plan):
    plan.campaign.may_turn, plan.campaign.offcut_side_mm = True, Decimal("152.4000")

    record = keep_record(plan)

    assert record.rules == {
        "Gap kept between blanks": "1 mm",
        "Trimmed off each sheet edge": "5.5 mm",
        "Shorter side of offcuts kept, at least": "152.4 mm",
        "Area of offcuts kept, at least": "0 mm²",
        "Blanks turned against the flutes": "allowed",
        "Blanks cut from the corners of others": "allowed",
        "Batches that share sheets": "allowed",
        "Cuts that do not run from edge to edge": "not allowed",
        "Currency": "USD",
    }


def test_a_record_tells_who_planned_and_when(plan):
    manager = make_user("manager")

    record = keep_record(plan, by=manager)

    assert (record.by, record.made_at, record.note) == (manager, plan.made_at, "")


def test_the_last_records_of_a_campaign_are_kept_and_all_of_another(plan, size):
    elsewhere = CuttingPlan.objects.create(campaign=make_campaign(), kerf_mm=1, trim_mm=5)
    other = keep_record(elsewhere)
    records = [keep_record(plan) for _ in range(KEPT + 2)]

    assert list(plan.campaign.plan_records.all()) == records[:1:-1]  # 12 of 14, the last one first
    assert list(elsewhere.campaign.plan_records.all()) == [other]


def test_the_record_just_made_stays_even_if_its_plan_was_begun_before_the_others(plan):
    for _ in range(KEPT):
        keep_record(plan)
    plan.made_at -= timedelta(days=1)

    record = keep_record(plan)

    assert PlanRecord.objects.first() == record


def test_a_plan_of_many_blanks_is_read_in_as_many_queries_as_one_of_few(plan, size):
    design = make_design(board=size.board)

    def queries() -> int:
        fresh = CuttingPlan.objects.get(pk=plan.pk)
        with CaptureQueriesContext(connection) as made:
            keep_record(fresh)
        return len(made)

    def add() -> None:
        box = box_of(plan, f"1998.{Blank.objects.count()}.9", design=design)
        add_sheet(plan, size, *((make_blank(box, part), 0, 0, 9, 9) for part in ("base", "lid")))

    add()
    once = queries()
    add()
    add()

    assert queries() == once
