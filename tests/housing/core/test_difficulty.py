"""How hard a form is to make; the thresholds are assumed, so forms that people know are held against them."""

import pytest

from housing.core.budget.facts import BoxFacts
from housing.core.difficulty import difficulty


def make_box(**given) -> BoxFacts:
    return BoxFacts(key="1", form="tray", design="1", board="1", **given)


@pytest.mark.parametrize(
    ("box", "found"),
    [
        ({}, "easy"),  # a bought box, or one still to be measured
        ({"blanks": 1, "folds": 4, "joints": 4}, "easy"),  # a tray: four walls, four corners
        ({"blanks": 1, "folds": 5}, "easy"),  # a folder of flaps, nothing glued
        ({"blanks": 2, "folds": 8, "joints": 8}, "ordinary"),  # a tray and its lid
        ({"blanks": 1, "folds": 4, "joints": 5}, "ordinary"),
        ({"blanks": 1, "folds": 7}, "ordinary"),
        ({"blanks": 3, "folds": 8, "joints": 8}, "hard"),  # a part more, that has to go between the two
        ({"blanks": 2, "folds": 17}, "hard"),
        ({"blanks": 2, "folds": 8, "joints": 13}, "hard"),
        ({"blanks": 1, "supplies": (("tape", 1, 0.0),) * 5}, "hard"),
    ],
)
def test_a_form_is_as_hard_as_what_there_is_to_fold_and_to_join(box, found):
    assert difficulty(make_box(**box)) == found
