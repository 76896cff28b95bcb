"""Whole packs, price breaks, stock and freight, worked by hand."""

from datetime import date
from decimal import Decimal as D

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housing.core.budget.lines import Section, Target, total
from housing.core.budget.purchases import MaterialNeed, SupplierTerms, buy, cheapest_packs
from tests.examples import few

TODAY = date(2027, 3, 1)


def need(key="sheet:1", **given) -> MaterialNeed:
    usual = {
        "section": Section.BOARD, "what": "B7", "unit": "sheet", "needed": D(37), "price": D("84.00"),
        "computed_from": "37 sheets in the cutting plan", "target": Target("board", "7"), "pack": D(10),
        "whole_units": True, "supplier": "4",
    }  # fmt: skip
    return MaterialNeed(key=key, **usual | given)


SUPPLIER = SupplierTerms("4", "Fenwold Board")


def test_packs_are_bought_whole():
    # 37 sheets in packs of 10: 4 packs of 84.00.
    bought = buy([need()], [SUPPLIER], TODAY)

    assert [(line.quantity, line.amount) for line in bought.lines] == [(4, D("336.00"))]
    assert bought.problems == ()


def test_spoiled_sheets_are_bought_on_top_and_stock_is_taken_off():
    # 37 x 1.03 = 38.11, so 39 sheets; 12 on hand, 27 lacking: 3 packs. The 12 are worth 12 x 8.40.
    bought = buy([need(spoilage_share=D("0.03"), on_hand=D(12))], [SUPPLIER], TODAY)

    assert [(line.section, line.quantity, line.amount) for line in bought.lines] == [
        (Section.ON_HAND, 12, D("100.80")),
        (Section.BOARD, 3, D("252.00")),
    ]


def test_nothing_is_bought_where_enough_is_on_hand():
    bought = buy([need(on_hand=D(60), price=None)], [SUPPLIER], TODAY)

    assert [(line.section, line.quantity) for line in bought.lines] == [(Section.ON_HAND, 37)]
    assert bought.problems == ()


def test_more_is_bought_where_a_break_makes_that_cheaper():
    # 9 packs at 10 = 90; from 10 packs 8 each = 80.
    assert cheapest_packs(9, D(10), [(10, D(8))]) == (10, D(8))
    assert cheapest_packs(7, D(10), [(10, D(8))]) == (7, D(10))
    assert cheapest_packs(8, D(10), [(10, D(8))]) == (8, D(10))  # 80 either way: the fewer
    assert cheapest_packs(0, D(10), [(10, D(8))]) == (0, D(10))


@few(60)
@given(
    st.integers(1, 40),
    st.integers(5, 50),
    st.lists(st.tuples(st.integers(2, 60), st.integers(1, 50)), max_size=3, unique_by=lambda pair: pair[0]),
)
def test_no_number_of_packs_is_cheaper(least, price, breaks):
    def paid(number):
        reached = [(count, each) for count, each in breaks if count <= number]
        return number * (max(reached)[1] if reached else price)

    number, each = cheapest_packs(least, D(price), [(count, D(money)) for count, money in breaks])

    assert number >= least
    assert number * each == min(paid(n) for n in range(least, 130))


@pytest.mark.parametrize(
    ("goods", "freight"),
    # 12 an order and 5 % of the goods, free from 300: 12 + 5; 12 + 14.99 (5 % of 299.80); 0; nothing ordered.
    [("100.00", "17.00"), ("299.80", "26.99"), ("300.00", "0"), ("0", "0")],
)
def test_freight_of_an_order(goods, freight):
    terms = SupplierTerms("4", "Fenwold Board", D(12), D("0.05"), D(300))

    assert terms.freight(D(goods)) == D(freight)


def test_each_supplier_sends_one_order():
    terms = SupplierTerms("4", "Fenwold Board", D("12.50"), lead_days=9)
    needs = [need(), need("sheet:2", needed=D(1)), need("supply:3", supplier="", unit="piece", pack=D(1))]

    bought = buy(needs, [terms], TODAY)

    assert [(o.supplier, o.lines, o.goods, o.freight, o.lead_days) for o in bought.orders] == [
        ("", ("supply:3",), D("3108.00"), 0, None),  # 37 x 84
        ("4", ("sheet:1", "sheet:2"), D("420.00"), D("12.50"), 9),  # 336 + 84
    ]
    assert total(line for line in bought.lines if line.section is Section.FREIGHT) == D("12.50")


@pytest.mark.parametrize(
    ("wrong", "what", "is_low"),
    [
        ({"price": None}, "B7 has no price", True),
        ({"price": D(0)}, "The price of B7 is 0", True),
        ({"priced_on": date(2027, 4, 1)}, "The price of B7 holds only from 1 April 2027", False),
        ({"is_withdrawn": True}, "B7 is no longer sold", True),
        ({"supplier": ""}, "No supplier is entered for B7", False),
    ],
)
def test_what_is_wrong_is_named(wrong, what, is_low):
    problems = buy([need(**wrong)], [SUPPLIER], TODAY).problems

    assert [(one.what, one.makes_incomplete) for one in problems] == [(what, is_low)]


def test_a_price_that_has_begun_to_hold_is_no_problem():
    assert buy([need(priced_on=TODAY)], [SUPPLIER], TODAY).problems == ()


def test_of_one_thing_there_is_one_need():
    with pytest.raises(ValueError, match="sheet:1"):
        buy([need(), need()], [SUPPLIER], TODAY)


@few(40)
@given(st.integers(0, 300), st.integers(0, 300), st.integers(1, 25), st.integers(0, 20))
def test_what_is_bought_and_on_hand_is_enough_and_not_a_pack_too_much(needed, on_hand, pack, spoiled):
    asked = need(needed=D(needed), on_hand=D(on_hand), pack=D(pack), spoilage_share=D(spoiled) / 100)

    lines = buy([asked], [SUPPLIER], TODAY).lines

    packs = sum(line.quantity for line in lines if line.section is Section.BOARD)
    if needed:
        lacking = max(-(-needed * (100 + spoiled) // 100) - on_hand, 0)
        assert lacking <= packs * pack < lacking + pack
