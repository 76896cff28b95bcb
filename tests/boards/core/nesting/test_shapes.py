"""What is refused of blanks, sheets and rules."""

from decimal import Decimal

import pytest

from boards.core.nesting import (
    CutSheet,
    Layout,
    Offcut,
    Piece,
    PieceRefused,
    Rules,
    RulesRefused,
    Sheet,
    SheetRefused,
    layout_cost,
)

NAN, INFINITE = float("nan"), float("inf")


@pytest.mark.parametrize(
    ("along_mm", "across_mm", "shown"),
    [
        (0, 300, "0 x 300 mm"),
        (300, -1, "300 x -1 mm"),
        (NAN, 300, "nan x 300 mm"),
        (300, INFINITE, "300 x inf mm"),
    ],
)
def test_blank_without_both_sides_is_refused(along_mm, across_mm, shown):
    with pytest.raises(PieceRefused) as refused:
        Piece("b7", along_mm, across_mm)

    assert str(refused.value) == f"Blank b7 is {shown}; both sides must be above 0."


def test_sheet_without_both_sides_is_refused():
    with pytest.raises(SheetRefused) as refused:
        Sheet("A", 1016, 0, Decimal(9))

    assert str(refused.value) == "Sheet A is 1016 x 0 mm; both sides must be above 0."


@pytest.mark.parametrize("price", ["-0.01", "NaN", "Infinity"])
def test_sheet_with_an_impossible_price_is_refused(price):
    with pytest.raises(SheetRefused) as refused:
        Sheet("A", 1016, 813, Decimal(price))

    assert str(refused.value) == f"Sheet A costs {price}; a price must be a number not below 0."


def test_negative_stock_is_refused():
    with pytest.raises(SheetRefused) as refused:
        Sheet("A", 1016, 813, Decimal(9), stock=-1)

    assert str(refused.value) == "Sheet A has a stock of -1; a stock cannot be below 0."


@pytest.mark.parametrize(
    ("rules", "sentence"),
    [
        ({"kerf_mm": -1}, "The kerf is -1 mm; it must be a number not below 0."),
        ({"trim_mm": -0.5}, "The trim is -0.5 mm; it must be a number not below 0."),
        ({"trim_mm": NAN}, "The trim is nan mm; it must be a number not below 0."),
        ({"least_offcut_mm": -5}, "The least offcut is -5 mm; it must be a number not below 0."),
    ],
)
def test_negative_lengths_in_the_rules_are_refused(rules, sentence):
    with pytest.raises(RulesRefused) as refused:
        Rules(**rules)

    assert str(refused.value) == sentence


def test_layout_costs_the_sum_of_its_sheets():
    cut_sheets = tuple(CutSheet(key, (), (), ()) for key in ("A", "B", "A"))

    # By hand: 2 x 14.00 + 6.40.
    assert layout_cost(
        Layout(cut_sheets, ()),
        [Sheet("A", 1524, 1016, Decimal("14.00")), Sheet("B", 1016, 813, Decimal("6.40"))],
    ) == Decimal("34.40")


# ---- Packs -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("cut", "paid"),
    [
        # Bought five at a time with three on hand: what is on hand is paid as it is used, packs begun whole.
        (0, 0),
        (2, 2),
        (3, 3),  # just what is on hand
        (4, 8),  # 3 + 5
        (8, 8),  # the pack is used up
        (9, 13),  # 3 + 10
        (13, 13),
        (14, 18),  # 3 + 15
    ],
)
def test_packs_begun_are_paid_whole(cut, paid):
    assert Sheet("A", 1016, 813, Decimal(9), pack=5, on_hand=3).paid(cut) == paid


@pytest.mark.parametrize("cut", [0, 1, 7])
def test_sheets_bought_one_at_a_time_are_paid_as_they_are_cut(cut):
    assert Sheet("A", 1016, 813, Decimal(9)).paid(cut) == cut


