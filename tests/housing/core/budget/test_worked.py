"""Minutes of boxes become hours of people."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from housing.core.budget.worked import NOBODY, hours_by_person
from tests.examples import few


def test_each_step_goes_to_whoever_has_it():
    # cutting: 30 min by 7, 60 by nobody yet; gluing: 45 + 15 by 7
    minutes = {"cut": np.array([30.0, 60.0]), "glue": np.array([45.0, 15.0])}
    people = {("a", "cut"): "7", ("a", "glue"): "7", ("b", "glue"): "7"}

    assert hours_by_person(["a", "b"], minutes, people) == {
        (NOBODY, "cut"): 1.0,
        ("7", "cut"): 0.5,
        ("7", "glue"): 1.0,
    }


def test_no_box_takes_no_hour():
    assert hours_by_person([], {"cut": np.zeros(0)}, {}) == {}


@few(30)
@given(st.lists(st.tuples(st.floats(0, 1e4), st.sampled_from(["", "1", "2"])), min_size=1, max_size=20))
def test_the_hours_of_all_people_are_those_of_all_boxes(given_out):
    keys = [str(number) for number in range(len(given_out))]
    minutes = {"cut": np.array([minutes for minutes, _ in given_out])}
    people = {(key, "cut"): person for key, (_, person) in zip(keys, given_out, strict=True) if person}

    hours = hours_by_person(keys, minutes, people)

    assert sum(hours.values()) * 60 == pytest.approx(sum(minutes for minutes, _ in given_out))
