"""What is refused of blanks, sheets and rules."""

from decimal import Decimal

import pytest

from boards.core.nesting import (
    CutSheet,
    Layout,
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
