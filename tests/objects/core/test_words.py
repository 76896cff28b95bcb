"""The language that everything below the pages speaks."""

from contextvars import copy_context

import pytest

from objects.core import words


def test_english_is_spoken_where_nothing_was_chosen():
    assert copy_context().run(words.spoken) == "en"


def test_a_message_without_a_translation_is_said_in_english():
    with words.speaking("es"):
        assert words.say("{n} of nothing that a catalogue has", n=3) == "3 of nothing that a catalogue has"


def test_a_language_that_is_not_ours_becomes_english():
    with words.speaking("xx"):
        assert words.spoken() == "en"


def test_braces_stay_where_there_are_no_values():
    assert words.say("a {brace} meant") == "a {brace} meant"


@pytest.mark.parametrize(("count", "said"), [(0, "0 sheets"), (1, "1 sheet"), (2, "2 sheets")])
def test_one_is_told_from_many(count: int, said: str):
    assert words.say_count("{count} sheet", "{count} sheets", count) == said


# Decimal comma in Spanish and French: common practice, no source; ISO 80000-1 allows comma and point.
@pytest.mark.parametrize(("language", "written"), [("en", "1.50"), ("es", "1,50"), ("fr", "1,50")])
def test_numbers_have_the_decimal_sign_of_the_language(language: str, written: str):
    with words.speaking(language):
        assert words.decimal(1.5, 2) == written


def test_the_language_before_is_spoken_again_afterwards():
    with words.speaking("fr"), words.speaking("es"):
        pass

    assert words.spoken() == "en"
