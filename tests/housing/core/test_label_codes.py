"""Codes on labels: every slip of one sign is found."""

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housing.core.label_codes import LENGTH, SIGNS, check_sign, new_code, read_code, spaced
from tests.examples import few

codes = st.integers(0, 2**32).map(lambda seed: new_code(random.Random(seed)))


def test_the_check_sign_is_that_of_the_standard():
    # The worked example of the Global Release Identifier, which uses ISO/IEC 7064 MOD 37,36:
    # A1-2425G-ABC1234002 has the check character M; from memory.
    assert check_sign("A12425GABC1234002") == "M"


@given(codes)
def test_a_code_reads_as_itself_however_it_is_written(code):
    assert read_code(code) == code
    assert read_code(f" {spaced(code).lower()} ") == code
    assert read_code(code.replace("0", "O").replace("1", "l")) == code


@few(100)
@given(codes, st.integers(0, LENGTH), st.sampled_from(SIGNS))
def test_one_wrong_sign_is_always_found(code, place, sign):
    wrong = code[:place] + sign + code[place + 1 :]

    assert read_code(wrong) == (code if wrong == code else None)


@pytest.mark.parametrize("typed", ["", "7GH2", "7GH2K9PMXX", "http://x", "ÄÖÜ456789", "UUUUUUUUU"])
def test_what_cannot_be_a_code_is_none(typed):
    assert read_code(typed) is None
