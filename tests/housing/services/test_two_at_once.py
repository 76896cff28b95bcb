"""Two tablets on one task, one entry sent twice at the same moment, more sheets begun than are there."""

from decimal import Decimal
from functools import partial
from uuid import uuid4

import pytest
from django.utils import timezone

from housing.models import BenchEntry, PlannedSheet, Task, WorkSpell
from housing.services.bench_entries import Ask, Kept, record, undo
from housing.services.sheets import cut_sheet
from objects.core.refusals import Refusal
from tests.factories import (
    balance_of,
    make_campaign,
    make_housing,
    make_person,
    make_sheet,
    make_tasks,
    make_user,
)
from tests.parallel import People

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.any_database]


@pytest.fixture
def box():
    """A box whose sheet is cut."""
    box = make_housing(campaign=make_campaign())
    make_tasks(box)
    cut_sheet(sheet=make_sheet(box))
    return box


def enter(person, what: str, task, entry_id=None):
    """An entry about a task, to be sent later."""
    ask = Ask(what, person.user, timezone.now(), person=person, task=task, minutes=Decimal(10))
    return partial(record, entry_id=entry_id or uuid4(), ask=ask)


def makers(number: int) -> list:
    return [make_person(user=make_user("maker")) for _ in range(number)]


def test_one_of_two_begins_a_task_and_the_other_is_told_who_has_it(box, tmp_path):
    both, score = makers(2), box.tasks.get(step="score")
    people = People(tmp_path)

    answers = people.at_once(*(enter(person, "start", score) for person in both))

    (kept,) = (answer for answer in answers if isinstance(answer, Kept))
    (refused,) = (answer for answer in answers if isinstance(answer, Refusal))
    assert f"{kept.entry.person} has begun" in str(refused)
    spells = people.alone(
        lambda: list(WorkSpell.objects.filter(ended_at=None).values_list("person", flat=True))
    )
    assert spells == [kept.entry.person_id]


def test_a_task_is_done_once(box, tmp_path):
    both, score = makers(2), box.tasks.get(step="score")
    people = People(tmp_path)

    answers = people.at_once(*(enter(person, "done", score) for person in both))

    (kept,) = (answer for answer in answers if isinstance(answer, Kept))
    (refused,) = (answer for answer in answers if isinstance(answer, Refusal))
    assert f"is done already, by {kept.entry.person}" in str(refused)
    done = people.alone(lambda: Task.objects.get(pk=score.pk))
    assert (done.state, done.person_id, done.spent_minutes) == ("done", kept.entry.person_id, 10)


def test_an_entry_sent_three_times_at_once_is_kept_once(box, tmp_path):
    (person,), score = makers(1), box.tasks.get(step="score")
    people = People(tmp_path)

    answers = people.at_once(*[enter(person, "done", score, uuid4())] * 3)

    assert sorted(answer.is_new for answer in answers) == [False, False, True]
    assert len({answer.entry.message for answer in answers}) == 1
    assert people.alone(BenchEntry.objects.count) == 1


def test_one_person_at_two_tablets_runs_one_clock(tmp_path):
    (person,) = makers(1)
    tasks = [make_tasks(make_housing(), "glue")[0] for _ in range(2)]
    people = People(tmp_path)

    answers = people.at_once(*(enter(person, "start", task) for task in tasks))

    assert all(isinstance(answer, Kept) for answer in answers)
    ended = people.alone(lambda: [spell.ended_at is None for spell in WorkSpell.objects.all()])
    assert sorted(ended) == [False, True]


def test_what_is_undone_twice_at_once_is_undone_once(box, tmp_path):
    (person,), score = makers(1), box.tasks.get(step="score")
    entry = enter(person, "done", score)().entry
    people = People(tmp_path)

    answers = people.at_once(*[partial(undo, entry=entry, by=person.user)] * 2)

    assert answers[0] == answers[1]
    assert people.alone(lambda: Task.objects.get(pk=score.pk).state) == "to_do"


def test_no_more_sheets_are_cut_than_are_there(tmp_path):
    campaign = make_campaign()
    boxes = [make_housing(campaign=campaign) for _ in range(5)]
    first = make_sheet(boxes[0], stock=3)
    sheets = [first, *(make_sheet(box, sheet_size=first.sheet_size) for box in boxes[1:])]
    people = People(tmp_path)

    answers = people.at_once(*(partial(cut_sheet, sheet=sheet) for sheet in sheets))

    assert sum(isinstance(answer, Refusal) for answer in answers) == 2
    assert people.alone(lambda: balance_of(first.sheet_size)) == 0
    assert people.alone(PlannedSheet.objects.exclude(cut_at=None).count) == 3


def test_done_and_undone_at_once_leave_box_and_tasks_in_step(box, tmp_path):
    # a step is undone while the one after it is finished: one of the two is refused
    (person,) = makers(1)
    entry = enter(person, "done", box.tasks.get(step="score"))().entry
    people = People(tmp_path)

    answers = people.at_once(
        partial(undo, entry=entry, by=person.user), enter(person, "done", box.tasks.get(step="glue"))
    )

    assert sum(isinstance(answer, Refusal) for answer in answers) == 1
    states = people.alone(lambda: dict(Task.objects.values_list("step", "state")))
    assert (states["score"], states["glue"]) in {("to_do", "to_do"), ("done", "done")}
