"""Choices within limits: published instances, brute force, and what cannot be done."""

from itertools import chain, combinations
from math import ceil

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housing.core.selecting import (
    BoardOffer,
    Candidate,
    Limits,
    SelectionRefused,
    Worker,
    next_gains,
    select,
)
from tests.examples import few

# Petersen, Operations Research 15, 1967, problem 1: six projects, ten limits, best value 3800. Figures from
# memory; the test also tries all 64 choices.
VALUES = (100, 600, 1200, 2400, 500, 2000)
ROWS = (
    ((8, 12, 13, 64, 22, 41), 80), ((8, 12, 13, 75, 22, 41), 96), ((3, 6, 4, 18, 6, 4), 20),
    ((5, 10, 8, 32, 6, 12), 36), ((5, 13, 8, 42, 6, 20), 44), ((5, 13, 8, 48, 6, 20), 48),
    ((0, 0, 0, 0, 8, 0), 10), ((3, 0, 4, 0, 8, 0), 18), ((3, 2, 4, 0, 8, 4), 22), ((3, 2, 4, 8, 8, 4), 24),
)  # fmt: skip


def box(key, worth=1.0, **given) -> Candidate:
    return Candidate(key, f"Object {key}", worth, **given)


def choices(candidates):
    return chain.from_iterable(combinations(candidates, n) for n in range(len(candidates) + 1))


def test_the_published_projects_have_their_published_value():
    projects = [
        box(str(n), value, minutes={f"limit {row}": float(terms[n]) for row, (terms, _) in enumerate(ROWS)})
        for n, value in enumerate(VALUES)
    ]

    found = select(
        projects, [], Limits(minutes={f"limit {n}": float(most) for n, (_, most) in enumerate(ROWS)})
    )

    best = max(
        sum(VALUES[n] for n in chosen)
        for chosen in choices(range(6))
        if all(sum(terms[n] for n in chosen) <= most for terms, most in ROWS)
    )
    assert found.worth == best == 3800
    assert set(found.chosen) == {"1", "2", "5"}  # 600 + 1200 + 2000
    assert found.gap == pytest.approx(0, abs=1e-4)


def test_sheets_are_bought_whole():
    # Three boxes of 0.5 m2; a sheet gives 1 m2 for 10. 25 of money pay for two and all boxes, 19 for one.
    boxes = [box(str(n), 1 + n, money=1, board="7", board_m2=0.5) for n in range(3)]
    sheets = [BoardOffer("7", 1.0, 10.0)]

    rich, poor = (select(boxes, sheets, Limits(money=money)) for money in (25, 19))

    assert (set(rich.chosen), rich.packs, rich.money) == ({"0", "1", "2"}, {"7": 2}, 23)
    assert (set(poor.chosen), poor.packs, poor.money) == ({"1", "2"}, {"7": 1}, 12)


def test_board_that_is_there_already_costs_nothing():
    boxes = [box(str(n), money=1, board="7", board_m2=0.5) for n in range(3)]

    found = select(boxes, [BoardOffer("7", 1.0, 10.0, on_hand_m2=1.0)], Limits(money=5))

    assert (len(found.chosen), found.packs, found.money) == (2, {}, 2)


def test_an_hour_of_somebody_with_two_skills_counts_once():
    # Each box: 60 min of cutting and 60 of fitting. One person of 120 min who can do both: one box, not two.
    boxes = [box(str(n), minutes={"cut": 60, "fit": 60}) for n in range(3)]
    both = Worker("1", "Tovi", 120, frozenset({"cut", "fit"}))
    cutter = Worker("2", "Ondra", 120, frozenset({"cut"}))

    assert len(select(boxes, [], Limits(workers=[both])).chosen) == 1
    assert len(select(boxes, [], Limits(workers=[both, cutter])).chosen) == 2


CANDIDATES = st.lists(
    st.tuples(
        st.integers(1, 30), st.integers(0, 20), st.integers(0, 12), st.integers(0, 40), st.integers(0, 40)
    ),
    min_size=1,
    max_size=8,
)


