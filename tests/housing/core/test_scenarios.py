"""What a scenario does differently: kept as JSON and back, judged, and put in words."""

import json
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housing.core.scenarios import (
    TERMS,
    Differences,
    ReadyMade,
    ScenarioRefused,
    describe,
    read,
    to_json,
)
from tests.examples import few

keys = st.integers(1, 999)
swaps = st.dictionaries(keys, keys, max_size=3).map(lambda d: {a: b for a, b in d.items() if a != b})
money = st.decimals(0, 9999, places=2)
every = st.builds(
    Differences,
    only_priorities=st.lists(st.sampled_from("ABC"), unique=True).map(sorted).map(tuple),
    only_objects=st.none() | st.lists(keys, min_size=1, unique=True).map(tuple),
    board=swaps,
    design=swaps,
    sizes=st.none() | keys,
    ready_made=st.none() | st.builds(ReadyMade, st.floats(0, 500), st.none() | st.floats(1, 1e6)),
    prices=st.dictionaries(keys.map("sheet:{}".format), money, max_size=3),
    rate_per_hour=st.none() | money,
    people=st.dictionaries(keys, st.decimals(0, 80, places=1), max_size=3),
    terms=st.dictionaries(
        st.sampled_from(sorted(TERMS.keys() - {"contingency_percent"})),
        st.decimals("0.5", "0.9", places=2),
        max_size=3,
    ),
)


@few(60)
@given(every)
def test_what_is_kept_reads_back_as_it_was(differences):
    kept = json.loads(json.dumps(to_json(differences)))

    assert read(kept) == differences


def test_only_what_differs_is_kept():
    assert to_json(Differences()) == {}
    assert to_json(Differences(only_priorities=("A",))) == {"only_priorities": ["A"]}


def test_ready_made_boxes_may_be_asked_for_with_nothing_more_said():
    assert read({"ready_made": True}).ready_made == ReadyMade()


def test_a_board_in_place_of_itself_is_no_difference():
    assert read({"board": {"3": 3}}) == Differences()


@pytest.mark.parametrize(
    ("stored", "told"),
    [
        ({"colour": "red"}, "cannot change “colour”"),
        ({"only_priorities": ["D"]}, "no priority D"),
        ({"only_objects": []}, "No object is chosen"),
        ({"only_objects": ["vase"]}, "“vase” is no key"),
        ({"prices": {"sheet:3": "dear"}}, "The price of sheet:3 is “dear”"),
        ({"prices": {"sheet:3": "-1"}}, "between 0 and"),
        ({"prices": {"moon:3": "1"}}, "“moon:3” is nothing that has a price"),
        ({"rate_per_hour": "NaN"}, "The cost of an hour is “NaN”"),
        ({"people": {"7": "81"}}, "between 0 and 80"),  # a person has at most 80 hours a week
        ({"terms": {"indirect_share": "1.5"}}, "between 0 and 1"),
        ({"terms": {"funder_note": "x"}}, "cannot change “funder_note”"),
        ({"ready_made": {"slack_mm": -1}}, "room left over"),
    ],
)
def test_what_cannot_be_so_is_named(stored, told):
    with pytest.raises(ScenarioRefused, match=told):
        read(stored)


def test_each_difference_is_told_in_words():
    differences = Differences(
        only_priorities=("A", "B"), only_objects=(4,), board={1: 2}, design={5: 6}, sizes=8,
        ready_made=ReadyMade(40, 5000), prices={"sheet:9": Decimal("18.5")}, rate_per_hour=Decimal(30),
        people={7: Decimal("12.5"), 8: Decimal(0)},
        terms={"indirect_share": Decimal("0.15"), "contingency_percent": Decimal(95)},
    )  # fmt: skip
    names = {
        "board:1": "B32", "board:2": "E16", "design:5": "Tray", "sizes:8": "Six sizes",
        "sheet:9": "A sheet of B32", "person:7": "Tovi", "person:8": "Ondra",
    }  # fmt: skip

    assert list(describe(differences, names, "USD")) == [
        "Only priority A and B",
        "Only 1 chosen object",
        "Board E16 instead of B32",
        "Design one that is no longer there instead of Tray",
        "Standard sizes: Six sizes",
        "Ready-made boxes where one fits with at most 40.0 mm over on a side, contents up to 5 kg",
        "A sheet of B32 at 18.50 USD",
        "An hour of work without a person at 30.00 USD",
        "Tovi: 12.5 hours a week",
        "Ondra: takes no part",
        "Indirect costs: 15 %",
        "Contingency up to the figure not exceeded in 95 of 100 cases",
    ]


@pytest.mark.parametrize(
    ("differences", "changes"),
    [
        (Differences(), False),
        (Differences(rate_per_hour=Decimal(30), people={7: Decimal(0)}), False),
        (Differences(prices={"supply:3": Decimal(1)}), False),
        (Differences(prices={"sheet:3": Decimal(1)}), True),  # another sheet size may be the cheaper one then
        (Differences(ready_made=ReadyMade()), True),
        (Differences(only_objects=(1,)), True),
    ],
)
def test_it_is_told_whether_other_sheets_are_cut(differences, changes):
    assert differences.changes_boxes is changes
