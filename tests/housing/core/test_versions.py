"""The version of a cut sheet: alike for alike sheets, another for any change, short and easy to read."""

import hashlib
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housing.core.label_codes import SIGNS
from housing.core.versions import read_version, version_of
from tests.examples import few

TOLD = {"blanks": [["base", 831.85, 790.6]], "board": ["B32", 3.175], "shelf": "Store 2"}


def test_version_is_the_first_twenty_bits_of_a_published_digest():
    # NIST FIPS 180-4 names the digest; here its bits are taken by hand from the hexadecimal text.
    digits = hashlib.sha256(b'{"a":1}').hexdigest()[:5]
    bits = f"{int(digits, 16):020b}"

    assert version_of({"a": 1}) == "".join(SIGNS[int(bits[at : at + 5], 2)] for at in (0, 5, 10, 15))


@pytest.mark.parametrize(
    "change",
    [
        {"blanks": [["base", 831.9, 790.6]]},
        {"blanks": [["lid", 831.85, 790.6]]},
        {"board": ["B16", 3.175]},
        {"shelf": "Store 3"},
        {"supplies": []},
    ],
)
def test_another_content_has_another_version(change):
    assert version_of(TOLD | change) != version_of(TOLD)


def test_order_of_names_and_kind_of_number_do_not_count():
    other = {
        "shelf": "Store 2",
        "board": ("B32", Decimal("3.1750")),
        "blanks": [["base", Decimal("831.85"), 790.6]],
    }

    assert version_of(other) == version_of(TOLD)


def test_what_no_rule_shows_does_not_count():
    # A thousandth of a millimetre is far below the finest step of a rule.
    assert version_of({"x": 100.0000001}) == version_of({"x": 100}) != version_of({"x": 100.01})


@few(100)
@given(st.dictionaries(st.text(), st.one_of(st.integers(), st.text(), st.none(), st.booleans()), max_size=4))
def test_every_version_can_be_read_back(told):
    version = version_of(told)

    assert read_version(f" {version[:2].lower()} {version[2:].lower()} ") == version


@pytest.mark.parametrize("typed", ["", "QN1", "QN1SX", "QN1!", "QN1U"])
def test_what_is_no_version_is_not_read_as_one(typed):
    assert read_version(typed) is None


def test_signs_taken_for_one_another_are_read_alike():
    assert read_version("Q0I1") == read_version("QOL1") == "Q011"
