"""Areas as they are typed and shown: square inches and square centimetres, mm² in between."""

from decimal import Decimal

import pytest

from objects.core.areas import AreaError, format_area, parse_area


@pytest.mark.parametrize(
    ("text", "unit", "mm2"),
    [
        ("40", "in", "25806.40"),  # 40 x 25.4 x 25.4 = 40 x 645.16
        ("40 1/2 sq in", "cm", "26128.98"),  # 40.5 x 645.16
        ("40 square inches", "cm", "25806.40"),
        ("250", "cm", "25000.00"),  # 250 x 10 x 10
        ("250", "mm", "25000.00"),  # nobody counts offcuts in mm²: cm² here too
        ("250 cm²", "in", "25000.00"),
        ("250 cm2", "in", "25000.00"),
        ("250,5 sq cm", "in", "25050.00"),
        ("0", "in", "0.00"),
        ("100000", "cm", "10000000.00"),  # the largest, 10 m²
    ],
)
def test_an_area_is_read_in_either_unit(text, unit, mm2):
    assert str(parse_area(text, unit)) == mm2


@pytest.mark.parametrize(
    ("mm2", "unit", "text"),
    [
        ("25806.40", "in", "40 sq in"),
        ("25000", "in", "38.8 sq in"),  # 25,000 / 645.16 = 38.75
        ("25000", "cm", "250 cm²"),
        ("25050", "mm", "250.5 cm²"),
        ("0", "in", "0 sq in"),
    ],
)
def test_an_area_is_written_in_the_unit_of_the_reader(mm2, unit, text):
    assert format_area(Decimal(mm2), unit) == text


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "“” is not an area. Type it like 40 sq in or 250 cm²."),
        ("large", "“large” is not an area."),
        ("6 x 8 in", "“6 x 8 in” is not an area."),
        ("40 in", "“40 in” is not an area."),  # a length
        ("-3", "“-3” is negative; an area cannot be."),
        ("3/0", "“3/0” divides by zero."),
        ("100001 cm²", "“100001 cm²” is more than 10 m². Check the figure and the unit."),
    ],
)
def test_what_is_no_area_is_refused_with_a_sentence(text, told):
    with pytest.raises(AreaError) as refused:
        parse_area(text, "in")

    assert str(refused.value)[: len(told)] == told
