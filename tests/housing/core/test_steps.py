"""The order of the work; common practice, no source."""

import pytest

from housing.core.steps import SKILL_OF_STEP, STEPS, skills_with, waits_for


@pytest.mark.parametrize(
    ("step", "before"),
    [
        ("measure", ()),
        ("fetch", ("measure",)),
        ("score", ("cut",)),
        ("lid", ("score",)),  # beside the base, not behind it
        ("fit", ("glue", "lid")),
        ("return", ("label",)),
    ],
)
def test_a_step_waits_for_those_right_before_it(step, before):
    assert waits_for(step, STEPS) == before


@pytest.mark.parametrize(
    ("step", "there", "before"),
    [
        ("fit", ("score", "glue", "fit"), ("glue",)),  # no lid
        ("fit", ("fetch", "fit"), ("fetch",)),  # a bought box is not made
        ("fetch", ("fetch",), ()),  # measured long ago
        ("return", ("glue", "lid", "return"), ("glue", "lid")),
    ],
)
def test_what_a_missing_step_waited_for_takes_its_place(step, there, before):
    assert waits_for(step, there) == before


def test_whoever_fits_may_label_and_every_step_asks_for_one_skill():
    assert skills_with({"fit"}) == {"fit", "label"}
    assert skills_with({"label"}) == {"label"}
    assert set(SKILL_OF_STEP) == set(STEPS)
