"""Random questions with every rule on: each plan passes the judge, and the bounds lie below it."""

from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st

from boards.core.nesting import Piece, Rules, Sheet, bound, check, layout_cost, nest
from tests.boards.core.nesting.exhaustive import least_cost
from tests.boards.core.nesting.made import twice

# Tenths of a millimetre and sixteenths of an inch, as makers measure.
SIDES = st.one_of(
    st.integers(10, 1500).map(lambda tenths: tenths / 10),
    st.integers(1, 96).map(lambda sixteenths: sixteenths * 25.4 / 16),
)
RULES = st.builds(
    Rules,
    kerf_mm=st.sampled_from([0, 0.3, 1, 25.4 / 16, 3]),
    trim_mm=st.sampled_from([0, 0.1, 2, 5, 25.4 / 4]),
    least_offcut_mm=st.sampled_from([0, 20]),
)


@st.composite
def some_pieces(draw, most=14):
    sizes = draw(st.lists(st.tuples(SIDES, SIDES, st.booleans()), max_size=most))
    return [Piece(f"p{number}", *size) for number, size in enumerate(sizes)]


@st.composite
def some_sheets(draw, stocks=(None, 0, 1, 3)):
    sizes = draw(
        st.lists(
            st.tuples(SIDES, SIDES, st.sampled_from(["0", "1", "2.5", "4.75"]), st.sampled_from(stocks)),
            min_size=1,
            max_size=3,
        )
    )
    return [
        Sheet(f"s{n}", 2 * a, 2 * b, Decimal(price), stock) for n, (a, b, price, stock) in enumerate(sizes)
    ]


@settings(max_examples=80, deadline=None)
@given(some_pieces(), some_sheets(), RULES)
def test_every_plan_passes_the_judge_and_costs_no_less_than_the_bound(pieces, sheets, rules):
    layout = nest(pieces, sheets, rules)

    assert check(layout, pieces, sheets, rules) == ()
    least = bound(pieces, sheets, rules)
    if not any("used up" in unplaced.reason for unplaced in layout.unplaced):
        assert least.cost <= layout_cost(layout, sheets)
        assert least.sheets <= len(layout.sheets)


@settings(max_examples=40, deadline=None)
@given(some_pieces(most=5), some_sheets(stocks=[None]), RULES)
def test_least_possible_cost_lies_between_the_bound_and_the_plan(pieces, sheets, rules):
    layout = nest(pieces, sheets, rules)
    left_out = {unplaced.key for unplaced in layout.unplaced}
    cut = [piece for piece in pieces if piece.key not in left_out]

    least = least_cost(cut, sheets, rules)

    assert least is not None
    assert bound(pieces, sheets, rules).cost <= least <= layout_cost(layout, sheets)


@settings(max_examples=30, deadline=None)
@given(some_pieces(most=8), some_sheets(stocks=[None]), RULES)
def test_bound_for_twice_the_blanks_is_no_lower_and_at_most_twice_as_high(pieces, sheets, rules):
    once, double = bound(pieces, sheets, rules), bound(twice(pieces), sheets, rules)

    assert once.cost <= double.cost <= 2 * once.cost
    assert once.sheets <= double.sheets <= 2 * once.sheets
