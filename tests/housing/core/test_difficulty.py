"""How hard a form is to make; the thresholds are assumed, so forms that people know are held against them."""

import pytest

from boards.core.board import BoardSpec
from housing.core.budget.facts import BoxFacts
from housing.core.clearances import InnerSize
from housing.core.difficulty import difficulty
from housing.core.enclosures import make_enclosure


def make_box(**given) -> BoxFacts:
    return BoxFacts(key="1", form="tray", design="1", board="1", **given)


@pytest.mark.parametrize(
    ("box", "found"),
    [
        ({}, "easy"),  # a bought box, or one still to be measured
        ({"blanks": 1, "folds": 8, "joints": 4}, "easy"),  # a tray: four walls, four corner flaps
        ({"blanks": 1, "folds": 8, "joints": 5}, "ordinary"),
        ({"blanks": 1, "folds": 9}, "ordinary"),
        ({"blanks": 2, "folds": 16, "joints": 8}, "ordinary"),  # a tray and its lid
        ({"blanks": 3, "folds": 16, "joints": 8}, "hard"),  # a part more, that has to go between the two
        ({"blanks": 2, "folds": 17}, "hard"),
        ({"blanks": 2, "folds": 8, "joints": 11}, "hard"),
        ({"blanks": 1, "supplies": (("tape", 1, 0.0),) * 5}, "hard"),
    ],
)
def test_a_form_is_as_hard_as_what_there_is_to_fold_and_to_join(box, found):
    assert difficulty(make_box(**box)) == found


# Common practice, no source: what is given on the first day, what is made daily, what takes experience.
@pytest.mark.parametrize(
    ("form", "found"),
    [
        ("tray", "easy"), ("folder", "easy"), ("four_flap", "easy"), ("lidded_tray", "ordinary"),
        ("hinged_lid", "ordinary"), ("clamshell", "ordinary"), ("divided_tray", "hard"),
        ("framed_tray", "hard"),
    ],
)  # fmt: skip
def test_the_shipped_forms_are_told_apart(form, found):
    made = make_enclosure(form, InnerSize(250, 200, 60), BoardSpec(3.2))
    blanks = [part.blank for part in made.parts]

    box = make_box(
        blanks=len(blanks),
        folds=sum(len(blank.scores) for blank in blanks),
        joints=sum(blank.glue_joints for blank in blanks),
    )

    assert difficulty(box) == found
