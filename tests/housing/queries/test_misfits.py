"""Fit checks counted: each box once, what was taken back not at all, money by hand."""

from datetime import date, datetime
from decimal import Decimal

import pytest
from django.utils import timezone

from housing.models import FitCheck
from housing.queries.misfits import (
    NO_KIND,
    checks_of,
    misfits_of,
    misfits_to_show,
    remake_costs,
)
from tests.factories import make_campaign, make_design, make_housing, make_object, make_person, make_tasks

pytestmark = pytest.mark.django_db


@pytest.fixture
def design():
    return make_design()


def tried(design, kind="Textiles", campaign=None, status="made"):
    return make_housing(make_object(classification=kind), design=design, campaign=campaign, status=status)


def fits(box, **given) -> FitCheck:
    return FitCheck.objects.create(
        **{"housing": box, "fits": True, "lid_closes": True, "nothing_touches": True,
           "at": timezone.now(), **given}
    )  # fmt: skip


def misfit(box, short_mm=None, **given) -> FitCheck:
    told = {"fits": False, "cause": "measurement", "side": "depth", "remedy": "adjust"}
    return fits(box, **{**told, "short_mm": short_mm, **given})


def test_six_of_eight_textiles_too_short_are_told_in_a_sentence(design):
    boxes = [tried(design) for _ in range(8)]
    for box, short_mm in zip(boxes, (8, 10, 9, 9, 10, 8), strict=False):
        misfit(box, short_mm)
    for box in boxes:
        fits(box)  # after it was adjusted, and where all was well
    misfit(tried(design, "Ceramics"), 3)

    found = misfits_of(checks_of())

    assert (found.tried, found.wrong) == (9, 7)
    assert found.statements == [
        "Depth of “Textiles”: 6 of 8 boxes were wrong, on average 9 mm short. Measure such objects anew "
        "before their boxes are made, or allow more on this side."
    ]


def test_boxes_too_large_by_like_amounts_call_for_less(design):
    for short_mm in (-5, -6, -4, -5):
        misfit(tried(design, ""), short_mm, side="height")

    (said,) = misfits_of(checks_of()).statements

    assert said.startswith(
        "Height of objects without classification: 4 of 4 boxes were wrong, on average 5 mm too large. "
    )
    assert said.endswith("or allow less on this side.")


def test_each_cause_tells_how_often_and_what_it_cost(design):
    dollars = make_campaign(currency="USD")
    misfit(tried(design, campaign=dollars), minutes=Decimal(10), work_cost=Decimal("5.00"))
    misfit(tried(design, campaign=dollars), minutes=Decimal("2.5"), work_cost=Decimal("1.25"))
    again = {"remedy": "remake", "board_cost": Decimal("6.40"), "work_cost": Decimal("12.00")}
    misfit(tried(design, campaign=dollars), **again)
    misfit(tried(design, campaign=dollars), cause="cutting", **again)
    misfit(tried(design, campaign=dollars), cause="board", is_void=True, **again)

    rows = misfits_of(checks_of()).causes

    assert [(row.words, row.misfits, row.adjusted, row.remade, row.minutes, row.amounts) for row in rows] == [
        # 5.00 + 1.25 + 6.40 + 12.00
        ("The object was measured wrongly", 3, 2, 1, Decimal("12.5"), [(Decimal("24.65"), "USD")]),
        ("It was cut or scored wrongly", 1, 0, 1, 0, [(Decimal("18.40"), "USD")]),
    ]


def test_money_of_two_currencies_is_not_added_up(design):
    for currency in ("USD", "EUR"):
        misfit(tried(design, campaign=make_campaign(currency=currency)), work_cost=Decimal(2))

    (row,) = misfits_of(checks_of()).causes

    assert row.amounts == [(2, "EUR"), (2, "USD")]


def test_only_a_campaign_and_a_period_count(design):
    mine = make_campaign()
    on = [timezone.make_aware(datetime(2026, 5, day, 23, 30)) for day in (1, 2, 3)]
    for at in on:
        misfit(tried(design, campaign=mine), at=at)
    misfit(tried(design, campaign=make_campaign()), at=on[1])

    found = checks_of(mine, date(2026, 5, 2), date(2026, 5, 2))

    assert [check.at for check in found] == [on[1]]


def test_boxes_are_narrowed_to_cause_side_and_kind(design):
    first = misfit(tried(design))
    second = misfit(tried(design, ""), cause="cutting", side="height")
    fits(tried(design))

    def shown(**narrowed):
        return list(misfits_to_show(checks_of(), **narrowed))

    assert shown() == [second, first]
    assert shown(cause="cutting") == shown(side="height") == shown(kind=NO_KIND) == [second]
    assert shown(kind="Textiles") == [first]


def test_what_remakes_cost_a_campaign_with_given_work_told_apart(design):
    campaign = make_campaign()
    box = tried(design, campaign=campaign)
    given = {"state": "done", "done_at": timezone.now(), "person": make_person(kind="volunteer")}
    make_tasks(box, "cut", spent_minutes=Decimal(45), **given)
    make_tasks(box, "glue", **given)  # nobody logged it: planned 10 minutes
    make_tasks(box, "measure", spent_minutes=Decimal(30), **given)  # stays of use
    misfit(box, remedy="remake", board_cost=Decimal("6.40"), work_cost=Decimal("12.00"))
    misfit(tried(design, campaign=campaign), work_cost=Decimal("5.00"), minutes=Decimal(10))

    costs = remake_costs(campaign)

    assert (costs.remade, costs.board, costs.work) == (1, Decimal("6.40"), Decimal("12.00"))
    assert (costs.adjusted, costs.adjusting, costs.total) == (1, Decimal("5.00"), Decimal("23.40"))
    assert costs.given_minutes == 55


def test_a_campaign_in_which_all_fitted_lost_nothing(design):
    campaign = make_campaign()
    fits(tried(design, campaign=campaign))

    costs = remake_costs(campaign)

    assert (costs.remade, costs.adjusted, costs.total, costs.given_minutes) == (0, 0, 0, 0)
