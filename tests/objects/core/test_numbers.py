"""Object numbers sort as a person sorts them."""

from hypothesis import given
from hypothesis import strategies as st

from objects.core.numbers import LONGEST_KEY, clean_number, natural_key

PARTS = st.lists(st.integers(0, 10**12), min_size=1, max_size=4)


def test_compound_numbers_sort_by_year_transaction_item_and_part():
    # Forms of number after Buck and Gilmore, The New Museum Registration Methods, 1998, as numbering guides
    # quote it; that 1995.4.10 comes after 1995.4.9 is our own derivation.
    in_order = [
        "76.21", "995.1", "1995.4", "1995.4.3", "1995.4.3.1", "1995.4.9", "1995.4.10", "1995.5.2",
        "1995.5.2a", "1995.5.2b", "1995.9", "1995.10", "E2561.1", "E2561.1.1", "E10000.1",
    ]  # fmt: skip

    assert sorted(in_order[7:] + in_order[:7], key=natural_key) == in_order


@given(PARTS, PARTS)
def test_numbers_sort_as_their_figures_however_long(first, second):
    keys = [natural_key(".".join(map(str, parts))) for parts in (first, second)]

    assert (keys[0] < keys[1]) == (first < second)


def test_capitals_spaces_and_leading_zeros_make_no_difference():
    assert natural_key(" E 0012.007 ") == natural_key("e 12.7")


@given(st.text())
def test_a_key_is_never_longer_than_its_column(text):
    assert len(natural_key(text)) <= LONGEST_KEY


def test_stray_spaces_are_cleaned_away():
    assert clean_number("  1995.4 \t a\n") == "1995.4 a"
