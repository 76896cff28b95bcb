"""Standards found in what lists and earlier texts say of a board. Wordings: common practice, no source."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boards.core.standards import STANDARDS
from boards.core.statements import statements_in


@pytest.mark.parametrize(
    ("text", "found", "rest"),
    [
        ("", [], ""),
        ("ISO 16245, supplier statement", [("iso_16245", "Supplier")], ""),
        # who states it stands at the end and covers what is before it, as a unit behind several figures does
        (
            "ISO 16245; ISO 18916 (PAT), supplier statement",
            [("iso_16245", "Supplier"), ("iso_18916", "Supplier")],
            "",
        ),
        ("ISO 18916 (PAT), supplier statement; pH neutral", [("iso_18916", "Supplier")], "pH neutral"),
        ("ISO 9706, ISO 16245 type A (laboratory report)",
         [("iso_9706", "Laboratory"), ("iso_16245_a", "Laboratory")], ""),
        ("ISO 16245:2009, type B, manufacturer's data sheet", [("iso_16245_b", "Maker")], ""),
        ("DIN EN ISO 16245-A", [("iso_16245_a", "Not said")], ""),
        ("PAT passed, stated by Elmtree Board Works", [("iso_18916", "Elmtree Board Works")], ""),
        ("certified to ISO 9706 by the mill", [("iso_9706", "Maker")], ""),
        ("ANSI/NISO Z39.48-1992 (R2009); Oddy tested in-house",
         [("niso_z39_48", "Own test"), ("oddy", "Own test")], ""),
        ("PAT, own test; ISO 18902, supplier", [("iso_18916", "Own test"), ("iso_18902", "Supplier")], ""),
        ("ISO 18916, pH 8.5, supplier", [("iso_18916", "Supplier")], "pH 8.5"),
        ("ISO 16245; no optical brighteners", [("iso_16245", "Not said")], "no optical brighteners"),
        ("ISO 11108; iso11108", [("iso_11108", "Not said")], ""),
    ],
)  # fmt: skip
def test_standards_are_found_with_who_states_them(text, found, rest):
    assert statements_in(text) == (found, rest)


@pytest.mark.parametrize(
    "text",
    [
        "lignin-free, acid-free",
        "Supplier statement",
        "ISO 97061",
        "compatible with pattern P4",
        "ISO 18916 not yet tested",
        "ISO 18916, pending",
        "ISO 18916?",
        "ISO 18916 fails for the blue",
        "does not meet ISO 9706",
        "ISO 16245; not tested",
        "ISO 16245 will be stated with the next batch",
        "ISO 9706 without the tear limit",
    ],
)
def test_what_is_no_clear_statement_is_left_as_it_is(text):
    assert statements_in(text) == ([], text)


@given(st.text(max_size=200))
def test_any_text_gives_known_standards_with_somebody_and_loses_nothing_without_them(text):
    found, rest = statements_in(text)

    assert all(key in STANDARDS and 0 < len(by) <= 120 for key, by in found)
    if not found:
        assert rest == text.strip()


@given(
    st.lists(
        st.tuples(
            st.sampled_from(sorted(STANDARDS)),
            st.sampled_from(["Supplier", "Maker", "Laboratory", "Own test"]),
        ),
        min_size=1,
        unique=True,
    )
)
def test_statements_written_in_our_own_words_are_read_again(statements):
    text = "; ".join(f"{STANDARDS[key].short_name}, {by.lower()}" for key, by in statements)

    assert statements_in(text) == (statements, "")
