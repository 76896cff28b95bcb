"""A budget comes back from JSON as it was."""

import json
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from housing.core.budget.lines import Budget, Problem, Section, Target
from housing.core.budget.stored import from_json, to_json
from tests.examples import few
from tests.housing.core.budget.lines import make_line

quantities = st.decimals(0, 10**6, places=3)
lines = st.builds(
    lambda section, quantity, price, factor: make_line(
        section, quantity=quantity, price=price, factor=factor, supplier="4", step="cut"
    ),
    st.sampled_from(Section),
    quantities,
    quantities,
    st.decimals(1, 3, places=4),
)


@few(30)
@given(st.lists(lines, max_size=5), st.decimals(0, 10**6, places=2), st.booleans())
def test_a_budget_read_again_is_the_same_budget(of_budget, contingency, makes_incomplete):
    problem = Problem("No price", "The board", "Enter it", Target("board", "3"), makes_incomplete)
    budget = Budget("EUR", tuple(of_budget), (problem,), contingency, {"cut": 1.25})

    again = from_json(json.loads(json.dumps(to_json(budget))))

    assert again == budget


def test_amounts_and_sums_are_written_beside_their_figures():
    # 3 x 12.50 = 37.50, and 5.25 on top
    board = make_line(Section.BOARD, "12.50", quantity=Decimal(3))
    given_hours = make_line(Section.IN_KIND, "100")

    kept = to_json(Budget("EUR", (board, given_hours), contingency=Decimal("5.25")))

    assert (kept["money"], kept["asked_for"]) == ("37.50", "42.75")
    assert kept["sections"] == {"board": "37.50", "in_kind": "100.00"}
    assert kept["lines"][0]["amount"] == "37.50"
