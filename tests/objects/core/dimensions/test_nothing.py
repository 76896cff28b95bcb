"""Texts without a size: those that say nothing, and those that say where to look or what to do."""

import pytest

from objects.core.dimensions import CHECK, EMPTY, read_dimensions


# What catalogues write where nobody measured; common practice, no source.
@pytest.mark.parametrize(
    "text",
    [
        "-", "?", "n/a", "N.A.", "none", "Unknown.", "not measured", "Not recorded", "no dimensions given",
        "TBC", "to be measured", "dimensions unknown", "size: unknown", "unbekannt", "k. A.", "inconnues",
        "onbekend", "s/d", "sin datos", "n.d.",
    ],
)  # fmt: skip
def test_what_says_that_nothing_is_known_is_empty(text):
    reading = read_dimensions(text)

    assert (reading.status, reading.notes) == (EMPTY, ("No dimensions are given. Measure the object.",))


@pytest.mark.parametrize(
    "text, sentence",
    [
        (
            "see file",
            "“see file” says that the size is written elsewhere. Look it up, or measure the object.",
        ),
        (
            "siehe Akte",
            "“siehe Akte” says that the size is written elsewhere. Look it up, or measure the object.",
        ),
        (
            "see card 12",
            "“see card 12” says that the size is written elsewhere. Look it up, or measure the object.",
        ),
        ("ditto", "“ditto” points to another record. Copy its size, or measure the object."),
        ("as above", "“as above” points to another record. Copy its size, or measure the object."),
        ("various", "“various” is no size. Measure the pieces as they will lie together."),
        ("Size: various", "“Size: various” is no size. Measure the pieces as they will lie together."),
        ("life-size", "“life-size” is a word for a size, not a measured one. Measure the object."),
        ("Size M", "“Size M” is a word for a size, not a measured one. Measure the object."),
        ("blue, chipped", "No size was found in “blue, chipped”. Measure the object."),
    ],
)  # fmt: skip
def test_a_text_without_figures_is_told_what_to_do_about(text, sentence):
    reading = read_dimensions(text)

    assert (reading.status, reading.notes[0], reading.dimensions.sides) == (
        CHECK,
        sentence,
        (None, None, None),
    )
