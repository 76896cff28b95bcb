"""Weights as shown."""

import pytest

from objects.core.amounts import format_mass


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
