"""Stacking strength against published examples, and how many boxes it lets stand on one another."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housing.core.handling.stacking import (
    MOST_BOXES,
    StackingRefused,
    StoreConditions,
    compression_by_exponents_n,
    compression_by_stiffness_n,
    compression_n,
    stack,
)

LBF = 4.4482216  # N
IN = 25.4
ECT_32 = 32 * 0.175127  # kN/m of 32 lb/in
TRAY = (300.0, 200.0, 150.0)


def test_simplified_formula_gives_the_published_example():
    # A published calculation: 32 lb/in, 0.16 in, 16 x 12 in case (perimeter 56 in): 562 lbf.
    assert compression_n(ECT_32, 0.16 * IN, 56 * IN) / LBF == pytest.approx(562.3, abs=0.1)


def test_exponent_form_lies_below_the_rounded_one():
    # By hand with the same data: 5.874 x 32 x 0.16^0.508 x 56^0.492 = 536.9 lbf, 4.5 % lower.
    assert compression_by_exponents_n(ECT_32, 0.16 * IN, 56 * IN) / LBF == pytest.approx(536.9, abs=0.1)


def test_full_formula_from_bending_stiffness():
    # By hand: 2.028 x 32^0.746 x sqrt(100 x 45)^0.254 x 48^0.492 = 526.1 lbf, stiffness in lbf in.
    nm = LBF * IN / 1000
    assert compression_by_stiffness_n(ECT_32, 100 * nm, 45 * nm, 48 * IN) / LBF == pytest.approx(
        526.1, abs=0.1
    )


def test_tray_of_300_by_200_in_3_mm_board():
    # By hand: 5.87 x 4500 N/m x sqrt(0.003 m x 1.0 m) = 1446.8 N; the edge crush is assumed.
    assert compression_n(4.5, 3, 1000) == pytest.approx(1446.8, abs=0.1)


def test_half_a_year_at_60_percent_leaves_45_percent():
    # Fibre Box Handbook, as reproduced by makers of boxes: 0.50 after 180 days, 0.90 at 60 %.
    assert StoreConditions().share_left == pytest.approx(0.45)


@pytest.mark.parametrize(
    ("days", "humidity", "left"),
    [
        (0, 50, 1.0),  # at once, dry
        (10, 50, 0.63),
        (20, 50, 0.615),  # half way between 0.63 and 0.60
        (30, 30, 0.60),  # drier than the table: as at 50 %
        (90, 80, 0.55 * 0.68),
        (180, 100, 0.5 * 0.15),
    ],
)
def test_losses_follow_the_table(days, humidity, left):
    assert StoreConditions(days=days, humidity_percent=humidity).share_left == pytest.approx(left)


def test_load_allowed_on_a_derated_box():
    # By hand: 1446.8 x 0.45 = 651.1 N = 66.4 kgf; with factor 2, 33.2 kgf on top.
    made = stack(6, TRAY, 3, 4.5, StoreConditions(safety=2))

    assert made.left_n == pytest.approx(651.1, abs=0.1)
    assert made.allowed_kg == pytest.approx(33.2, abs=0.05)
    assert made.boxes == 6  # 33.2 / 6 = 5.5 boxes on the lowest


def test_three_boxes_of_6_kg_pass_with_factor_2():
    # By hand: 12 kg on the lowest needs 12 x 9.80665 / 0.45 x 2 = 523.0 N, and the box bears 1446.8.
    needed = 12 * 9.80665 / StoreConditions().share_left * 2

    assert needed == pytest.approx(523.0, abs=0.1)
    assert stack(6, TRAY, 3, 4.5, StoreConditions(safety=2)).boxes >= 3


def test_box_too_weak_to_bear_another_is_not_stacked():
    made = stack(30, TRAY, 3, 4.5, StoreConditions())

    assert made.boxes == 1
    assert made.sentence.startswith("Do not stack it: ")


def test_low_box_is_told_to_lie_outside_the_formula():
    # By hand: a seventh of 1000 mm is 142.9.
    assert "higher boxes" not in stack(6, TRAY, 3, 4.5, StoreConditions()).sentence
    assert "higher boxes" in stack(6, (300, 200, 140), 3, 4.5, StoreConditions()).sentence


masses, crushes = st.floats(0.1, 60), st.floats(1, 15)


@given(masses, masses, crushes)
def test_heavier_boxes_never_stack_higher(one, other, crush):
    light, heavy = sorted((one, other))

    low, high = (stack(kg, TRAY, 3, crush, StoreConditions()).boxes for kg in (heavy, light))

    assert 1 <= low <= high <= MOST_BOXES


@given(st.floats(0, 100), st.floats(0, 100), st.floats(0, 180), st.floats(0, 180))
def test_wetter_or_longer_is_never_stronger(one, other, days, more):
    dry, wet = sorted((one, other))
    short, long = sorted((days, more))

    assert (
        StoreConditions(days=long, humidity_percent=wet).share_left
        <= StoreConditions(days=short, humidity_percent=dry).share_left + 1e-12
    )


@pytest.mark.parametrize(
    ("given_", "says"),
    [
        ({"days": 400}, "The time under load is 400 days; the table goes from 0 to 180."),
        ({"humidity_percent": 120}, "The humidity is 120 %; it lies between 0 and 100."),
        ({"safety": 1.5}, "The safety factor is 1.5; it must be at least 2."),
        ({"pattern": "leaning"}, "“leaning” is no stacking pattern."),
    ],
)
def test_conditions_that_cannot_be_are_refused(given_, says):
    with pytest.raises(StackingRefused) as refused:
        StoreConditions(**given_)

    assert str(refused.value).startswith(says)


def test_box_without_weight_is_refused():
    with pytest.raises(StackingRefused, match="The gross weight is 0 kg"):
        stack(0, TRAY, 3, 4.5, StoreConditions())
