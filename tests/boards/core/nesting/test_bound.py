"""Lower bounds against areas worked by hand, an independent calculation and published instances."""

from decimal import Decimal

import pytest

from boards.core.nesting import Bound, Rules, bound
from tests.boards.core.nesting.made import CLASSES, campaign, make_pieces, make_sheet, published


@pytest.mark.parametrize(
    ("sizes", "expected"),
    [
        # By hand: a sheet has 6000 mm2.
        ([(50, 30)] * 4, 1),  # 4 x 1500 fill it exactly
        ([(50, 30)] * 5, 2),  # 7500
        (
            [(51, 31)] * 3,
            3,
        ),  # 4743, but each more than half of both sides
        ([(51, 60)] * 2 + [(49, 60)] * 2, 2),  # a half and a bit, and the rest, twice
        ([], 0),
    ],
)
def test_number_of_sheets_follows_from_areas_and_large_blanks(sizes, expected):
    assert bound(make_pieces(*sizes), [make_sheet(100, 60)], Rules()).sheets == expected


def test_cheapest_area_is_used_up_first():
    # By hand: 15000 mm2 wanted; two small sheets give 2 x 3000 at 2.00, the other 9000 are one and a half
    # large ones at 6.00: 4 + 9 = 13, which sums of 2 and 6 only reach with 14. Fewest: 15000 / 6000 = 2.5.
    sizes = [make_sheet(100, 60, price=6, key="large"), make_sheet(50, 60, price=2, stock=2, key="small")]

    assert bound(make_pieces(*[(50, 60)] * 5), sizes, Rules()) == Bound(Decimal(14), 3)


def test_blanks_that_fit_no_sheet_are_not_counted():
    assert bound(make_pieces((101, 10), (50, 30)), [make_sheet(100, 60)], Rules()) == Bound(Decimal(1), 1)


def test_sheets_that_hold_no_blank_are_not_counted():
    # The cheap narrow sheet must not draw the bound down.
    sizes = [make_sheet(100, 60, price=6, key="large"), make_sheet(1000, 20, price=1, key="narrow")]

    assert bound(make_pieces((50, 60)), sizes, Rules()).cost == 6


def test_offcuts_that_cost_nothing_bring_the_cost_down_to_nothing():
    assert bound(make_pieces((50, 30)), [make_sheet(price=0, stock=1)], Rules()) == Bound(Decimal(0), 1)


@pytest.mark.parametrize(
    ("name", "sheets", "cost"),
    [
        # An independent calculation gives 108.843 sheets for the first, 7.842 for the second, of 1400 cents
        # each; and by area alone 146027 and 14691 cents for the mixes of 1400, 640 and 2500, whose sums are
        # multiples of 20.
        ("500_s1_1sheet", 109, 109 * 1400),
        ("50_s2_1sheet", 8, 8 * 1400),
        ("500_s1_3sheet", None, 146040),
        ("50_s1_3sheet", None, 14700),
    ],
)
def test_campaign_bounds_agree_with_an_independent_calculation(name, sheets, cost):
    least = bound(*campaign(name))

    assert least.cost == cost
    assert sheets in (None, least.sheets)


@pytest.mark.parametrize("instance", CLASSES, ids=lambda instance: instance["id"])
def test_bound_is_never_above_the_best_published_layout(instance):
    assert bound(*published(instance, may_turn=False)).sheets <= instance["best"]["O_F"]
    assert bound(*published(instance, may_turn=True)).sheets <= instance["best"]["R_F"]
