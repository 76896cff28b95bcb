"""Lengths as typed and as shown, against pint's own conversions and ruler arithmetic."""

from decimal import Decimal
from fractions import Fraction

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from objects.core.lengths import (
    LARGEST_MM,
    MM_PER_UNIT,
    LengthError,
    format_length,
    format_size,
    in_unit,
    parse_length,
)

REFERENCE = pint.UnitRegistry(cache_folder=None)  # pint with floats, as it comes
TENTHS = st.integers(1, 10_000).map(lambda tenths: Decimal(tenths) / 10)


# 1 in = 25.4 mm exactly and 1 ft = 12 in (international yard and pound agreement, 1959); by arithmetic
# 10 3/4 in = 10.75 x 25.4 = 273.05 mm, 16 1/2 in = 419.1 mm, 63 1/2 in = 1612.9 mm, 1/16 in = 1.5875 mm.
@pytest.mark.parametrize(
    "text, mm",
    [
        ("10 3/4 in", "273.05"),
        ("10-3/4 in", "273.05"),
        ("10 - 3/4 in.", "273.05"),
        ("10¾ in", "273.05"),
        ("10 ¾ in", "273.05"),
        ("10¾″", "273.05"),
        ("10³⁄₄”", "273.05"),  # raised and lowered figures about a fraction slash
        ("10 3⁄4 Inches", "273.05"),
        ("10.75 IN", "273.05"),
        ("10,75 inch", "273.05"),
        ("10.75''", "273.05"),
        ("1⁄16 in", "1.5875"),
        ("⅛ in", "3.175"),
        ('3/4"', "19.05"),
        ("1' 4 1/2\"", "419.1"),
        ("1′ 4½″", "419.1"),
        ("1 ft. 4 1/2 in.", "419.1"),
        ("5'-3 1/2\"", "1612.9"),
        ("5’ 3½", "1612.9"),  # behind feet, inches need no mark
        ("2 feet", "609.6"),
        ("27.3 cm", "273"),
        ("24,1 cm", "241"),
        ("24,125 cm", "241.25"),  # as thousands it would be 241 m, so the comma is a decimal one
        (".5 m", "500"),
        ("1,2 metres", "1200"),
        ("1,250.5 mm", "1250.5"),
        ("1.250,5 mm", "1250.5"),
        ("273.05mm", "273.05"),
        ("３００ mm", "300"),  # full-width figures
        ("1/3 in", "8.4667"),  # 25.4 / 3 = 8.46667 to 0.0001
    ],
)
def test_a_length_is_read_however_it_is_written(text, mm):
    assert parse_length(text) == Decimal(mm)


@pytest.mark.parametrize(
    "unit, mm", [("in", "254"), ("ft", "3048"), ("cm", "100"), ("mm", "10"), ("m", "10000")]
)
def test_a_figure_alone_is_in_the_agreed_unit(unit, mm):
    assert parse_length("10", unit) == Decimal(mm)


def test_a_written_unit_beats_the_agreed_one():
    assert parse_length("10 cm", "in") == 100


@pytest.mark.parametrize(
    "text, unit, sentence",
    [
        ("", "in", "Nothing was entered. Type a length such as 10 3/4 in or 27.3 cm."),
        (" \t\n", "in", "Nothing was entered. Type a length such as 10 3/4 in or 27.3 cm."),
        ("10", None, "“10” has no unit. Write in, cm or mm behind it."),
        ("ten in", "in", "“ten in” is not a length. Type it like 10 3/4 in, 10.75 in or 27.3 cm."),
        ("10 furlongs", "in", "“10 furlongs” is not a length. Type it like 10 3/4 in, 10.75 in or 27.3 cm."),
        ("10 x 8 in", "in", "“10 x 8 in” is not a length. Type it like 10 3/4 in, 10.75 in or 27.3 cm."),
        ("10 in 8 in", None, "“10 in 8 in” holds more than one length. Type one length only."),
        ("0", "in", "“0” is zero. Measure it, or leave it blank if it is not known."),
        ("0.00001 mm", None, "“0.00001 mm” is zero. Measure it, or leave it blank if it is not known."),
        ("-5 cm", None, "“-5 cm” is negative; a length cannot be. Type it without the minus sign."),
        ("−5 cm", None, "“−5 cm” is negative; a length cannot be. Type it without the minus sign."),
        ("40 m", None, "“40 m” is 40 m, and more than 20 m cannot be right. Check the figure and the unit."),
        ("1/0 in", None, "“1/0” divides by zero. Type the fraction like 3/4."),
        ("10 5/4 in", None, "“10 5/4” is not a usual mixed number. Type it like 10 3/4."),
        ("1,250 mm", None, "“1,250 mm” can be 1250 mm or 1.250 mm. Type it without the comma."),
        ("9" * 40 + " mm", None, "“9999999999999999999…” has too many digits. Check the figure."),
    ],
)  # fmt: skip
def test_what_is_no_usable_length_is_refused_with_what_to_do(text, unit, sentence):
    with pytest.raises(LengthError) as refused:
        parse_length(text, unit)

    assert str(refused.value) == sentence


