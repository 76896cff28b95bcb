"""Ways of doing a campaign side by side: changes against the first one and the best of each line, by hand."""

from datetime import date
from decimal import Decimal

import pytest

from housing.core.scenario_figures import Cell, Figures, compare

AS_IT_IS = Figures(
    money=Decimal("1000.00"), asked_for=Decimal("1200.00"), hours=80.0, sheets={"B32": 12, "E16": 3},
    waste_share=0.2, litres=4000.0, finish=date(2026, 12, 20), objects=50, made=48,
)  # fmt: skip
CHEAPER = Figures(
    money=Decimal("750.00"), asked_for=Decimal("900.00"), hours=60.0, sheets={"B32": 10},
    waste_share=0.25, litres=5000.0, finish=date(2026, 12, 6), objects=50, made=30, bought=18,
)  # fmt: skip


def line(label: str, *columns: Figures | None) -> tuple[Cell, ...]:
    return next(row.cells for row in compare(columns, "USD") if row.label == label)


@pytest.mark.parametrize(
    ("label", "first", "second"),
    [
        # 750 - 1000 = -250, a quarter of 1000
        ("To be paid", Cell("1,000.00 USD"), Cell("750.00 USD", "−250.00 USD (−25%)", "Lowest")),
        # 1000 / 50 = 20; 750 / 50 = 15
        ("For each object", Cell("20.00 USD"), Cell("15.00 USD", "−5.00 USD (−25%)", "Lowest")),
        ("Hours of work", Cell("80"), Cell("60", "−20 (−25%)", "Fewest")),
        # 20 December less 6 December: 14 days
        ("Done by", Cell("20 Dec 2026"), Cell("06 Dec 2026", "2 weeks earlier", "Earliest")),
        (
            "Room on the shelf",
            Cell("4,000 litres", "", "Least"),
            Cell("5,000 litres", "+1,000 litres (+25%)"),
        ),
        ("Objects housed", Cell("50"), Cell("50", "the same")),
        ("Boxes made", Cell("48"), Cell("30", "−18")),
        ("Boxes bought", Cell("0"), Cell("18", "+18")),
        ("Board wasted", Cell("20.0%", "", "Least"), Cell("25.0%", "+5.0 points")),
        ("Sheets", Cell("15"), Cell("10", "−5", "Fewest")),
        ("Sheets of E16", Cell("3"), Cell("0", "−3")),
    ],
)
def test_figures_stand_beside_those_of_the_campaign(label, first, second):
    assert line(label, AS_IT_IS, CHEAPER) == (first, second)


def test_a_sum_that_is_not_the_whole_is_never_called_the_lowest():
    incomplete = Figures(money=Decimal("10.00"), is_complete=False)

    assert [cell.best for cell in line("To be paid", AS_IT_IS, CHEAPER, incomplete)] == ["", "Lowest", ""]


@pytest.mark.parametrize(
    ("money", "told"),
    [
        ("1005.00", "+5.00 USD (+0.5%)"),  # 5 / 1000
        ("1010.00", "+10.00 USD (+1%)"),
        ("1000.00", "the same"),
    ],
)
def test_small_changes_are_told_to_a_tenth_of_a_per_cent(money, told):
    assert line("To be paid", AS_IT_IS, Figures(money=Decimal(money)))[1].change == told


def test_hours_that_differ_by_less_than_half_an_hour_are_nearly_the_same():
    # 79.4 reads 79 and 79.6 reads 80, yet 0.2 h reads 0
    assert line("Hours of work", Figures(hours=79.4), Figures(hours=79.6))[1].change == "nearly the same"


def test_where_no_sum_is_the_whole_the_words_say_so():
    dear, cheap = (Figures(money=Decimal(money), is_complete=False) for money in ("20.00", "10.00"))

    assert [cell.best for cell in line("To be paid", dear, cheap)] == ["", "Lowest as far as known"]


def test_equals_share_the_mark_and_all_alike_have_none():
    assert [cell.best for cell in line("To be paid", AS_IT_IS, CHEAPER, CHEAPER)] == ["", "Lowest", "Lowest"]
    assert [cell.best for cell in line("To be paid", CHEAPER, CHEAPER)] == ["", ""]


def test_what_is_not_worked_out_yet_shows_a_dash():
    assert line("To be paid", AS_IT_IS, None) == (Cell("1,000.00 USD"), Cell("—"))
    assert line("To be paid", None, CHEAPER) == (Cell("—"), Cell("750.00 USD"))


def test_figures_are_kept_as_json_and_back():
    assert Figures.from_json(AS_IT_IS.to_json()) == AS_IT_IS
    assert Figures.from_json(Figures().to_json()) == Figures()
