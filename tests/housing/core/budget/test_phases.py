"""Phases: what their batches cost against their money, hours against people's hours, and what is wrong."""

from datetime import date
from decimal import Decimal

import pytest

from housing.core.budget.months import BatchWork, Calendar
from housing.core.budget.phases import BatchCost, PhaseTerms, phase_figures, phase_problems

JANUARY = (date(2026, 1, 5), date(2026, 1, 16))  # two working weeks, Monday to Friday
BATCHES = [BatchCost(1, 4, Decimal("300.00")), BatchCost(2, 6, Decimal("450.50"))]
CALENDAR = Calendar(
    days={date(2025, 12, 30): Decimal("200.00"), date(2026, 1, 7): Decimal("550.50")},
    work=(
        BatchWork(1, (date(2026, 1, 5), date(2026, 1, 11)), 20.0),
        BatchWork(2, (date(2026, 1, 12), date(2026, 1, 18)), 30.0),
        BatchWork(2, (date(2026, 1, 19), date(2026, 1, 25)), 5.0),
    ),
)
DATES = (date(2026, 1, 1), date(2026, 12, 31))


def phase(name="First grant", dates=JANUARY, batches=(1, 2), money="800", key="") -> PhaseTerms:
    return PhaseTerms(name, *dates, *batches, Decimal(money) if money else None, key)


def problems(*phases, dates=DATES, hours_a_week=30.0, batches=BATCHES) -> list[str]:
    figures = phase_figures(phases, batches, CALENDAR, hours_a_week)
    return [one.what for one in phase_problems(figures, batches, "USD", dates)]


def test_a_phase_has_the_cost_and_hours_of_its_batches_and_what_is_paid_between_its_dates():
    (found,) = phase_figures([phase()], BATCHES, CALENDAR, 30.0)

    assert (found.boxes, found.cost, found.left) == (10, Decimal("750.50"), Decimal("49.50"))
    assert found.spent == Decimal("550.50")  # that of December is before its first day
    assert (found.hours, found.outside) == (55.0, 5.0)  # the last week lies after its end
    assert found.given == 60.0  # two weeks of 30 hours


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"money": "700"}, "“First grant” costs 750.50 USD and has 700.00"),
        ({"batches": (1, 1)}, "Batch 2 is in no phase"),
        ({"batches": (1, 3), "dates": (date(2025, 12, 1), date(2026, 2, 1))},
         "“First grant” starts on 1 December 2025, before the campaign does"),
        ({"dates": (date(2026, 1, 1), date(2027, 1, 3))},
         "“First grant” ends on 3 January 2027, after the campaign is to be done"),
        ({}, "5.0 of 55.0 hours of “First grant” are planned outside its dates"),
    ],
)  # fmt: skip
def test_what_is_wrong_with_a_phase_is_told(given, told):
    assert told in problems(phase(**given))


def test_people_with_too_few_hours_are_told():
    assert problems(phase(), hours_a_week=20.0) == [
        "“First grant” takes 55.0 hours and people have 40.0 between its dates"
    ]


def test_a_batch_in_two_phases_and_one_without_boxes_are_told():
    whole_year = (date(2026, 1, 1), date(2026, 12, 31))
    found = problems(
        phase("One", whole_year), phase("Two", whole_year, (2, 2)), phase("Three", whole_year, (5, 7))
    )

    assert found == [
        "Batch 2 is in “One” and “Two”",
        "No box is in batches 5 to 7, which “Three” is for",
    ]


def test_phases_that_fit_have_nothing_to_be_told():
    assert problems(phase(dates=(date(2026, 1, 1), date(2026, 2, 1)))) == []


def test_a_campaign_without_a_start_is_told_once_and_only_where_there_are_phases():
    assert problems(phase(), dates=(None, None)) == ["The campaign has no start date"]
    assert problems(dates=(None, None)) == []
