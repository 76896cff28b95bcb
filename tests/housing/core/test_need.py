"""Whether an object needs housing, and the reason in words."""

import pytest

from housing.core.need import (
    ADEQUATE,
    HOUSING_OF_NEED,
    NEED_OF_HOUSING,
    NOT_NEEDED,
    POOR,
    UNHOUSED,
    Statement,
    housing_need,
)


@pytest.mark.parametrize(
    ("present_housing", "need", "words"),
    [
        ("none", UNHOUSED, "No housing"),
        ("poor", POOR, "Present housing poor"),
        ("adequate", ADEQUATE, "Present housing adequate"),
        ("good", ADEQUATE, "Present housing good"),
        ("not_needed", NOT_NEEDED, "Needs no housing"),
    ],
)
def test_the_need_follows_from_the_present_housing(present_housing, need, words):
    found = housing_need(present_housing)

    assert (found.need, found.is_said) == (need, False)
    assert found.reason == f"{words}, as the list says, not yet looked at on the shelf."


@pytest.mark.parametrize(
    ("days", "reason"),
    [
        ({"seen_on": "3 May 2026"}, "Present housing poor, as seen on the shelf on 3 May 2026."),
        (
            {"looked_at_on": "3 May 2026"},
            "Present housing poor, as the list says; the object was looked at on 3 May 2026, "
            "but not its housing.",
        ),
    ],
)
def test_the_reason_says_who_knows_it(days, reason):
    assert housing_need("poor", **days).reason == reason


def test_what_a_person_stated_goes_before_the_present_housing():
    said = Statement(NOT_NEEDED, "Cast iron, stands outdoors.", "Ann Brook", "4 May 2026")

    found = housing_need("none", seen_on="3 May 2026", statement=said)

    assert (found.need, found.is_said) == (NOT_NEEDED, True)
    assert found.reason == "Stated by Ann Brook on 4 May 2026: Cast iron, stands outdoors."


def test_a_statement_of_somebody_long_gone_is_still_one():
    assert housing_need("none", statement=Statement(POOR, "Damp.")).reason == "Stated: Damp."


def test_the_box_it_lies_in_goes_before_all_else():
    found = housing_need("none", statement=Statement(UNHOUSED, "Damp."), box="Box 0012")

    assert (found.need, found.words, found.reason) == (
        ADEQUATE, "Adequately housed", "In Box 0012, which was made for it.",
    )  # fmt: skip


def test_a_stated_need_and_the_housing_it_stands_for_agree():
    assert {need: NEED_OF_HOUSING[housing] for need, housing in HOUSING_OF_NEED.items()} == {
        need: need for need in (UNHOUSED, POOR, ADEQUATE, NOT_NEEDED)
    }
