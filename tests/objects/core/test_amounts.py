"""Areas and weights as shown."""

import pytest

from objects.core.amounts import format_area, format_mass

# A blank of 32 3/4 x 31 1/8 in is 1019.34375 in2: at 144 in2 to the sq ft 7.0788 sq ft, and at 645.16 mm2
# to the in2 0.657640 m2.
BLANK_MM2 = 1019.34375 * 25.4**2


@pytest.mark.parametrize("unit, text", [("in", "7.08 sq ft"), ("mm", "0.658 m²"), ("cm", "0.658 m²")])
def test_an_area_is_written_in_the_readers_system(unit, text):
    assert format_area(BLANK_MM2, unit) == text


# 1 lb = 453.59237 g and 16 oz to it, so 1 oz = 28.34952 g (international yard and pound agreement, 1959)
@pytest.mark.parametrize(
    "grams, unit, text",
    [
        (1020.58, "in", "2 lb 4 oz"),  # 36 oz
        (907.18474, "in", "2 lb"),
        (453.5, "in", "1 lb"),  # 15.997 oz is written 16 oz, that is 1 lb
        (100, "in", "3.5 oz"),  # 3.527 oz
        (0, "in", "0 oz"),
        (850, "mm", "850 g"),
        (999.6, "cm", "1 kg"),
        (1250, "mm", "1.25 kg"),
        (3500, "mm", "3.5 kg"),
    ],
)
def test_a_weight_is_written_in_the_readers_system(grams, unit, text):
    assert format_mass(grams, unit) == text
