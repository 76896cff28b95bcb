"""Causes of uncertainty: what is shipped, and what is entered in its place."""

import pytest

from housing.core.budget.causes import (
    ASSUMED,
    BOX,
    ELEMENT,
    LEARNING,
    OF_LABOUR,
    OF_SECTION,
    SHARED,
    element_cause,
    element_causes,
    with_ranges,
)
from housing.core.budget.lines import APART, Section
from housing.core.budget.ranges import RangeRefused, ThreePoint
from housing.core.labour.elements import ELEMENTS


def test_every_section_of_money_is_uncertain_in_some_way():
    by_people_or_share = {Section.LABOUR, Section.SUPERVISION, Section.INDIRECT}

    assert set(OF_SECTION) | by_people_or_share | APART == set(Section)


def test_every_cause_that_is_named_is_shipped():
    named = {key for keys in OF_SECTION.values() for key in keys} | {*OF_LABOUR, LEARNING}

    assert named == set(SHARED)


def test_every_shipped_cause_tells_its_source_and_has_the_stated_figure_as_a_possible_one():
    for cause in with_ranges({}).values():
        assert cause.source
        assert cause.range.low <= 1 <= cause.range.high


def test_single_boxes_lie_around_their_standard_time_and_do_not_move_it():
    # By hand: (0.5 + 4 x 0.9 + 1.9) / 6 = 1.
    assert with_ranges({})[BOX].range.mean == pytest.approx(1)


def test_the_range_of_learning_is_that_of_its_curve():
    # Wright's curve, by hand: (100/20)^(log2 0.85 - log2 0.90) = e^(1.6094 x -0.08247) = 0.876, and
    # (100/20)^(log2 0.95 - log2 0.90) = e^(1.6094 x 0.07800) = 1.134.
    learning = SHARED[LEARNING].range

    assert (learning.low, learning.high) == (pytest.approx(0.876, abs=0.005), pytest.approx(1.134, abs=0.005))


def test_what_is_entered_takes_the_place_of_what_is_shipped():
    causes = with_ranges({"freight": (1, 1, 2)})

    assert (causes["freight"].range, causes["freight"].source) == (ThreePoint(1, 1, 2), "Entered by hand")
    assert (causes["pace"].range, causes["pace"].source) == (SHARED["pace"].range, ASSUMED)
    assert set(causes) == {*SHARED, BOX}


def test_what_is_entered_out_of_order_is_refused():
    with pytest.raises(RangeRefused, match="not in order"):
        with_ranges({"freight": (2, 1, 3)})


def test_a_standard_time_is_off_by_as_much_as_its_figures_say():
    # 3, 6 and 15 minutes to measure: half and two and a half times the likely one.
    cause = element_cause(0, 3, 6, 15)

    assert cause.key == f"{ELEMENT}measure"
    assert cause.name == "Time to measure an object"
    assert cause.range == ThreePoint(0.5, 1, 2.5)


def test_an_element_that_takes_no_time_has_no_range():
    assert element_cause(0, 0, 0, 0).range.is_certain


def test_every_element_has_a_cause_of_its_own():
    assert len(set(element_causes())) == len(ELEMENTS)
