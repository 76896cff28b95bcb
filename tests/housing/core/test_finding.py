"""What somebody may mean who types into the search field."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housing.core.finding import Asked, number_keys, read_search
from objects.core.numbers import natural_key
from tests.examples import few

digits = st.integers(0, 99_999).map(str)
numbers = st.lists(digits, min_size=1, max_size=4).map(".".join)


@pytest.mark.parametrize("typed", ["Box 0012", "box12", "BOX 12", "caja 12", "Boîte 0012", "box #12"])
def test_a_box_number_is_read_however_it_is_written(typed):
    asked = read_search(typed)

    assert (asked.box, asked.sheet, asked.offcut, asked.is_named) == (12, None, None, True)


def test_a_number_alone_may_be_of_a_box_a_sheet_or_an_offcut():
    asked = read_search(" 12 ")

    assert (asked.box, asked.sheet, asked.offcut, asked.is_named) == (12, 12, 12, False)


@pytest.mark.parametrize("typed", ["bowl 12", "1995.4", "12a", "9" * 10, ""])
def test_what_is_no_number_of_ours_is_read_as_words(typed):
    asked = read_search(typed)

    assert asked == Asked(typed, tuple(typed.split()), None, asked.code_beginning)


def test_a_number_with_many_zeros_in_front_is_read_all_the_same():
    assert read_search("Box 000000000000012").box == 12


def test_each_word_is_looked_for_once():
    assert read_search("blue  blue bowl").words == ("blue", "bowl")


def test_what_is_longer_than_any_name_is_cut():
    assert len(read_search("a" * 5_000).text) == 100


@few(200)
@given(numbers, st.data())
def test_every_number_is_found_by_what_it_begins_with(number, data):
    """Unless the text breaks off before zeros that stand in front, which do not count in a number."""
    shown = data.draw(st.integers(1, len(number)))
    text = number[:shown].rstrip(".") or number
    key = natural_key(number)

    last = text.rsplit(".", 1)[-1]
    if len(number.split(".")[text.count(".")]) - len(last) > 3:
        return
    assert any(key.startswith(beginning) for beginning in number_keys(text))


def test_a_number_that_goes_on_after_the_digits_begins_with_less():
    # By hand: natural_key writes each run with its length in front, so 1995.4 begins 041995.014… itself and,
    # with one to three digits more, 041995.024…, 041995.034… and 041995.044….
    assert number_keys("1995.4") == ("041995.014", "041995.024", "041995.034", "041995.044")
    assert number_keys("B-") == ("b-",)
