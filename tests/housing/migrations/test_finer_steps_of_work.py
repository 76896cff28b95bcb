"""Work done before its steps were split stays done, and so does what it had within it."""

from decimal import Decimal
from importlib import import_module

import pytest
from django.apps import apps
from django.utils import timezone

from housing.models import Blank, Task
from tests.factories import make_housing, make_person

pytestmark = pytest.mark.django_db

split_steps = import_module("housing.migrations.0014_finer_steps_of_work").split_steps


def make_task(housing, step: str, state: str, **given) -> Task:
    when = timezone.now() if state == "done" else None
    return Task.objects.create(
        housing=housing, step=step, sequence=2, state=state, done_at=when, planned_minutes=Decimal(20), **given
    )


def has_lid(housing) -> None:
    Blank.objects.create(housing=housing, part="lid", x_mm=100, y_mm=100, flute_along="x", geometry={})


def steps_of(housing) -> dict[str, str]:
    return dict(housing.tasks.order_by("sequence").values_list("step", "state"))


def test_a_cut_box_needs_no_board_fetched_and_no_scores():
    housing, person = make_housing(status="in_work"), make_person()
    cut = make_task(housing, "cut", "done", person=person, spent_minutes=Decimal(25))
    make_task(housing, "glue", "to_do")

    split_steps(apps, None)

    assert steps_of(housing) == {"fetch": "done", "cut": "done", "score": "done", "glue": "to_do"}
    added = housing.tasks.get(step="score")
    assert (added.person, added.done_at, added.spent_minutes) == (person, cut.done_at, None)
    assert housing.tasks.get(step="cut").spent_minutes == 25


def test_a_glued_box_has_its_lid_made_only_where_it_has_one():
    lidded, open_tray = make_housing(status="made"), make_housing(status="made")
    has_lid(lidded)
    for housing in (lidded, open_tray):
        make_task(housing, "glue", "done")

    split_steps(apps, None)

    assert (steps_of(lidded), steps_of(open_tray)) == ({"glue": "done", "lid": "done"}, {"glue": "done"})


def test_open_work_and_dropped_boxes_are_left_to_the_next_planning():
    planned, dropped = make_housing(), make_housing(status="dropped")
    make_task(planned, "fit", "to_do")
    make_task(dropped, "fit", "done")

    split_steps(apps, None)

    assert (steps_of(planned), steps_of(dropped)) == ({"fit": "to_do"}, {"fit": "done"})


def test_the_steps_are_counted_in_working_order():
    housing = make_housing()
    make_task(housing, "return", "to_do")
    make_task(housing, "cut", "done")

    split_steps(apps, None)

    order = list(housing.tasks.order_by("sequence").values_list("step", "sequence"))
    assert order == [("fetch", 2), ("cut", 3), ("score", 4), ("return", 9)]
