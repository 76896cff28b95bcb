"""What one standard says of another, and what of those asked for nobody states."""

import pytest

from boards.core.standards import STANDARDS, included_in, lacking, lacking_sentence


@pytest.mark.parametrize(
    ("asked", "stated"),
    [
        ("iso_18916", "iso_18916"),
        ("iso_18916", "iso_18902"),  # ISO 18902 asks for a pass of the photographic activity test
        ("iso_16245_b", "iso_16245_a"),  # ISO 16245: type A is type B with a limit to the kappa number
        ("iso_16245", "iso_16245_a"),
        ("iso_16245", "iso_16245_b"),
    ],
)
def test_a_statement_answers_what_it_includes(asked, stated):
    assert lacking({asked}, {stated}) == ()


@pytest.mark.parametrize(
    ("asked", "stated", "reason"),
    [
        # ISO 18902 has composition limits besides the test
        (
            "iso_18902",
            "iso_18916",
            "A pass of the photographic activity test is stated; ISO 18902 asks for more.",
        ),
        ("iso_16245_a", "iso_16245_b", "Type B is stated; type A also limits the kappa number."),
        ("iso_16245_a", "iso_16245", "ISO 16245 is stated without its type; ask the supplier which."),
        ("iso_16245_b", "iso_16245", "ISO 16245 is stated without its type; ask the supplier which."),
        # ISO 9706 is for paper and says nothing of a board, nor a board's standard of photographs
        ("iso_16245", "iso_9706", ""),
        ("iso_9706", "iso_16245_a", ""),
        ("iso_18916", "iso_16245_a", ""),
        ("iso_9706", "iso_11108", ""),
        ("oddy", "iso_18916", ""),
    ],
)
def test_nothing_else_is_concluded_from_a_statement(asked, stated, reason):
    (lack,) = lacking({asked}, {stated})

    assert (lack.standard, lack.reason) == (STANDARDS[asked], reason)


def test_what_lacks_comes_in_the_order_of_the_list_and_once():
    asked = ["oddy", "iso_9706", "iso_18916", "iso_9706", "a_later_one"]

    assert [lack.standard.key for lack in lacking(asked, ["iso_18916"])] == [
        "iso_9706",
        "oddy",
        "a_later_one",
    ]


def test_nothing_lacks_where_nothing_is_asked():
    assert lacking([], ["oddy"]) == ()


def test_what_statements_include_is_told_with_the_reason():
    assert included_in({"iso_18902", "iso_16245_a", "iso_16245"}) == {
        "iso_18916": "ISO 18902 includes a pass of the photographic activity test.",
        "iso_16245_b": "Type A of ISO 16245 has all the limits of type B and one more.",
    }


def test_a_lack_is_told_in_one_sentence_with_the_board_and_who_asks():
    photos, paper = lacking({"iso_18916", "iso_16245_a"}, {"iso_16245"})

    assert lacking_sentence(photos, "B32") == (
        "The design asks for ISO 18916; nobody states that board B32 meets it."
    )
    assert lacking_sentence(paper, "B32", "Rule 3 asks") == (
        "Rule 3 asks for ISO 16245 type A; nobody states that board B32 meets it. "
        "ISO 16245 is stated without its type; ask the supplier which."
    )
