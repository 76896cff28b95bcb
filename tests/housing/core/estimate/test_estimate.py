"""The estimate of a plan: lines, totals, and sums that agree to the cent."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housing.core.estimate import EstimateRefused, HousingWork, Rates, SheetUse, estimate, rollup

RATES = Rates(labour_per_hour=Decimal("24.00"), glue_per_kg=Decimal("18.00"), currency="USD")


def make_work(key="A", design="standard", board="B32", minutes=28.77, glue_g=15.0, **padding) -> HousingWork:
    return HousingWork(key, design, board, {"cut": minutes - 10, "glue": 4, "fit": 6}, glue_g, **padding)


def test_one_housing_line_by_line():
    # By hand: board 17.60 alone on its sheet; glue 15 g x 18 / kg = 0.27; lining 0.21 m2 x 12.50 = 2.625;
    # 28.77 min x 24 / h = 11.508.
    work = make_work(padding_m2=0.21, padding_price_m2=Decimal("12.50"))
    sheet = SheetUse("S1", Decimal("17.60"), (("A", 650_000),))

    [line] = estimate([work], [sheet], RATES).lines

    assert (line.board, line.glue, line.padding, line.labour) == (
        Decimal("17.60"), Decimal("0.27"), Decimal("2.63"), Decimal("11.51"),
    )  # fmt: skip
    assert line.total == Decimal("32.01")
    assert (line.board_m2, line.labour_minutes) == pytest.approx((0.65, 28.77))


def test_lines_keep_the_order_of_the_housings():
    made = estimate([make_work("B"), make_work("A"), make_work("C")], [], RATES)

    assert [line.key for line in made.lines] == ["B", "A", "C"]


def test_housing_without_a_sheet_yet_costs_no_board():
    [line] = estimate([make_work()], [], RATES).lines

    assert (line.board, line.board_m2) == (Decimal(0), 0.0)


def test_estimate_of_nothing_is_nothing():
    assert estimate([], [], RATES).totals().total == Decimal(0)


def test_rollup_by_design_and_by_board():
    # By hand: two housings of 24.00 and one of 12.00 (60 and 30 min at 24 an hour), no glue.
    works = [
        make_work("A", "small", "E16", minutes=60, glue_g=0),
        make_work("B", "large", "B32", minutes=60, glue_g=0),
        make_work("C", "small", "B32", minutes=30, glue_g=0),
    ]
    lines = estimate(works, [], RATES).lines

    by_design = rollup(lines, lambda line: line.design_key)
    by_board = rollup(lines, lambda line: line.board_key)

    assert {key: (sums.housings, sums.total) for key, sums in by_design.items()} == {
        "small": (2, Decimal("36.00")),
        "large": (1, Decimal("24.00")),
    }
    assert {key: (sums.housings, sums.total) for key, sums in by_board.items()} == {
        "E16": (1, Decimal("24.00")),
        "B32": (2, Decimal("36.00")),
    }


def test_housing_listed_twice_is_refused():
    with pytest.raises(EstimateRefused, match="Housing A is listed twice, so it would be paid for twice."):
        estimate([make_work("A"), make_work("A")], [], RATES)


def test_blank_of_an_unlisted_housing_is_refused():
    with pytest.raises(EstimateRefused, match="a blank of housing Z, which is not listed"):
        estimate([make_work("A")], [SheetUse("S1", Decimal(9), (("Z", 1.0),))], RATES)


works = st.lists(
    st.tuples(
        st.sampled_from(["small", "large", "deep"]), st.sampled_from(["E16", "B32"]),
        st.floats(10, 500), st.floats(0, 400), st.floats(0, 9), st.decimals(0, 99, places=2),
    ),
    min_size=1, max_size=20,
)  # fmt: skip


def as_work(rows, mark="") -> list[HousingWork]:
    return [
        make_work(f"{mark}{i}", design, board, minutes, glue, padding_m2=area, padding_price_m2=price)
        for i, (design, board, minutes, glue, area, price) in enumerate(rows)
    ]


@given(works, st.decimals(0, 99, places=2), st.data())
def test_rollups_and_sheets_agree_with_the_total_to_the_cent(rows, price, data):
    keys = [str(i) for i in range(len(rows))]
    cut = data.draw(st.lists(st.tuples(st.sampled_from(keys), st.floats(1, 1e6)), min_size=1, max_size=9))
    sheets = [SheetUse("S1", price, tuple(cut)), SheetUse("S2", price + 1, tuple(cut[:1]))]

    made = estimate(as_work(rows), sheets, RATES)

    totals = made.totals()
    assert totals.board == 2 * price + 1
    assert totals.total == totals.board + totals.glue + totals.padding + totals.labour
    assert totals.total == sum(line.total for line in made.lines)
    for key in (lambda line: line.design_key, lambda line: line.board_key, lambda line: line.key):
        assert sum(sums.total for sums in rollup(made.lines, key).values()) == totals.total


@given(works)
def test_doubling_the_objects_doubles_the_glue_the_work_and_their_cost(rows):
    once = estimate(as_work(rows), [], RATES).totals()
    twice = estimate(as_work(rows) + as_work(rows, "again "), [], RATES).totals()

    assert twice.glue_g == pytest.approx(2 * once.glue_g)
    assert twice.labour_minutes == pytest.approx(2 * once.labour_minutes)
    assert (twice.glue, twice.labour, twice.padding) == (2 * once.glue, 2 * once.labour, 2 * once.padding)