def test_layout_costs_its_packs():
    # By hand: two sheets of a pack of three at 2.50 cost 7.50, one of another size 4.00; C is not cut.
    cut_sheets = tuple(CutSheet(key, (), (), ()) for key in ("A", "B", "A"))
    sheets = [
        Sheet("A", 1524, 1016, Decimal("2.50"), pack=3),
        Sheet("B", 1016, 813, Decimal(4)),
        Sheet("C", 1016, 813, Decimal(6), pack=10),
    ]

    assert layout_cost(Layout(cut_sheets, ()), sheets) == Decimal("11.50")


@pytest.mark.parametrize(("pack", "on_hand"), [(0, 0), (-1, 0), (5, -1)])
def test_impossible_packs_are_refused(pack, on_hand):
    with pytest.raises(SheetRefused) as refused:
        Sheet("A", 1016, 813, Decimal(9), pack=pack, on_hand=on_hand)

    assert str(refused.value) == (
        f"Sheet A is bought {pack} at a time with {on_hand} on hand; "
        "a pack holds 1 or more, and none on hand is 0."
    )


@pytest.mark.parametrize("area", [-1, NAN, INFINITE])
def test_impossible_least_area_of_an_offcut_is_refused(area):
    with pytest.raises(RulesRefused) as refused:
        Rules(least_offcut_mm2=area)

    assert str(refused.value) == f"The least offcut is {area:g} mm2; it must be a number not below 0."


def test_area_of_an_offcut():
    assert Offcut(5, 5, 30, 20).area_mm2 == 600


# ---- Corners ---------------------------------------------------------------------------------------------

NOTHING = (0.0, 0.0)


@pytest.mark.parametrize(
    "corners",
    [
        (),
        (NOTHING,) * 4,
        ((50, 30),) * 4,  # a quarter of the blank each, meeting in the middle
        ((60, 30), (40, 30), NOTHING, NOTHING),  # together just as long as the near edge
        ((60, 20), (40, 10), (60, 40), (40, 50)),  # all of it: 100 and 100 along, 60 and 60 across
        ((100, 60), NOTHING, NOTHING, NOTHING),  # the whole blank
        ((70, 40), NOTHING, NOTHING, (30, 60)),  # 70 + 30 along: the diagonal ones just meet
        ((80, 0), (80, 10), NOTHING, NOTHING),  # the first has no area to be in the way
    ],
)
def test_corners_that_lie_side_by_side_are_accepted(corners):
    assert Piece("b7", 100, 60, corners=corners).corners == corners


@pytest.mark.parametrize(
    "corners",
    [
        ((10, 10),),
        ((10, 10),) * 3,
        ((10, 10),) * 5,
        ((-1, 10), NOTHING, NOTHING, NOTHING),
        ((10, NAN), NOTHING, NOTHING, NOTHING),
        ((INFINITE, 10), NOTHING, NOTHING, NOTHING),
        ((100.1, 10), NOTHING, NOTHING, NOTHING),  # longer than the blank
        (NOTHING, (10, 60.1), NOTHING, NOTHING),  # wider than the blank
        ((60, 10), (40.1, 10), NOTHING, NOTHING),  # near left and near right
        (NOTHING, NOTHING, (60, 10), (40.1, 10)),  # far left and far right
        ((10, 30), NOTHING, (10, 30.1), NOTHING),  # near left and far left
        (NOTHING, (10, 30), NOTHING, (10, 30.1)),  # near right and far right
        ((70, 40), NOTHING, NOTHING, (30.1, 20.1)),  # near left and far right
        (NOTHING, (30.1, 20.1), (70, 40), NOTHING),  # near right and far left
    ],
)
def test_corners_that_are_not_four_or_overlap_are_refused(corners):
    with pytest.raises(PieceRefused) as refused:
        Piece("b7", 100, 60, corners=corners)

    assert str(refused.value) == (
        "The corners of blank b7, 100 x 60 mm, must be four, none with a side below 0 and none in another's "
        "way."
    )
