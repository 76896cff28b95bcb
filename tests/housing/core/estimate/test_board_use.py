"""Sheets paid for by the blanks cut from them."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housing.core.estimate.board_use import EstimateRefused, SheetUse, board_areas_mm2, board_costs


def test_sheet_is_paid_in_proportion_to_the_area_of_each_blank():
    # By hand: base 1019.34375 and lid 303.1875 in2 of one housing, another lid of 303.1875 in2; of 17.60 the
    # second has 303.1875 / 1625.71875 = 18.6494 % = 3.2823.
    sheet = SheetUse("S1", Decimal("17.60"), (("A", 1019.34375), ("A", 303.1875), ("B", 303.1875)))

    assert board_costs([sheet]) == {"A": Decimal("14.32"), "B": Decimal("3.28")}


def test_housing_pays_its_part_of_every_sheet_it_is_cut_from():
    # By hand: half of 10.00 and a quarter of 8.00.
    sheets = [
        SheetUse("S1", Decimal("10.00"), (("A", 500), ("B", 500))),
        SheetUse("S2", Decimal("8.00"), (("A", 100), ("C", 300))),
    ]

    assert board_costs(sheets) == {"A": Decimal("7.00"), "B": Decimal("5.00"), "C": Decimal("6.00")}


def test_offcut_that_cost_nothing_costs_its_blanks_nothing():
    assert board_costs([SheetUse("S1", Decimal(0), (("A", 500),))]) == {"A": Decimal("0.00")}


def test_areas_of_all_blanks_of_a_housing_are_added():
    sheets = [
        SheetUse("S1", Decimal(1), (("A", 500), ("B", 70), ("A", 30))),
        SheetUse("S2", Decimal(1), (("A", 1),)),
    ]

    assert board_areas_mm2(sheets) == {"A": 531, "B": 70}


def test_sheet_nobody_would_pay_for_is_refused():
    with pytest.raises(EstimateRefused, match="Sheet S1 carries no blank, so nobody pays for it."):
        board_costs([SheetUse("S1", Decimal(9), ())])


blanks = st.lists(st.tuples(st.sampled_from("ABCDE"), st.floats(1, 1e6)), min_size=1, max_size=12)
sheets = st.lists(
    st.builds(
        lambda price, blanks: SheetUse("S", price, tuple(blanks)), st.decimals(0, 999, places=2), blanks
    ),
    max_size=12,
)


@given(sheets)
def test_shares_add_up_to_the_price_of_the_sheets(sheets):
    assert sum(board_costs(sheets).values()) == sum(sheet.price for sheet in sheets)
