"""Every line is shared out over the boxes that cause it, and the shares add up to the cent."""

from decimal import Decimal

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from housing.core.budget.lines import APART, Section, total
from housing.core.budget.sharing import is_whole, share_lines
from tests.examples import few
from tests.housing.core.budget.lines import make_box, make_line


def shared(lines, boxes, causes=None, **minutes):
    return share_lines(lines, boxes, {step: np.array(of, float) for step, of in minutes.items()}, causes)


# Worked by hand, each with its arithmetic.
@pytest.mark.parametrize(
    ("section", "boxes", "expected"),
    [
        (Section.BOARD, [{"blank_m2": 1.0}, {"blank_m2": 3.0}], ["2.50", "7.50"]),  # 10 x 1/4, 10 x 3/4
        (Section.ADHESIVE, [{"joint_m": 2.0}, {}], ["10.00", "0.00"]),  # only one is glued
        (Section.PADDING, [{"lining_m2": 0.2}, {"lining_m2": 0.3}], ["4.00", "6.00"]),  # 10 x 2/5, 10 x 3/5
        (Section.SUPPLIES, [{}, {}], ["5.00", "5.00"]),  # nothing says who causes it
        (Section.SUPPLIES, [{}, {"to_measure": True}], ["10.00", "0.00"]),  # no label on what is not made yet
        (Section.READY_MADE, [{}, {"ready_made": "7"}], ["0.00", "10.00"]),
        (Section.BOARD, [{}, {}], ["5.00", "5.00"]),  # no blank at all: alike
    ],
)
def test_a_line_goes_to_the_boxes_that_cause_it(section, boxes, expected):
    boxes = [make_box(str(number), **facts) for number, facts in enumerate(boxes)]

    shares = shared([make_line(section, "10")], boxes)

    assert shares.of(section) == [Decimal(text) for text in expected]


def test_work_goes_by_the_minutes_of_its_step_and_supervision_by_all_minutes():
    boxes = [make_box("1"), make_box("2")]
    lines = [
        make_line(Section.LABOUR, "30", key="cut", step="cut"),
        make_line(Section.LABOUR, "40", key="fit", step="fit"),
        make_line(Section.SUPERVISION, "8"),
    ]

    shares = shared(lines, boxes, cut=[10, 20], fit=[10, 0])

    # 30 in the ratio 10 to 20, 40 all to the first; 8 in the ratio 20 to 20
    assert shares.of(Section.LABOUR) == [50, 20]
    assert shares.of(Section.SUPERVISION) == [4, 4]


def test_what_is_known_of_a_line_goes_before_what_its_boxes_tell():
    boxes = [make_box("1", blank_m2=1.0), make_box("2", blank_m2=1.0)]
    line = make_line(Section.BOARD, "9", key="sheet:1")

    shares = shared([line], boxes, {"sheet:1": np.array([1.0, 2.0])})

    assert shares.of(Section.BOARD) == [3, 6]


def test_freight_follows_the_goods_of_its_supplier_and_indirect_costs_follow_everything():
    boxes = [make_box("1", blank_m2=1.0), make_box("2", joint_m=1.0)]
    lines = [
        make_line(Section.INDIRECT, "6"),
        make_line(Section.FREIGHT, "5", supplier="a"),
        make_line(Section.BOARD, "15", supplier="a"),
        make_line(Section.ADHESIVE, "20", supplier="b"),
    ]

    shares = shared(lines, boxes)

    # the first box: 15 of board, 5 of freight, so 20 of 40 and half of 6; the second: 20 of glue
    assert shares.of(Section.FREIGHT) == [5, 0]
    assert shares.of(Section.INDIRECT) == [3, 3]


def test_money_that_no_box_causes_is_told_apart():
    shares = shared([make_line(Section.BOARD, "12.50")], [])

    (nobody,) = shares.by([], nobody="No box")
    assert (nobody.label, nobody.boxes, nobody.total) == ("No box", 0, Decimal("12.50"))
    assert is_whole(shares, [make_line(Section.BOARD, "12.50")])


def test_groups_count_boxes_hours_and_money():
    boxes = [make_box("1", blank_m2=1.0), make_box("2", blank_m2=1.0), make_box("3", blank_m2=2.0)]

    tray, lid = shared([make_line(Section.BOARD, "8")], boxes, cut=[30, 60, 45]).by(
        ["Tray", "Tray", "Wrapper"], nobody="No box"
    )

    assert (tray.label, tray.boxes, tray.hours, tray.total, tray.average) == ("Tray", 2, 1.5, 4, 2)
    assert (lid.label, lid.boxes, lid.hours, lid.total) == ("Wrapper", 1, 0.75, 4)


amounts = st.decimals(0, 10**6, places=2).map(str)
facts = st.fixed_dictionaries(
    {name: st.one_of(st.just(0.0), st.floats(1e-4, 1e4)) for name in ("blank_m2", "joint_m", "lining_m2")}
)


@few(60)
@given(
    st.lists(st.tuples(st.sampled_from(Section), amounts, st.sampled_from("ab")), max_size=8),
    st.lists(facts, max_size=6),
    st.data(),
)
def test_the_shares_of_all_boxes_are_the_money_of_the_budget(rows, of_boxes, data):
    lines = [
        make_line(section, amount, key=str(number), supplier=supplier, step="cut")
        for number, (section, amount, supplier) in enumerate(rows)
    ]
    boxes = [make_box(str(number), **of_box) for number, of_box in enumerate(of_boxes)]
    minutes = data.draw(st.lists(st.floats(0, 500), min_size=len(boxes), max_size=len(boxes)))

    shares = shared(lines, boxes, cut=minutes)

    money = total(line for line in lines if line.section not in APART)
    labels = data.draw(st.lists(st.sampled_from("xyz"), min_size=len(boxes), max_size=len(boxes)))
    groups = shares.by(labels, nobody="No box")
    assert is_whole(shares, lines)
    assert sum(group.total for group in groups) == money
    assert sum(group.boxes for group in groups) == len(boxes)
    if boxes:
        assert sum(shares.of(*Section), Decimal()) == money
        assert min(shares.of(*Section)) >= 0
