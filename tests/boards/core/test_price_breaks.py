"""Price breaks as people write them."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boards.core.price_breaks import BreaksRefused, break_fault, breaks_text, parse_breaks
from tests.examples import few

# How the notations are meant was settled by us; no source.


@pytest.mark.parametrize(
    ("text", "breaks"),
    [
        ("", ()),
        ("10: 4.50", ((10, Decimal("4.50")),)),
        ("50: 4,10; 10: 4,50", ((10, Decimal("4.50")), (50, Decimal("4.10")))),  # sorted; decimal commas
        ("from 10 at 4.5\nfrom 50 at 4", ((10, Decimal("4.5")), (50, Decimal("4")))),
        (" ; 10 = 4.50 ; ", ((10, Decimal("4.50")),)),
    ],
)
def test_breaks_are_read_in_each_notation(text, breaks):
    assert parse_breaks(text) == breaks


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("ten: 4.50", "“ten: 4.50” is no price break"),
        ("10", "“10” is no price break"),
        ("10: 4.505", "“10: 4.505” is no price break"),
        ("10: -4", "“10: -4” is no price break"),
        ("1: 4.50", "holds from the first one on"),
        ("10: 0", "has a price of 0"),
        ("10: 4.50; 10: 4.40", "two prices from 10 on"),
    ],
)
def test_what_cannot_be_read_is_refused_with_the_part_that_is_wrong(text, told):
    with pytest.raises(BreaksRefused, match=told):
        parse_breaks(text)


@few(50)
@given(
    st.dictionaries(
        st.integers(2, 10_000), st.decimals("0.01", 9999, places=2, allow_nan=False, allow_infinity=False)
    )
)
def test_breaks_written_down_are_read_as_they_were(breaks):
    written = tuple(sorted(breaks.items()))

    assert parse_breaks(breaks_text(written)) == written


@pytest.mark.parametrize(
    ("breaks", "price", "is_fine"),
    [
        ((), None, True),
        (((10, Decimal(4)),), Decimal(5), True),
        (((10, Decimal(5)),), Decimal(5), False),  # no cheaper than one
        (((10, Decimal(4)), (20, Decimal(4))), Decimal(5), False),  # no cheaper than the break before
        (((10, Decimal(4)),), None, False),
    ],
)
def test_a_break_has_to_lower_the_price(breaks, price, is_fine):
    assert (break_fault(breaks, price) == "") is is_fine
