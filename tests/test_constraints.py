"""What the database itself refuses, whatever the forms let through."""

from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction

from boards.models import Offcut, StockMovement
from housing.models import Blank, Design, HousedObject, Housing
from objects.models import CatalogueObject
from tests.factories import (
    make_board,
    make_campaign,
    make_design,
    make_housing,
    make_object,
    make_person,
    make_sheet_size,
)

pytestmark = [pytest.mark.django_db, pytest.mark.any_database]


def refused(act) -> str:
    """The name of the constraint that refuses, as far as the database tells it."""
    with pytest.raises(IntegrityError) as problem, transaction.atomic():
        act()
    return str(problem.value)


@pytest.mark.parametrize("side", ["height_mm", "width_mm", "depth_mm"])
@pytest.mark.parametrize("size", [Decimal("0"), Decimal("-1"), Decimal("20001")])
def test_an_object_has_a_possible_size(side, size):
    assert f"object_{side}_positive" in refused(lambda: make_object(**{side: size}))


def test_a_known_size_is_complete():
    thing = make_object()

    why = refused(
        lambda: CatalogueObject.objects.filter(pk=thing.pk).update(depth_mm=None, size_state="known")
    )

    assert "object_known_size_is_complete" in why


def test_an_object_number_is_given_once():
    make_object(number="1995.4.1")

    assert "number" in refused(lambda: make_object(number="1995.4.1"))


def test_an_object_has_one_live_housing():
    thing = make_object()
    make_housing(thing)

    assert refused(lambda: make_housing(thing))
    HousedObject.objects.update(is_live=False)
    assert make_housing(thing)


def test_a_housing_in_hand_has_a_design_and_a_size():
    box = make_housing(make_object())

    assert "housing_in_hand" in refused(
        lambda: Housing.objects.filter(pk=box.pk).update(status="planned", design=None, inner_x_mm=None)
    )


def test_a_waiting_housing_says_why():
    assert "housing_waiting_says_why" in refused(lambda: Housing.objects.create(status="waiting", problem=""))


def test_stock_is_never_negative_and_the_ledger_has_one_row_a_number():
    size = make_sheet_size()
    StockMovement.objects.create(sheet_size=size, sequence=1, kind="receipt", quantity=5, balance=5)

    below = refused(
        lambda: StockMovement.objects.create(sheet_size=size, sequence=2, kind="use", quantity=-6, balance=-1)
    )
    assert "stock_never_negative" in below
    assert refused(
        lambda: StockMovement.objects.create(sheet_size=size, sequence=1, kind="use", quantity=-1, balance=4)
    )


def test_what_is_received_comes_in_and_what_is_used_goes_out():
    size = make_sheet_size()

    assert "stock_movement_sign" in refused(
        lambda: StockMovement.objects.create(
            sheet_size=size, sequence=1, kind="receipt", quantity=-1, balance=0
        )
    )


@pytest.mark.parametrize(
    ("name", "act"),
    [
        ("board_caliper_positive", lambda: make_board(caliper_mm=Decimal("0"))),
        ("sheet_sides_positive", lambda: make_sheet_size(along_mm=Decimal("0"))),
        ("sheet_price_not_negative", lambda: make_sheet_size(price=Decimal("-1"))),
        ("offcut_sides_positive", lambda: Offcut.objects.create(board=make_board(), along_mm=0, across_mm=5)),
        ("design_allowances_not_negative", lambda: make_design(side_allowance_mm=Decimal("-1"))),
        ("board_correction_whole_and_possible", lambda: make_board(measured_caliper_mm=Decimal("3"))),
        ("design_lining_not_negative", lambda: make_design(lining_mm=Decimal("-0.1"))),
        ("person_hours_possible", lambda: make_person(hours_per_week=Decimal("81"))),
        ("campaign_kerf_and_trim_possible", lambda: make_campaign(kerf_mm=Decimal("-1"))),
    ],
)
def test_impossible_figures_are_refused(name, act):
    assert name in refused(act)


def test_a_design_name_and_a_part_of_a_box_are_given_once():
    design = make_design()
    box = make_housing(make_object())
    blank = {"part": "base", "x_mm": 10, "y_mm": 10, "flute_along": "y", "geometry": {}}
    Blank.objects.create(housing=box, **blank)

    assert refused(lambda: Design.objects.create(name=design.name, board=design.board))
    assert "blank" in refused(lambda: Blank.objects.create(housing=box, **blank))