@few(60)
@given(CANDIDATES, st.integers(5, 60), st.integers(10, 90), st.data())
def test_no_choice_is_worth_more(rows, money, minutes, data):
    boxes = [
        box(str(n), worth, money=cost, board="7", board_m2=area / 10, minutes={"cut": cut, "fit": fit})
        for n, (worth, cost, area, cut, fit) in enumerate(rows)
    ]
    keys = [one.key for one in boxes]
    pair = data.draw(st.sampled_from([(), (keys[0], keys[-1])]))
    out = data.draw(st.sampled_from([frozenset(), frozenset({keys[len(keys) // 2]})]))
    limits = Limits(
        money=float(money), minutes={"cut": float(minutes)}, must_not=out, sets=[pair] if pair else []
    )

    def is_allowed(chosen):
        chosen_keys = {one.key for one in chosen}
        sheets = ceil(round(sum(one.board_m2 for one in chosen), 9))
        kept = not pair or len(chosen_keys & set(pair)) in (0, len(set(pair)))
        return (
            kept
            and not chosen_keys & out
            and sum(one.money for one in chosen) + 3 * sheets <= money
            and sum(one.minutes["cut"] for one in chosen) <= minutes
        )

    best = max(sum(one.worth for one in chosen) for chosen in choices(boxes) if is_allowed(chosen))
    if not best:
        with pytest.raises(SelectionRefused):
            select(boxes, [BoardOffer("7", 1.0, 3.0)], limits)
        return

    found = select(boxes, [BoardOffer("7", 1.0, 3.0)], limits)

    assert found.worth == pytest.approx(best)
    assert found.bound >= best - 1e-6
    assert is_allowed([one for one in boxes if one.key in found.chosen])


def test_what_must_be_in_is_in_and_a_set_stays_together():
    boxes = [box("a", 9, money=5), box("b", 1, money=5), box("c", 8, money=5), box("d", 7, money=5)]

    found = select(boxes, [], Limits(money=10, must=frozenset({"b"})))
    together = select(boxes, [], Limits(money=10, sets=[("a", "b")], must_not=frozenset({"d"})))

    assert set(found.chosen) == {"a", "b"}
    assert set(together.chosen) == {"a", "b"}  # 10 for both; c alone is worth 8


def test_a_place_is_finished_whole_if_asked():
    boxes = [
        box("a", 6, money=5, location="Shelf 1"), box("b", 5, money=5, location="Shelf 2"),
        box("c", 1, money=5, location="Shelf 1"), box("d", 4, money=5, location="Shelf 2"),
    ]  # fmt: skip

    assert set(select(boxes, [], Limits(money=10)).chosen) == {"a", "b"}
    assert set(select(boxes, [], Limits(money=10, whole_locations=True)).chosen) == {"b", "d"}


def test_five_thousand_boxes_come_within_a_thousandth_of_the_bound():
    boxes = [
        box(
            str(n), 1 + n * 7919 % 97, money=5 + n * 104729 % 60, board=str(n % 2),
            board_m2=0.2 + n * 31 % 50 / 40, minutes={"cut": 10 + n % 23, "fit": 5 + n % 11},
        )
        for n in range(5000)
    ]  # fmt: skip
    offers = [BoardOffer("0", 10.0, 90.0), BoardOffer("1", 1.2, 15.0)]
    workers = [
        Worker("1", "A", 20_000, frozenset({"cut"})),
        Worker("2", "B", 15_000, frozenset({"cut", "fit"})),
    ]

    found = select(boxes, offers, Limits(money=20_000, workers=workers), gap=1e-3)

    assert found.gap <= 1e-3
    assert found.money <= 20_000
    assert {use.name for use in found.uses if use.share <= 1} == {"money", "people"}


def test_limits_too_small_for_anything_name_the_box_that_needs_least():
    boxes = [box("a", 5, money=40), box("b", 1, money=25)]

    with pytest.raises(
        SelectionRefused, match="needs least is Object b: 25.00 of money, and the limit is 20.00"
    ):
        select(boxes, [], Limits(money=20))


def test_musts_beyond_a_limit_say_by_how_much():
    boxes = [box("a", 5, money=40), box("b", 1, money=25)]

    with pytest.raises(SelectionRefused, match="65.00 of money, and the limit is 50.00"):
        select(boxes, [], Limits(money=50, must=frozenset({"a", "b"})))


@pytest.mark.parametrize(
    ("limits", "words"),
    [
        (Limits(must=frozenset({"z"})), "the first is z"),
        (Limits(must=frozenset({"a"}), must_not=frozenset({"a"})), "must be in and must not be in"),
        (
            Limits(must=frozenset({"a"}), must_not=frozenset({"b"}), sets=[("a", "b")]),
            "is kept with Object b, which must not",
        ),
        (Limits(must_not=frozenset({"a", "b"})), "no box to choose from"),
        (Limits(workers=[]), "those who have it give 0.0"),
    ],
)
def test_what_contradicts_itself_is_refused(limits, words):
    boxes = [box("a", minutes={"cut": 5}), box("b", minutes={"cut": 6})]

    with pytest.raises(SelectionRefused, match=words):
        select(boxes, [], limits)


def test_what_the_next_money_and_hours_would_add():
    boxes = [box("a", 9, money=400, minutes={"cut": 60}), box("b", 5, money=450, minutes={"cut": 60})]
    limits = Limits(money=400, minutes={"cut": 600})
    found = select(boxes, [], limits)

    gains = next_gains(boxes, [], limits, found)

    # 500 more pays for b; 20 h more of cutting, of which there is enough, add nothing.
    assert [(one.what, one.worth, one.added) for one in gains] == [("money", 5, ("b",)), ("cut", 0, ())]