def test_zero_is_accepted_where_it_makes_sense():
    assert parse_length("0", "in", may_be_zero=True) == 0


@given(figure=TENTHS, unit=st.sampled_from(sorted(MM_PER_UNIT)))
def test_conversions_agree_with_pint(figure, unit):
    expected = REFERENCE.Quantity(float(figure), unit.replace("in", "inch")).to("mm").magnitude

    if expected <= LARGEST_MM:
        assert float(parse_length(f"{figure} {unit}")) == pytest.approx(expected, abs=0.0001)


@given(whole=st.integers(0, 700), sixteenths=st.integers(1, 15))
def test_every_ruler_mark_is_read_as_its_fraction(whole, sixteenths):
    mm = (whole + Fraction(sixteenths, 16)) * Fraction("25.4")

    assert parse_length(f"{whole} {sixteenths}/16 in") == Decimal(mm.numerator) / mm.denominator


@given(st.text())
def test_any_text_is_a_length_or_refused_with_a_sentence(text):
    try:
        mm = parse_length(text, "in")
    except LengthError as refused:
        assert str(refused).endswith(".")
    else:
        assert 0 < mm <= LARGEST_MM


@pytest.mark.parametrize(
    "mm, unit, text",
    [
        (273.05, "in", "10 3/4 in"),
        (Decimal("273.05"), "in", "10 3/4 in"),
        (0, "in", "0 in"),
        (19.05, "in", "3/4 in"),
        (25.4, "in", "1 in"),
        (1.5875, "in", "1/16 in"),
        (203.2 + 12 * 1.5875, "in", "8 3/4 in"),  # 12/16 reduced
        (25.4 - 0.1, "in", "1 in"),  # nearest sixteenth is the whole inch
        (0.79375, "in", "1/16 in"),  # half of 1/16 rounds up
        (-273.05, "in", "-10 3/4 in"),
        (-0.1, "in", "0 in"),
        (273, "mm", "273 mm"),
        (273.05, "mm", "273.1 mm"),  # half of 0.1 rounds up
        (Decimal("273.04"), "mm", "273 mm"),
        (0.04, "mm", "0 mm"),
        (-0.04, "mm", "0 mm"),
        (273.05, "cm", "27.3 cm"),
        (1000, "cm", "100 cm"),
    ],
)
def test_a_length_is_written_as_a_ruler_shows_it(mm, unit, text):
    assert format_length(mm, unit) == text


# 272 mm = 10.709 in: nearest eighth 10 3/4, nearest 1/32 10 23/32 (10.71875)
@pytest.mark.parametrize(
    "unit, step, text",
    [("in", 1 / 8, "10 3/4 in"), ("in", 1 / 32, "10 23/32 in"), ("in", 1, "11 in"), ("mm", 5, "270 mm")],
)
def test_a_length_is_rounded_to_the_step_asked_for(unit, step, text):
    assert format_length(272, unit, step) == text


def test_a_length_in_an_unknown_unit_is_refused():
    with pytest.raises(ValueError, match="not in “ell”"):
        format_length(1, "ell")


def test_a_size_carries_its_unit_once():
    # 11, 10 3/4 and 9 1/8 in at 25.4 mm to the inch
    assert format_size([279.4, 273.05, 231.775], "in") == "11 × 10 3/4 × 9 1/8 in"


@given(mm=st.floats(0.1, 19_990), unit=st.sampled_from(["in", "mm", "cm"]))
def test_a_written_length_is_read_back_within_half_a_step(mm, unit):
    half_step = {"in": 25.4 / 32, "mm": 0.05, "cm": 0.5}[unit]

    read = parse_length(format_length(mm, unit), may_be_zero=True)

    assert abs(float(read) - mm) <= half_step + 0.0001


@pytest.mark.parametrize(
    ("unit", "expected"),
    [
        ("mm", "The flap is 63.5 mm wide; B32 1524 × 1016 mm."),
        ("in", "The flap is 2 1/2 in wide; B32 60 × 40 in."),
        ("cm", "The flap is 6.4 cm wide; B32 152.4 × 101.6 cm."),
    ],
)
def test_a_sentence_speaks_in_the_readers_unit(unit, expected):
    # 2.5 x 25.4 = 63.5, 60 x 25.4 = 1524, 40 x 25.4 = 1016 mm
    assert in_unit("The flap is 63.5 mm wide; B32 1524 × 1016 mm.", unit) == expected


def test_a_thickness_below_the_finest_fraction_is_not_written_as_nothing():
    # 0.254 mm / 25.4 = 0.010 in: folder stock of 10 pt, a point being a thousandth of an inch
    assert format_length(0.254, "in") == "0.010 in"
    assert format_length(0, "in") == "0 in"
