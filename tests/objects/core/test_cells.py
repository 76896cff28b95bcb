"""Cells that a spreadsheet would run: made harmless, and back, whatever they hold."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from objects.core.cells import neutral_cell, plain_cell

SIGNS = ("=", "+", "-", "@", "\t", "\r")  # OWASP, CSV Injection
TEXT = st.text() | st.tuples(st.text("'", max_size=3), st.sampled_from(["", *SIGNS]), st.text()).map("".join)


@pytest.mark.parametrize("text", ["=1+1", "+49 30", "-5", "@home", "\tindented", "\rline", "'=1", "''-2"])
def test_a_text_that_would_run_gets_an_apostrophe_in_front(text):
    assert neutral_cell(text) == "'" + text


@pytest.mark.parametrize("text", ["", "Bowl", "1995.4", "'s-Hertogenbosch", "'", "10 x 8", "a=b", " =1"])
def test_any_other_text_stays_as_it_is(text):
    assert (neutral_cell(text), plain_cell(text)) == (text, text)


@given(TEXT)
def test_every_text_comes_back_as_it_was(text):
    assert plain_cell(neutral_cell(text)) == text


@given(TEXT)
def test_what_was_made_harmless_is_made_so_again_in_the_same_way(text):
    written = neutral_cell(text)

    assert neutral_cell(plain_cell(written)) == written


@given(TEXT)
def test_no_text_made_harmless_begins_like_a_formula(text):
    assert not neutral_cell(text).startswith(SIGNS)
