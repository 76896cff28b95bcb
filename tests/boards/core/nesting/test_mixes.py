"""Which sheets to open: money, board and needs by hand, and the roomiest mix beside all that there are."""

from decimal import Decimal
from itertools import product
from math import inf

import pytest

from boards.core.nesting import Piece, Rules, Sheet
from boards.core.nesting.job import Job, grow, units
from boards.core.nesting.mixes import Needs, around, board, cheapest_area, money, roomiest
from tests.boards.core.nesting.made import make_pieces, make_sheet

# 6000 mm2 for 10, 3000 mm2 for 4 of which there are 3, and a free offcut of 1000 mm2.
LARGE, SMALL = make_sheet(100, 60, price=10, key="large"), make_sheet(50, 60, price=4, stock=3, key="small")
RACK = make_sheet(50, 20, price=0, stock=1, key="rack")


def make_job(*sheets: Sheet, pieces: list[Piece] | None = None) -> Job:
    """A question without kerf and trim about one blank of 40 x 15, which fits every sheet here."""
    return grow(pieces or make_pieces((40, 15)), sheets, Rules())


def mm2(area: float) -> float:
    """Square units as square millimetres."""
    return area / units(1) ** 2


@pytest.mark.parametrize(
    ("mix", "cost", "area"),
    [
        ((0, 0, 0), 0, 0),
        ((2, 1, 1), 24, 16000),  # 2 * 10 + 4 + 0; 2 * 6000 + 3000 + 1000
        ((0, 3, 0), 12, 9000),
    ],
)
def test_mix_costs_and_holds_the_sum_of_its_sheets(mix, cost, area):
    job = make_job(LARGE, SMALL, RACK)

    assert (money(job, mix), mm2(board(job, mix))) == (cost, area)


def test_mix_pays_packs_begun_whole():
    # Packs of 5 at 2 each, 3 on hand: 4 sheets are 3 + 5 paid, 9 are 3 + 10.
    job = make_job(Sheet("S", 100, 60, Decimal(2), pack=5, on_hand=3))

    assert [money(job, (count,)) for count in (0, 3, 4, 8, 9)] == [0, 6, 16, 16, 26]


# ---- Needs -----------------------------------------------------------------------------------------------

# The blank of 90 x 50 = 4500 mm2 fits the large sheet alone, two of 40 x 50 = 2000 fit both sizes.
NEEDY = make_pieces((90, 50), (40, 50), (40, 50))


@pytest.mark.parametrize(
    ("mix", "expected"),
    [
        ((1, 0), False),  # 6000 of 8500
        ((1, 1), True),  # 9000
        ((2, 0), True),
        ((0, 3), False),  # 9000, but nothing for the long one
        ((0, 0), False),
    ],
)
def test_needs_are_met_by_board_enough_of_each_sort(mix, expected):
    job = make_job(LARGE, SMALL, pieces=NEEDY)

    assert Needs(job, [0, 1, 2]).are_met(mix) is expected


def test_needs_are_those_of_the_blanks_named():
    job = make_job(LARGE, SMALL, pieces=NEEDY)

    assert Needs(job, [1, 2]).are_met((0, 2))
    assert not Needs(job, [0]).are_met((0, 2))
    assert Needs(job, []).are_met((0, 0))


def test_spare_board_can_be_asked_for():
    # 8500 of 9000 is 1.0588.
    needs = Needs(make_job(LARGE, SMALL, pieces=NEEDY), [0, 1, 2])

    assert [needs.are_met((1, 1), spare) for spare in (1.05, 1.06)] == [True, False]


def test_blanks_of_two_sorts_need_the_board_of_both():
    # Long ones of 100 x 20 fit the first sheet, wide ones of 20 x 100 the second, each 2000 of 4000 mm2.
    sheets = make_sheet(100, 40, key="long"), make_sheet(40, 100, key="wide")
    needs = Needs(make_job(*sheets, pieces=make_pieces(*[(100, 20)] * 3, *[(20, 100)] * 3)), range(6))

    assert [needs.are_met(mix) for mix in ((2, 2), (3, 1), (4, 4), (1, 5))] == [True, False, True, False]


# ---- The mixes around one, and the roomiest --------------------------------------------------------------


def test_mixes_around_one_keep_within_the_stock():
    job = make_job(LARGE, SMALL)

    near = set(around(job, (1, 2)))

    # Up to two sheets of each kind more or less: 0 to 3 large, 0 to 3 small, the mix itself left out.
    assert near == set(product(range(4), range(4))) - {(1, 2)}


def test_offcut_in_use_may_be_given_up():
    job = make_job(LARGE, RACK)

    assert (1, 0) in set(around(job, (1, 1)))
    assert {mix[1] for mix in around(job, (1, 0))} == {0}


@pytest.mark.parametrize("budget", [9, 10, 14, 18, 20, 24, 30, 32, 40, 42])
def test_roomiest_mix_holds_as_much_as_any_within_the_budget(budget):
    job = make_job(LARGE, SMALL)
    within = [mix for mix in product(range(6), range(4)) if money(job, mix) <= budget]

    mix = roomiest(job, (3, 3), Needs(job, [0]), Decimal(budget), inf)

    assert mix is not None
    assert money(job, mix) <= budget
    assert board(job, mix) == max(board(job, one) for one in within)


def test_roomiest_mix_has_no_more_sheets_than_allowed():
    # For 20 two large ones hold 12000 and two large ones are two sheets; with one sheet 6000.
    job = make_job(LARGE, SMALL)

    mixes = [roomiest(job, (3, 3), Needs(job, [0]), Decimal(20), most) for most in (2, 1)]

    assert mixes == [(2, 0), (1, 0)]


@pytest.mark.parametrize("budget", [0, 3, 9])
def test_no_mix_is_found_where_none_within_the_budget_has_board_enough(budget):
    # The long blank needs a large sheet at 10.
    job = make_job(LARGE, SMALL, pieces=NEEDY)

    assert roomiest(job, (1, 1), Needs(job, [0, 1, 2]), Decimal(budget), inf) is None


def test_roomiest_mix_of_packs_uses_what_is_paid_anyway():
    # Packs of 5 at 2: from the first sheet on 10 are paid, so for 10 there are five sheets.
    job = make_job(Sheet("S", 100, 60, Decimal(2), pack=5))

    assert roomiest(job, (7,), Needs(job, [0]), Decimal(10), inf) == (5,)


@pytest.mark.parametrize(
    ("slack", "expected"),
    [
        # 10000 mm2 wanted. The offcut comes first, 1000, then the cheap small ones, 3 in stock, 9000.
        (1.0, (0, 3, 1)),
        (1.01, (1, 3, 1)),  # 10100: one large one more
        (1.7, (2, 3, 1)),  # 17000: 7000 more than the 10000
    ],
)
def test_cheapest_board_is_taken_first(slack, expected):
    job = make_job(LARGE, SMALL, RACK, pieces=make_pieces(*[(50, 20)] * 10))

    assert cheapest_area(job, Needs(job, range(10)), slack) == expected
