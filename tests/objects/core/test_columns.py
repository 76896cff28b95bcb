"""Which columns a reader sees: what she chose, and what came new since."""

from hypothesis import given
from hypothesis import strategies as st

from objects.core.columns import Offered, is_a_name, keep, moved, order_of, shown

NAMES = ("number", "name", "size", "weight", "score")
OFFERED = Offered(NAMES, frozenset(NAMES) - {"weight"}, frozenset({"number"}))


def test_whoever_has_chosen_none_sees_the_usual_ones():
    assert shown(OFFERED, []) == ("number", "name", "size", "score")


def test_columns_stand_as_they_were_chosen():
    kept = keep(["score", "number", "name", "size", "weight"], ["score", "weight"])

    assert kept == ["score", "-number", "-name", "-size", "weight"]
    assert shown(OFFERED, kept) == ("score", "number", "weight")  # the number always stays


def test_a_usual_column_that_came_later_is_shown_behind_the_one_it_follows():
    kept = ["score", "name", "-number"]  # kept when there was neither size nor weight

    assert order_of(OFFERED, kept) == (
        ("score", True), ("name", True), ("size", True), ("weight", False), ("number", True),
    )  # fmt: skip


def test_a_column_that_is_gone_from_the_table_is_passed_over():
    assert shown(OFFERED, ["colour", "name", "-size", "-score", "number"]) == ("name", "number")


def test_a_column_moves_no_further_than_the_end():
    assert moved(["a", "b", "c"], "b", -1) == ["b", "a", "c"]
    assert moved(["a", "b", "c"], "c", 1) == ["a", "b", "c"]
    assert moved(["a", "b", "c"], "x", 1) == ["a", "b", "c"]


def test_only_names_are_kept():
    assert keep(["a", "a", "b c", "<b>", "-d", "é", "x" * 61], ["a"]) == ["a"]
    assert not is_a_name("")


@given(st.lists(st.sampled_from([*NAMES, *(f"-{name}" for name in NAMES), "gone", "-"])))
def test_every_column_is_offered_once_whatever_was_kept(kept):
    order = [name for name, _ in order_of(OFFERED, kept)]

    assert sorted(order) == sorted(NAMES)
    assert "number" in shown(OFFERED, kept)
