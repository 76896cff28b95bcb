"""Minutes of boxes from their elements, worked by hand."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from housing.core.budget.facts import BoxFacts
from housing.core.labour.allowances import AllowanceOf
from housing.core.labour.elements import ELEMENTS, Element, Minutes
from housing.core.labour.learning import Model
from housing.core.labour.work import (
    COLUMN,
    StandardTimes,
    WorkTerms,
    by_step,
    standard_minutes,
    work_minutes,
)
from tests.examples import few


def times(**likely: float) -> StandardTimes:
    """Standard times of the elements named; the others take nothing."""
    return StandardTimes({e: Minutes(v := likely.get(e.value, 0.0), v, v) for e in ELEMENTS})


def box(key: str = "1", **facts) -> BoxFacts:
    return BoxFacts(**{"key": key, "form": "tray", "design": "7", "board": "2"} | facts)


BASE = box(blanks=1, folds=8, joints=4, score_m=2.127, cut_m=5.480)


def test_the_base_of_a_tray_takes_what_is_worked_by_hand():
    # 8 to set out, 1.2 a metre scored, 1.5 a metre cut, 1 a joint, 6 to measure, label and photograph:
    # 8 + 2.552 + 8.220 + 4 + 6 = 28.77; assumed figures, lengths of a worked tray of 10 3/4 x 9 1/8 in.
    given = times(fetch=3, mark_out=5, score=1.2, cut=1.5, glue=1, fit=2, label=2, photograph=2)

    minutes = work_minutes([BASE], given, WorkTerms())

    assert minutes.sum() == pytest.approx(28.77, abs=0.01)


def test_each_element_is_counted_by_its_own_driver():
    given = times(measure=1, fetch=1, mark_out=1, score=1, cut=1, fold=1, glue=1, pad=1, fit=1, label=1,
                  photograph=1, **{"return": 1})  # fmt: skip
    counted = box(objects=2, blanks=3, folds=5, joints=7, score_m=11, cut_m=13, lining_m2=17, to_measure=True)

    minutes = work_minutes([counted], given, WorkTerms())[0]

    # measure 2 objects, fetch, 3 blanks, 11 m, 13 m, 5 folds, 7 joints, 17 m2, fit 2, label, picture, return
    assert list(minutes) == [2, 1, 3, 11, 13, 5, 7, 17, 2, 1, 1, 1]


def test_the_minutes_of_a_box_are_those_of_its_steps():
    boxes = [BASE, box("2", objects=3, folds=16, joints=8, lid_folds=8, lid_joints=4)]
    minutes = work_minutes(boxes, StandardTimes(), WorkTerms())

    steps = by_step(boxes, minutes)

    assert list(steps) == ["measure", "fetch", "cut", "score", "glue", "lid", "fit", "label", "return"]
    assert sum(steps.values()) == pytest.approx(minutes.sum(axis=1))


def test_a_lid_takes_the_share_of_its_folds_and_joints():
    # 12 folds at 0.2 and 6 joints at 1; the lid has 4 folds and 2 joints: 0.8 + 2 = 2.8 of 8.4.
    boxes = [box(folds=12, joints=6, lid_folds=4, lid_joints=2)]

    steps = by_step(boxes, work_minutes(boxes, times(fold=0.2, glue=1), WorkTerms()))

    assert (steps["lid"], steps["glue"]) == (pytest.approx([2.8]), pytest.approx([5.6]))


def test_a_design_may_have_a_time_of_its_own():
    own = StandardTimes({Element.LABEL: Minutes(2, 2, 2)}, {("9", Element.LABEL): Minutes(5, 5, 5)})

    minutes = work_minutes([box("1"), box("2", design="9")], own, WorkTerms())

    assert list(minutes[:, COLUMN[Element.LABEL]]) == [2, 5]


def test_blanks_like_the_one_before_are_marked_out_in_half_the_time():
    alike = [box(str(n), blanks=2, alike="A") for n in range(3)] + [box("9", blanks=2, alike="B")]

    minutes = work_minutes(alike, times(mark_out=4), WorkTerms(alike_share=0.5))

    assert list(minutes.sum(axis=1)) == [8, 4, 4, 8]  # 2 blanks x 4, halved from the second alike on


def test_rest_is_added_to_every_element():
    minutes = work_minutes([BASE], times(fetch=30), WorkTerms(0.15, AllowanceOf.SHIFT))

    assert minutes.sum() == pytest.approx(30 / 0.85)


def test_the_standard_time_holds_for_the_reference_box():
    terms = WorkTerms(learning=Model.UNIT, learning_rate=0.8, learning_reference=4)

    minutes = work_minutes([box(str(n)) for n in range(8)], times(label=10), terms).sum(axis=1)

    # 80 % table: boxes 1, 2, 4 and 8 take 1, 0.8, 0.64 and 0.512 of the first; the fourth takes 10 minutes.
    assert minutes[[0, 1, 3, 7]] == pytest.approx([10 / 0.64, 8 / 0.64, 10, 8])


def test_boxes_of_a_form_are_counted_on_from_those_made_before():
    terms = WorkTerms(learning=Model.UNIT, learning_rate=0.8, learning_reference=1, made_before={"tray": 3})

    minutes = work_minutes([box("1"), box("2", form="tube")], times(label=10), terms).sum(axis=1)

    assert minutes == pytest.approx([6.4, 10])  # the fourth tray, the first tube


def test_the_way_to_the_shelf_is_not_learned():
    terms = WorkTerms(learning=Model.UNIT, learning_rate=0.8, learning_reference=1, made_before={"tray": 3})

    assert work_minutes([BASE], times(**{"return": 5, "fetch": 3}), terms).sum() == 8


def test_the_log_corrects_a_step_of_its_form_before_any_form():
    terms = WorkTerms(corrections={("tray", "label"): 1.5, ("", "label"): 2, ("", "return"): 0.5})

    minutes = work_minutes([box("1"), box("2", form="tube")], times(label=10, **{"return": 4}), terms)

    assert list(minutes.sum(axis=1)) == [15 + 2, 20 + 2]
    assert standard_minutes([box("1")], times(label=10), terms).sum() == 10


def test_a_bought_box_is_only_fetched_lined_fitted_and_returned():
    bought = replace(BASE, ready_made="3", lining_m2=1)

    minutes = work_minutes([bought], StandardTimes(), WorkTerms())[0]

    taken = {e for e in ELEMENTS if minutes[COLUMN[e]] > 0}
    assert taken == {
        Element.FETCH, Element.PAD, Element.FIT, Element.LABEL, Element.PHOTOGRAPH, Element.RETURN,
    }  # fmt: skip


def test_no_box_takes_no_minute():
    assert work_minutes([], StandardTimes(), WorkTerms(learning=Model.UNIT)).shape == (0, len(ELEMENTS))


@few(40)
@given(st.lists(st.tuples(st.floats(0, 50), st.integers(0, 20)), min_size=1, max_size=12))
def test_twice_as_much_of_everything_takes_twice_as_long(sizes):
    once = [box(str(n), cut_m=cut, joints=joints) for n, (cut, joints) in enumerate(sizes)]
    given_times = times(cut=1.5, glue=1)

    twice = [replace(one, cut_m=2 * one.cut_m, joints=2 * one.joints) for one in once]

    assert np.allclose(
        work_minutes(twice, given_times, WorkTerms()), 2 * work_minutes(once, given_times, WorkTerms())
    )
