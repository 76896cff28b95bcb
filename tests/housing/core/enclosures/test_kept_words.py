"""What forms note of a box is found among the messages and told in the reader's language, figures and all."""

import re

import pytest

from housing.core.enclosures.kept_words import KEPT_WORDS
from objects.core.retelling import retold
from objects.core.words import speaking
from tests.housing.core.drawing.forms import FORMS, one_of


@pytest.mark.parametrize("language", ["es", "fr"])
@pytest.mark.parametrize("message", KEPT_WORDS)
def test_every_kept_message_is_told_anew_with_its_figures(message: str, language: str):
    figures = iter(("101.5", "202.5", "303.5", "404.5", "505.5"))
    note = re.sub(r"\{\w+\}", lambda place: next(figures), message)

    with speaking(language):
        told = retold(note)

    assert told != note
    assert sorted(re.findall(r"\d+\.\d", told)) == sorted(re.findall(r"\d+\.\d", note))


@pytest.mark.parametrize("form", FORMS)
def test_what_a_form_notes_is_one_of_these_messages(form: str):
    made = one_of(form)
    told = [*made.notes, *(supply.what for supply in made.supplies)]

    with speaking("es"):
        assert [note for note in told if retold(note) == note] == []
