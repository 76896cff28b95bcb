"""What went wrong, counted; when a fault is said to repeat; checked against published and summed figures."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from housing.core.misfits import T95, Misfit, by_side, is_systematic, spread_of, t95, wilson
from tests.examples import few


def of_textiles(box: int, short_mm: float | None = None, **more) -> Misfit:
    return Misfit(**{"box": box, "group": "Textiles", "cause": "measurement", "side": "depth",
                     "short_mm": short_mm, **more})  # fmt: skip


TEN = [(box, "Textiles") for box in range(10)]


@pytest.mark.parametrize(
    ("found", "tried", "low", "high"),
    [
        # Newcombe, Two-sided confidence intervals for the single proportion, Statistics in Medicine 17
        # (1998), 857-872, table I, method 3; from memory. The next test goes by the definition.
        (81, 263, 0.2553, 0.3662),
        (15, 148, 0.0624, 0.1605),
        (0, 20, 0.0000, 0.1611),
        (1, 29, 0.0061, 0.1718),
    ],
)
def test_the_interval_of_a_share_is_the_published_one(found, tried, low, high):
    assert wilson(found, tried) == pytest.approx((low, high), abs=0.00005)


@given(tried=st.integers(1, 400), share=st.floats(0, 1), z=st.floats(0.5, 4))
@few(100)
def test_each_end_of_the_interval_is_just_z_errors_from_what_was_found(tried, share, z):
    """The definition: the ends are the shares p of which (found - p)² = z² p (1 - p) / n."""
    found = round(share * tried)
    for end in wilson(found, tried, z):
        assert (found / tried - end) ** 2 == pytest.approx(z * z * end * (1 - end) / tried, abs=1e-12)


@pytest.mark.parametrize(("found", "tried"), [(1, 0), (0, 0), (-1, 4), (5, 4)])
def test_what_is_no_share_is_refused(found, tried):
    with pytest.raises(ValueError, match="is no share"):
        wilson(found, tried)


@pytest.mark.parametrize(("freedom", "t"), T95)
def test_the_table_of_t_leaves_a_fortieth_above(freedom, t):
    """Reference: Student's density, (1 + x²/n) to the -(n+1)/2, summed in steps of the angle of x."""
    step = np.pi / 2 / 200_000
    angle = (np.arange(200_000) + 0.5) * step
    x = np.tan(angle)
    density = (1 + x * x / freedom) ** (-(freedom + 1) / 2) / np.cos(angle) ** 2

    above = density[x > t].sum() / density.sum() / 2

    assert above == pytest.approx(0.025, abs=0.00003)


def test_between_two_rows_of_the_table_the_careful_one_holds():
    assert [t95(n) for n in (1, 11, 25, 1000)] == [12.706, 2.228, 2.086, 1.980]


def test_mean_and_spread_are_those_of_the_amounts():
    # 7, 9, 11: mean 9; deviations -2, 0, 2, squared 8, by n - 1 = 2: variance 4; error 2 / sqrt(3)
    spread = spread_of([7, 9, 11])

    assert spread is not None and spread.error_mm is not None
    assert (spread.number, spread.mean_mm, spread.sd_mm) == (3, 9, 2)
    assert spread.error_mm == pytest.approx(1.1547, abs=0.00005)
    assert spread_of([]) is None
    assert spread_of([4]).error_mm is None


@pytest.mark.parametrize(
    ("low", "lengths_mm", "repeats"),
    [
        (0.41, [7, 9, 11], True),  # 9 > 4.303 x 1.1547 = 4.97
        (0.41, [1, 9, 17], False),  # 9 < 4.303 x 8 / sqrt(3) = 19.9
        (0.41, [-7, -9, -11], True),  # too large by like amounts
        (0.41, [-9, 9, -9, 9], False),  # wrong now one way, now the other
        (0.41, [9, 9], False),  # two say nothing of their spread
        (0.41, [9, 9, 9], True),  # no spread at all
        (0.41, [], False),
        (0.10, [7, 9, 11], False),  # as many as chance may give
    ],
)
def test_a_fault_repeats_where_many_are_wrong_by_like_amounts(low, lengths_mm, repeats):
    assert is_systematic(low, spread_of(lengths_mm)) is repeats


def test_six_of_eight_short_by_nine_millimetres_is_said():
    tried = [(box, "Textiles") for box in range(8)]
    amounts = [8, 10, 9, 9, 10, 8]

    (row,) = by_side(tried, [of_textiles(box, amount) for box, amount in enumerate(amounts)])

    assert (row.tried, row.misfits, row.share, row.is_systematic) == (8, 6, 0.75, True)
    assert (row.spread.mean_mm, row.cause) == (9, "measurement")
    # by hand with z = 1.96: middle (0.75 + 0.2401) / 1.4802 = 0.6689, reach 1.96 / 1.4802 x
    # sqrt(0.75 x 0.25 / 8 + 3.8416 / 256) = 1.3241 x 0.19607 = 0.2596
    assert (row.low, row.high) == pytest.approx((0.4093, 0.9285), abs=0.0001)


def test_a_box_tried_twice_counts_once_and_its_last_amount_holds():
    (row,) = by_side([*TEN, (0, "Textiles")], [of_textiles(0, 12), of_textiles(0, 4)])

    assert (row.tried, row.misfits, row.spread.mean_mm) == (10, 1, 4)


def test_kinds_and_sides_are_apart_and_what_names_no_side_is_not_counted_here():
    tried = [*TEN, (20, "Ceramics")]
    misfits = [of_textiles(1, 5), of_textiles(2, side="height"), of_textiles(20, group="Ceramics"),
               of_textiles(3, side="")]  # fmt: skip

    found = [(row.group, row.side, row.tried, row.misfits) for row in by_side(tried, misfits)]

    # one of one has its lower end at 1 / (1 + 1.96²) = 0.21, one of ten at 0.018
    assert found == [("Ceramics", "depth", 1, 1), ("Textiles", "depth", 10, 1), ("Textiles", "height", 10, 1)]


def test_the_most_frequent_cause_is_named():
    causes = ["cutting", "measurement", "cutting"]

    (row,) = by_side(TEN, [of_textiles(box, cause=cause) for box, cause in enumerate(causes)])

    assert row.cause == "cutting"
