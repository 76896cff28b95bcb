"""The range of a budget from its lines and minutes, and the ranges that are kept of a campaign."""

from decimal import Decimal

import numpy as np
import pytest

from housing.core.budget.causes import BOX, LEARNING, OF_SECTION, SHARED, element_causes
from housing.core.budget.lines import BudgetLine, Section, Target
from housing.core.budget.ranges import RangeRefused
from housing.core.labour.elements import ELEMENTS, SHIPPED, Element, Minutes
from housing.core.labour.work import COLUMN, StandardTimes
from housing.models import BudgetTerms
from housing.queries.budgets import changes_since, live_budget
from housing.services.budgets import make_budget
from housing.services.campaigns import plan_campaign
from housing.services.ranges import causes_of_terms, set_ranges, simulate_budget
from tests.factories import make_campaign, make_design, make_object, make_person, make_sheet_size

EXACT_TIMES = StandardTimes({element: Minutes(1, 1, 1) for element in ELEMENTS})
CERTAIN = {key: [1, 1, 1] for key in (*SHARED, BOX)}


def line(section: Section, amount: str, step: str = "") -> BudgetLine:
    return BudgetLine(
        key=f"{section}-{step}-{amount}", section=section, what="A line", quantity=Decimal(1), unit="piece",
        price=Decimal(amount), computed_from="", target=Target("campaign"), step=step,
    )  # fmt: skip


def minutes(**of_element: float) -> np.ndarray:
    """Two boxes that each take these minutes."""
    found = np.zeros((2, len(ELEMENTS)))
    for element, number in of_element.items():
        found[:, COLUMN[Element(element)]] = number
    return found


def drawn(*lines: BudgetLine, work=None, times=EXACT_TIMES, ranges=CERTAIN, **terms):
    work = minutes(cut=60) if work is None else work
    return simulate_budget(terms=BudgetTerms(ranges=ranges, **terms), minutes=work, times=times, lines=lines)


# ---- What is drawn from ----------------------------------------------------------------------------------


def test_without_any_range_it_comes_to_what_the_lines_add_up_to():
    lines = [
        *(line(section, "100") for section in OF_SECTION),
        line(Section.LABOUR, "40", "cut"), line(Section.SUPERVISION, "20"), line(Section.INDIRECT, "66"),
    ]  # fmt: skip

    found = drawn(*lines)

    # 6 sections of 100, labour 40, supervision 20, indirect 10 % of 660: 726.
    assert found.base == pytest.approx(726)
    assert found.quantiles == pytest.approx([726] * 99)
    assert found.hours == pytest.approx([2] * 99)


def test_what_is_given_or_owned_is_no_cost():
    found = drawn(line(Section.BOARD, "100"), line(Section.IN_KIND, "500"), line(Section.ON_HAND, "500"))

    assert found.base == pytest.approx(100)


def test_labour_of_a_step_that_no_box_takes_minutes_of_is_not_lost():
    found = drawn(line(Section.LABOUR, "40", "cut"), line(Section.LABOUR, "30", "return"))

    assert found.base == pytest.approx(70)


def test_hours_of_volunteers_cost_nothing_and_are_counted():
    found = drawn(work=minutes(cut=60, glue=30))

    assert found.base == 0
    assert found.hours_at(50) == pytest.approx(3)


@pytest.mark.parametrize("section", OF_SECTION)
def test_a_line_moves_with_the_causes_of_its_section(section):
    wide = CERTAIN | {key: [0.5, 1, 2] for key in OF_SECTION[section]}

    found = drawn(line(section, "100"), ranges=wide)

    assert {driver.key for driver in found.drivers} == set(OF_SECTION[section])


def test_a_standard_time_moves_the_labour_of_its_element():
    times = StandardTimes(EXACT_TIMES.everywhere | {Element.GLUE: Minutes(0.5, 1, 3)})

    found = drawn(
        line(Section.LABOUR, "40", "cut"), line(Section.LABOUR, "20", SHIPPED[Element.GLUE].step),
        work=minutes(cut=60, glue=30), times=times,
    )  # fmt: skip

    assert [driver.key for driver in found.drivers] == [element_causes()[COLUMN[Element.GLUE]]]
    # Glueing costs 20 of 60; at best half of it, at worst three times: between 50 and 100.
    assert 50 < found.at(1) < 60 < found.at(99) < 100


def test_learning_counts_only_where_the_terms_reckon_with_it():
    ranges = CERTAIN | {LEARNING: [0.8, 1, 1.4]}

    without, with_it = (
        drawn(line(Section.LABOUR, "40", "cut"), ranges=ranges, learning=learning)
        for learning in (BudgetTerms.Learning.NONE, BudgetTerms.Learning.UNIT)
    )

    assert [driver.key for driver in without.drivers] == []
    assert [driver.key for driver in with_it.drivers] == [LEARNING]


def test_the_same_budget_always_has_the_same_range():
    assert drawn(line(Section.BOARD, "100"), ranges={}) == drawn(line(Section.BOARD, "100"), ranges={})


# ---- What is kept ----------------------------------------------------------------------------------------


@pytest.fixture
def campaign(db):
    size = make_sheet_size()
    campaign = make_campaign(make_object())
    campaign.rules.create(position=1, design=make_design(board=size.board))
    campaign.people.add(make_person())
    return campaign


def test_only_ranges_that_differ_are_kept(campaign):
    shipped = {key: (c.range.low, c.range.likely, c.range.high) for key, c in SHARED.items()}

    terms = set_ranges(campaign=campaign, ranges=shipped | {"freight": (1, 1, 3)})

    assert terms.ranges == {"freight": [1, 1, 3]}
    assert causes_of_terms(BudgetTerms.objects.get(campaign=campaign))["freight"].range.high == 3


def test_putting_the_shipped_ones_back_keeps_all_other_terms(campaign):
    BudgetTerms.objects.create(
        campaign=campaign, ranges={"freight": [1, 1, 3]}, indirect_share=Decimal("0.15")
    )

    set_ranges(campaign=campaign, ranges={})

    kept = BudgetTerms.objects.get(campaign=campaign)
    assert (kept.ranges, kept.indirect_share) == ({}, Decimal("0.15"))


def test_ranges_out_of_order_are_refused_and_nothing_is_kept(campaign):
    with pytest.raises(RangeRefused, match="not in order"):
        set_ranges(campaign=campaign, ranges={"freight": (1, 1, 3), "wages": (2, 1, 3)})

    assert not BudgetTerms.objects.filter(campaign=campaign).exists()


def test_another_range_outdates_the_budget_until_it_is_worked_out_again(campaign):
    plan_campaign(campaign=campaign)
    make_budget(campaign=campaign)
    before = live_budget(campaign).content["range"]

    set_ranges(campaign=campaign, ranges={"board_prices": (0.9, 1, 3)})
    changes = changes_since(live_budget(campaign))
    make_budget(campaign=campaign)

    assert changes == ["the terms or the campaign's own figures"]
    after = live_budget(campaign)
    assert after.content["range"]["mean"] > before["mean"]
    assert (
        after.content["range"]["base"] == pytest.approx(before["base"]) == pytest.approx(float(after.money))
    )
    assert changes_since(after) == []
