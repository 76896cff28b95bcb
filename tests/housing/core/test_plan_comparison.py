"""Two plans side by side; every expected number is worked by hand from the two small plans below."""

from dataclasses import replace
from decimal import Decimal

import pytest

from housing.core.plan_comparison import (
    BoardFigures,
    KeptPlan,
    RuleDifference,
    SheetContents,
    SheetCount,
    compare,
    count_in_corners,
    totals,
)


def sheet(*blanks: str, **given) -> SheetContents:
    """A sheet of 1000 x 500 mm of board A, not cut."""
    return SheetContents(
        **{
            "board": "A",
            "source": "1000 × 500 mm",
            "along_mm": 1000.0,
            "across_mm": 500.0,
            "is_cut": False,
            "blanks": blanks,
            **given,
        }
    )


def board(**given) -> BoardFigures:
    """A board of which nothing is planned but what the test says."""
    return BoardFigures(
        **{
            "board": "A", "cost": Decimal("0"), "least_cost": Decimal("0"), "sheets": 0, "least_sheets": 0,
            "cut_cost": Decimal("0"), "cut_sheets": 0, "blanks": 0, "used_share": 0.0, "offcut_mm2": 0.0,
            "in_corners": 0, **given,
        }
    )  # fmt: skip


def plan(*sheets: SheetContents, boards=(), **rules: str) -> KeptPlan:
    return KeptPlan(rules=rules, boards=tuple(boards), sheets=sheets)


def test_a_plan_is_summed_up_over_its_boards():
    large = sheet("3 base", board="B", source="2000 × 1000 mm", along_mm=2000.0, across_mm=1000.0)
    made = plan(
        sheet("1 base"), sheet("2 base", is_cut=True), large,
        boards=[
            board(
                cost=Decimal("12.50"), least_cost=Decimal("12.50"), cut_cost=Decimal("12.50"), cut_sheets=1,
                sheets=1, blanks=2, used_share=0.6, offcut_mm2=40_000.0, in_corners=1,
            ),
            board(
                board="B", cost=Decimal("27.50"), least_cost=Decimal("20.00"), sheets=1, blanks=1,
                used_share=0.9, offcut_mm2=60_000.0, in_corners=2,
            ),
        ],
    )  # fmt: skip

    found = totals(made)

    assert (found.new_cost, found.cut_cost, found.cost) == (
        Decimal("40.00"),  # 12.50 + 27.50
        Decimal("12.50"),
        Decimal("52.50"),
    )
    assert found.least_cost == Decimal("32.50")  # 12.50 + 20.00
    assert found.percent_above_least == pytest.approx(23.0769, abs=1e-4)  # 40 / 32.5 = 1.230769
    assert (found.sheets, found.blanks, found.in_corners) == (3, 3, 3)
    # 0.6 of 2 x 0.5 m2 and 0.9 of 2 m2 are 2.4 of 3 m2
    assert found.used_share == pytest.approx(0.8)
    assert found.offcut_mm2 == 100_000.0


def test_a_plan_from_offcuts_alone_has_no_share_above_the_least():
    assert totals(plan(sheet("1 base"), boards=[board()])).percent_above_least is None  # nothing over nothing


def test_a_plan_without_sheets_uses_nothing():
    assert totals(plan()).used_share == 0.0


def test_two_equal_plans_differ_in_nothing():
    made = plan(sheet("1 base", "1 lid"), sheet("2 base", "2 lid"), kerf="1 mm")

    found = compare(made, made)

    assert found.first == found.second
    assert found.sheets_alike == 2
    assert found.rule_differences == ()
    assert found.blanks_only_in_first == found.blanks_only_in_second == ()
    assert found.sheets_only_in_first == found.sheets_only_in_second == ()
    assert found.blanks_in_other_company == ()


def test_blanks_in_one_plan_only_are_told_in_the_order_of_their_numbers():
    found = compare(plan(sheet("1.10 lid", "1.9 lid", "2 lid")), plan(sheet("2 lid", "3 lid")))

    assert found.blanks_only_in_first == ("1.9 lid", "1.10 lid")
    assert found.blanks_only_in_second == ("3 lid",)


def test_sheets_are_alike_wherever_their_blanks_lie_and_whatever_their_place_in_the_plan():
    first = plan(sheet("1 base", "2 lid"), sheet("3 base"))
    second = plan(sheet("3 base"), sheet("2 lid", "1 base"))

    assert compare(first, second).sheets_alike == 2


def test_sheets_cut_meanwhile_are_still_alike():
    assert compare(plan(sheet("1 lid")), plan(sheet("1 lid", is_cut=True))).sheets_alike == 1


