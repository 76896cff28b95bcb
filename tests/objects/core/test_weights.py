"""Weights as catalogues write them, and what is refused."""

from decimal import Decimal

import pytest

from objects.core.weights import WeightError, parse_weight


# 1 lb = 453.59237 g (international yard and pound agreement, 1959): 2 lb 4 oz = 1020.58 g
@pytest.mark.parametrize(
    "text, grams",
    [
        ("1.2 kg", "1200.0"),
        ("1,2 kg", "1200.0"),
        ("1.250 kg", "1250.0"),
        ("850 g", "850.0"),
        ("2 lb 4 oz", "1020.6"),
        ("1,250.5 g", "1250.5"),
    ],
)
def test_weights_are_read_in_grams(text, grams):
    assert parse_weight(text) == Decimal(grams)


@pytest.mark.parametrize(
    "text, sentence",
    [
        ("1,250 g", "“1,250 g” can be 1250 g or 1.250 g. Write it without the comma."),
        ("1,250 kg", "“1,250 kg” can be 1250 kg or 1.250 kg. Write it without the comma."),
        ("0 kg", "“0 kg” is zero. Weigh it, or leave it blank if it is not known."),
        ("-2 kg", "“-2 kg” is negative; a weight cannot be. Write it without the minus sign."),
        ("3", "“3” has no unit. Write g, kg, lb or oz behind it."),
        ("heavy", "“heavy” is not a weight. Write it like 1.2 kg, 850 g or 2 lb 4 oz."),
    ],
)
def test_what_is_no_weight_is_refused(text, sentence):
    with pytest.raises(WeightError) as refused:
        parse_weight(text)

    assert str(refused.value) == sentence
