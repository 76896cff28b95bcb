"""Lengths and weights as each language writes them: what a form shows is read again as the same value."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from objects.core.amounts import format_mass
from objects.core.areas import format_area, parse_area
from objects.core.lengths import (
    POINT,
    clear_figure,
    format_exact,
    format_length,
    format_size,
    in_unit,
    parse_length,
)
from objects.core.weights import parse_weight
from objects.core.words import LANGUAGES, speaking
from tests.examples import few

languages = st.sampled_from(sorted(LANGUAGES))
lengths_mm = st.decimals(min_value="0.0001", max_value=20_000, places=4)


# Decimal comma in Spanish and French: common practice, no source; ISO 80000-1 allows comma and point.
@pytest.mark.parametrize(
    ("language", "length", "size", "weight", "area"),
    [
        ("en", "273.1 mm", "279.4 × 273.1 mm", "1.25 kg", "250.5 cm²"),
        ("es", "273,1 mm", "279,4 × 273,1 mm", "1,25 kg", "250,5 cm²"),
        ("fr", "273,1 mm", "279,4 × 273,1 mm", "1,25 kg", "250,5 cm²"),
    ],
)
def test_figures_have_the_decimal_sign_of_the_language(language, length, size, weight, area):
    with speaking(language):
        assert format_length(273.05, "mm") == length
        assert format_size((279.4, 273.05), "mm") == size
        assert format_mass(1250, "mm") == weight
        assert format_area(25_050, "mm") == area


def test_fractions_of_an_inch_are_the_same_in_every_language():
    for language in LANGUAGES:
        with speaking(language):
            assert format_length(273.05, "in") == "10 3/4 in"


def test_what_machines_read_has_a_point_in_every_language():
    with speaking("fr"):
        assert format_length(273.05, "mm", sign=POINT) == "273.1 mm"
        assert format_size((279.4, 273.05), "cm", POINT) == "27.9 × 27.3 cm"


@given(lengths_mm, languages)
@few(60)
def test_a_length_written_out_is_read_again_as_the_same(mm: Decimal, language: str):
    with speaking(language):
        assert parse_length(format_exact(mm)) == mm


@given(st.decimals(min_value=1, max_value=20_000, places=1), languages, st.sampled_from(["mm", "cm", "in"]))
@few(60)
def test_a_length_is_read_alike_whatever_language_wrote_it(mm: Decimal, language: str, unit: str):
    written_in_english = format_length(mm, unit)

    with speaking(language):
        assert parse_length(format_length(mm, unit)) == parse_length(written_in_english)


@given(st.decimals(min_value="0.1", max_value=5_000_000, places=1), languages, st.sampled_from(["g", "kg"]))
@few(60)
def test_a_weight_in_a_form_is_read_again_as_the_same(grams: Decimal, language: str, unit: str):
    figure = round(grams / {"g": 1, "kg": 1000}[unit], 4)

    with speaking(language):
        assert parse_weight(f"{clear_figure(figure)} {unit}") == grams


@given(st.decimals(min_value=0, max_value=10_000_000, places=2), languages)
@few(60)
def test_an_area_in_a_form_is_read_again_as_the_same(mm2: Decimal, language: str):
    with speaking(language):
        assert parse_area(f"{clear_figure(mm2 / 100)} cm²", "mm") == mm2


def test_three_decimals_behind_a_comma_are_not_taken_for_thousands():
    # 3,175 could be three thousand one hundred and seventy-five; with a fourth figure it cannot.
    with speaking("es"):
        assert format_exact(Decimal("3.175")) == "3,1750 mm"
        assert parse_length("3,1750 mm") == Decimal("3.175")


@pytest.mark.parametrize(
    ("language", "unit", "sentence", "told"),
    [
        ("en", "in", "The flap is 63.5 mm wide", "The flap is 2 1/2 in wide"),
        ("es", "in", "La solapa mide 63,5 mm", "La solapa mide 2 1/2 in"),
        ("es", "cm", "La solapa mide 63.5 mm", "La solapa mide 6,4 cm"),
        ("fr", "mm", "La patte fait 63.5 mm", "La patte fait 63,5 mm"),
        ("fr", "in", "Le flan fait 254 × 63,5 mm", "Le flan fait 10 × 2 1/2 in"),
        ("en", "mm", "The flap is 63.5 mm wide", "The flap is 63.5 mm wide"),
    ],
)
def test_millimetres_in_a_sentence_are_told_in_the_readers_unit(language, unit, sentence, told):
    with speaking(language):
        assert in_unit(sentence, unit) == told
