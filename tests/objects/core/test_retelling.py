"""Notes that records keep in English, told in the reader's language."""

import pytest

from objects.core import retelling, words
from objects.core.retelling import retold

HELD = {
    "height": "alto",
    "width": "ancho",
    "Size": "Tamaño",
    "March": "marzo",
    "on {day}": "el {day}",
    "{day} {month} {year}": "{day} de {month} de {year}",
    "{words} and {last}": "{words} y {last}",
    "by {who} on {day}": "por {who} el {day}",
    "Tape or ruler": "Cinta o regla",
    "{sides} measured with {tool} {said_by}.": "{sides}: medido con {tool} {said_by}.",
    "{sides} not measured yet.": "{sides}: aún sin medir.",
    "The list had {size}, which differs.": "La lista decía {size}, que difiere.",
    "These are the same sides in another order.": "Son los mismos lados en otro orden.",
    "{count} cell is a date.": "{count} celda es una fecha.",
    "{count} cells are dates.": "{count} celdas son fechas.",
    "Lead": "Plomo",
    "sheets": "planchas",
    "Enter the days now": "Introduzca ya los días",
    "Only {who} has {skills}": "Solo {who} tiene {skills}",
    "the skill {text}": "la competencia {text}",
    "week {week} is the first with room": "la semana {week} es la primera con sitio",
    "; and ": "; y ",
}


@pytest.fixture(autouse=True)
def spanish(monkeypatch):
    """A small catalogue instead of the whole one, and Spanish spoken."""
    monkeypatch.setattr(words, "messages", lambda language: HELD)
    for function in (retelling._messages, retelling._retold):
        function.cache_clear()
    with words.speaking("es"):
        yield
    for function in (retelling._messages, retelling._retold):
        function.cache_clear()


@pytest.mark.parametrize(
    ("note", "told"),
    [
        ("These are the same sides in another order.", "Son los mismos lados en otro orden."),
        ("The list had 24.1 mm, which differs.", "La lista decía 24.1 mm, que difiere."),
        ("The list had height 24.1 mm, which differs.", "La lista decía alto 24.1 mm, que difiere."),
        ("Height and width not measured yet.", "Alto y ancho: aún sin medir."),
        (
            "Size measured with tape or ruler by Ann Lee on 5 March 2026.",
            "Tamaño: medido con cinta o regla por Ann Lee el 5 de marzo de 2026.",
        ),
        (
            "Size measured with tape or ruler on 5 March 2026.",
            "Tamaño: medido con cinta o regla el 5 de marzo de 2026.",
        ),
        ("The list had 3 sheets, which differs.", "La lista decía 3 planchas, que difiere."),
        ("3 cells are dates.", "3 celdas son fechas."),
    ],
)
def test_a_note_is_told_with_its_values(note: str, told: str):
    assert retold(note) == told


def test_several_sentences_are_told_one_after_another():
    note = "The list had 24.1 mm, which differs. These are the same sides in another order."

    assert retold(note) == "La lista decía 24.1 mm, que difiere. Son los mismos lados en otro orden."


def test_parts_of_a_sentence_are_told_one_by_one():
    note = "Only Ann has the skill “Lead”; week 2 is the first with room."

    assert retold(note) == "Solo Ann tiene la competencia “Lead”; la semana 2 es la primera con sitio."


def test_parts_that_are_joined_by_a_word_are_told_with_the_word():
    note = "Only Ann has height; and week 2 is the first with room"

    assert retold(note) == "Solo Ann tiene alto; y la semana 2 es la primera con sitio"


def test_a_full_stop_after_a_message_that_has_none_stays():
    note = "Enter the days now. Kept with its letter."

    assert retold(note) == "Introduzca ya los días. Kept with its letter."


def test_a_sentence_with_a_part_of_somebodys_own_stays_whole():
    note = "Kept with its letter; week 2 is the first with room."

    assert retold(note) == note


@pytest.mark.parametrize("note", ["", "Kept with its letter.", "Lead", "red and blue", "x" * 3000])
def test_a_persons_own_words_stay_as_they_are(note: str):
    assert retold(note) == note


def test_a_name_stays_even_where_it_is_a_word_of_ours():
    told = retold("Size measured with tape or ruler by Lead on 5 March 2026.")

    assert "por Lead el" in told


def test_in_english_a_note_stays_as_it_is():
    with words.speaking("en"):
        assert retold("Height and width not measured yet.") == "Height and width not measured yet."
