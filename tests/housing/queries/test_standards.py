"""Which standard time, rate and number of boxes made before holds."""

import importlib
from decimal import Decimal as D
from types import SimpleNamespace

import pytest

from housing.core.labour.elements import SHIPPED, Element, Minutes
from housing.models import BudgetTerms, Grade, StandardTime
from housing.queries.standards import hour_rates, rate_of, standard_times, work_terms
from tests.factories import make_campaign, make_design, make_housing, make_person

pytestmark = pytest.mark.django_db


def test_the_time_of_the_design_holds_before_that_of_every_design_and_the_shipped_one():
    own, other = make_design(), make_design()
    StandardTime.objects.create(element="glue", low=1, likely=2, high=3, source="Timed")
    StandardTime.objects.create(element="glue", design=own, low=4, likely=5, high=6, source="Timed")

    times = standard_times()

    assert times.of(Element.GLUE, str(own.pk)) == Minutes(4, 5, 6)
    assert times.of(Element.GLUE, str(other.pk)) == Minutes(1, 2, 3)
    assert times.of(Element.CUT, str(own.pk)) == SHIPPED[Element.CUT].minutes


@pytest.mark.parametrize(
    ("own", "rate", "on_costs", "worth"),
    [
        ({}, 20, D("0.28"), 18),
        ({"rate_per_hour": 24}, 24, D("0.28"), 18),
        ({"on_cost_share": 0}, 20, 0, 18),  # none at all is a figure, not a blank
        ({"in_kind_rate": D("18.50")}, 20, D("0.28"), D("18.50")),
    ],
    ids=["grade", "rate", "on-costs", "worth"],
)
def test_the_figures_of_a_person_hold_before_those_of_the_grade(own, rate, on_costs, worth):
    grade = Grade.objects.create(name="Assistant", rate_per_hour=20, on_cost_share=D("0.28"), in_kind_rate=18)
    person = make_person(**{"rate_per_hour": 0, "grade": grade, **own})

    found = rate_of(person)

    assert (found.rate, found.on_cost_share, found.in_kind_rate) == (rate, on_costs, worth)


def test_a_person_without_grade_and_figures_costs_nothing():
    found = rate_of(make_person(rate_per_hour=0))

    assert (found.rate, found.on_cost_share, found.in_kind_rate) == (0, 0, 0)


def test_whoever_is_still_to_be_found_costs_what_the_campaign_says():
    rates = hour_rates(make_campaign(rate_per_hour=D("31")))

    assert [(rate.key, rate.rate) for rate in rates] == [("", 31)]


def test_only_boxes_made_in_other_campaigns_count_as_made_before():
    campaign, other = make_campaign(), make_campaign()
    tray = make_design(form="tray")
    for status in ("planned", "in_work", "made", "housed"):
        make_housing(design=tray, status=status, campaign=other)
    make_housing(design=make_design(form="folder"), status="housed")  # in no campaign
    make_housing(design=tray, status="made", campaign=campaign)

    terms = work_terms(campaign, BudgetTerms(campaign=campaign))

    assert terms.made_before == {"tray": 2, "folder": 1}


# ---- The fields of designs they were once kept in --------------------------------------------------------


def test_minutes_of_a_design_that_differ_become_its_standard_times():
    move = importlib.import_module("housing.migrations.0011_standard_times_of_designs")
    usual = {field: D(default) for field, (default, *_) in move.MOVED.items()}
    changed, plain = with_fields(usual | {"setup_minutes": D(12), "cut_minutes_m": D(2)}), with_fields(usual)
    designs = SimpleNamespace(objects=SimpleNamespace(order_by=lambda key: [changed, plain]))
    models = {"Design": designs, "StandardTime": StandardTime}

    move.move_minutes(SimpleNamespace(get_model=lambda app, name: models[name]), None)

    # 12 to set out instead of 8: half as much again, so 3 to fetch are 4.5 and 2.5 to mark out are 3.75.
    moved = StandardTime.objects.order_by("element").values_list("design", "element", "likely", "source")
    assert list(moved) == [
        (changed.pk, "cut", 2, move.SOURCE.format("2")),
        (changed.pk, "fetch", D("4.5"), move.SOURCE.format("12")),
        (changed.pk, "mark_out", D("3.75"), move.SOURCE.format("12")),
    ]


def with_fields(fields: dict[str, D]):
    """A design with fields that it had once."""
    design = make_design()
    for field, minutes in fields.items():
        setattr(design, field, minutes)
    return design