@pytest.mark.parametrize(
    "other",
    [
        sheet("1 base", board="B"),
        sheet("1 base", along_mm=1000.1),
        sheet("1 base", across_mm=501.0),
        sheet("1 base", "1 lid"),
        sheet("1 base", "1 base"),  # twice is not once
        sheet(),
    ],
)
def test_sheets_of_another_board_size_or_content_are_not_alike(other):
    found = compare(plan(sheet("1 base")), plan(other))

    assert found.sheets_alike == 0
    assert (found.sheets_only_in_first, found.sheets_only_in_second) == ((sheet("1 base"),), (other,))


def test_of_sheets_alike_each_stands_for_one():
    found = compare(plan(sheet(), sheet(), sheet()), plan(sheet(), sheet("1 lid")))

    assert found.sheets_alike == 1
    assert found.sheets_only_in_first == (sheet(), sheet())  # 3 - 1
    assert found.sheets_only_in_second == (sheet("1 lid"),)


def test_a_blank_that_changes_its_sheet_changes_the_company_of_all_it_leaves_and_joins():
    first = plan(sheet("1 base", "1 lid"), sheet("2 base"), sheet("3 base", "3 lid"))
    second = plan(sheet("1 base"), sheet("2 base", "1 lid"), sheet("3 lid", "3 base"))

    assert compare(first, second).blanks_in_other_company == ("1 base", "1 lid", "2 base")


def test_a_larger_sheet_with_the_same_blanks_changes_no_company():
    found = compare(plan(sheet("1 base", "1 lid")), plan(sheet("1 base", "1 lid", along_mm=2000.0)))

    assert found.blanks_in_other_company == ()


def test_a_blank_of_one_plan_only_is_new_and_not_in_other_company():
    found = compare(plan(sheet("1 base")), plan(sheet("1 base", "2 base")))

    assert found.blanks_only_in_second == ("2 base",)
    assert found.blanks_in_other_company == ("1 base",)  # 2 base has come beside it


def test_a_name_on_two_sheets_is_compared_sheet_by_sheet():
    given_up = sheet("1 base", is_cut=True)
    first = plan(given_up, sheet("1 base", "2 lid"))

    moved = plan(given_up, sheet("2 lid"), sheet("1 base", "3 lid"))

    assert compare(first, plan(sheet("1 base", "2 lid"), given_up)).blanks_in_other_company == ()
    assert compare(first, moved).blanks_in_other_company == ("1 base", "2 lid")


def test_sheets_are_counted_by_board_and_size_and_offcuts_of_a_board_together():
    small = sheet(source="500 × 500 mm", along_mm=500.0)
    first = plan(sheet(), sheet(), sheet(source="offcut 7"), sheet(board="B"))
    second = plan(sheet(), small, sheet(source="offcut 8"), sheet(source="offcut 9"))

    assert compare(first, second).sheet_counts == (
        SheetCount("A", "500 × 500 mm", 0, 1),
        SheetCount("A", "1000 × 500 mm", 2, 1),
        SheetCount("A", "offcut", 1, 2),
        SheetCount("B", "1000 × 500 mm", 1, 0),
    )


def test_rules_that_differ_are_told_and_those_one_plan_does_not_know():
    first, second = plan(kerf="1 mm", trim="5 mm"), plan(kerf="3 mm", trim="5 mm", corners="used")

    assert compare(first, second).rule_differences == (
        RuleDifference("kerf", "1 mm", "3 mm"),
        RuleDifference("corners", "", "used"),
    )


BASE = (0.0, 0.0, 300.0, 200.0)


@pytest.mark.parametrize(
    ("placed", "expected"),
    [
        ([], 0),
        ([BASE], 0),
        ([BASE, (301.0, 0.0, 40.0, 40.0)], 0),  # beside it, a kerf of 1 mm away
        ([BASE, (300.0, 0.0, 40.0, 40.0), (0.0, 200.0, 40.0, 40.0)], 0),  # touching, no kerf
        ([BASE, (299.9999, 0.0, 40.0, 40.0)], 0),  # rounded to 0.0001 mm
        ([BASE, (0.0, 0.0, 40.0, 40.0)], 1),
        ([(260.0, 160.0, 40.0, 40.0), BASE, (0.0, 0.0, 40.0, 40.0)], 2),  # two corners of one blank
        ([BASE, (400.0, 0.0, 300.0, 200.0), (660.0, 0.0, 40.0, 40.0)], 1),  # in the second of two
    ],
)
def test_blanks_in_corners_are_those_that_lie_within_a_larger_one(placed, expected):
    assert count_in_corners(placed) == expected


def test_the_order_of_the_blanks_does_not_count():
    placed = [BASE, (0.0, 0.0, 40.0, 40.0), (301.0, 0.0, 300.0, 200.0)]

    assert count_in_corners(placed) == count_in_corners(placed[::-1]) == 1


def test_a_sheet_tells_whether_it_is_an_offcut():
    assert replace(sheet(), source="offcut 12").is_offcut
    assert not sheet().is_offcut
