"""The clock through entries of the bench: what runs, what pauses, and what comes back when that is undone."""

from datetime import timedelta
from decimal import Decimal
from uuid import uuid4

import pytest
from django.db.models import F
from django.utils import timezone
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase

from housing.models import Task, WorkSpell
from housing.services.bench_entries import Ask, BenchRefused, record, undo
from housing.services.housings import move_housing
from housing.services.sheets import cut_sheet
from housing.services.spells import SpellRefused, clocked
from housing.services.tasks import finish_task
from objects.core.refusals import Refusal
from tests.examples import few
from tests.factories import (
    balance_of,
    make_campaign,
    make_housing,
    make_person,
    make_sheet,
    make_tasks,
    make_user,
)

pytestmark = [pytest.mark.django_db, pytest.mark.any_database]


@pytest.fixture
def ada():
    return make_person(name="Ada", user=make_user("maker"))


@pytest.fixture
def bea():
    return make_person(name="Bea", user=make_user("maker"))


@pytest.fixture
def glue():
    """A task that waits for nothing."""
    return make_tasks(make_housing(), "glue")[0]


@pytest.fixture
def lid():
    return make_tasks(make_housing(), "lid")[0]


def enter(person, what: str, of, ago=0, minutes=None, **detail):
    """What a person enters about a task or a sheet, so many minutes ago."""
    named = {"task": of} if isinstance(of, Task) else {"sheet": of}
    at = timezone.now() - timedelta(minutes=ago)
    ask = Ask(what, person.user, at, person=person, minutes=minutes, detail=detail, **named)
    return record(entry_id=uuid4(), ask=ask).entry


def running() -> list:
    spells = WorkSpell.objects.filter(ended_at=None).order_by("pk")
    return [spell.task or spell.sheet for spell in spells]


def test_begun_by_mistake_counts_no_minutes_and_what_it_paused_runs_on(ada, glue, lid):
    enter(ada, "start", glue, ago=30)
    mistake = enter(ada, "start", lid, ago=5)

    undone = undo(entry=mistake, by=ada.user)

    lid.refresh_from_db()
    assert undone.message == f"“{lid}” is not begun. “{glue}” goes on."
    assert (running(), lid.state, lid.started_at) == ([glue], "to_do", None)
    assert clocked(lid, timezone.now()).minutes == 0
    assert clocked(glue, timezone.now()).minutes == 30


def test_paused_by_mistake_runs_on_as_if_it_had_not_stopped(ada, glue):
    enter(ada, "start", glue, ago=20)
    mistake = enter(ada, "pause", glue, ago=3)

    undo(entry=mistake, by=ada.user)

    assert running() == [glue]
    assert clocked(glue, timezone.now()).minutes == 20


def test_a_pause_of_long_ago_is_not_undone(ada, glue):
    # the clock would count the hours between as work
    enter(ada, "start", glue, ago=200)
    pause = enter(ada, "pause", glue, ago=180)

    with pytest.raises(BenchRefused, match="Begin “.*” again instead"):
        undo(entry=pause, by=ada.user)


def test_a_pause_is_not_undone_once_something_else_runs(ada, glue, lid):
    enter(ada, "start", glue, ago=20)
    pause = enter(ada, "pause", glue, ago=5)
    enter(ada, "start", lid, ago=4)

    with pytest.raises(BenchRefused, match="Too much has happened"):
        undo(entry=pause, by=ada.user)

    assert running() == [lid]


def test_done_by_mistake_lets_the_clock_run_on(ada, glue):
    enter(ada, "start", glue, ago=20)
    done = enter(ada, "done", glue)

    undone = undo(entry=done, by=ada.user)

    assert undone.message == f"“{glue}” is open again. Its clock runs on."
    assert running() == [glue]


def test_what_was_begun_again_since_is_undone_first(ada, glue):
    first = enter(ada, "start", glue, ago=20)
    enter(ada, "pause", glue, ago=15)
    enter(ada, "start", glue, ago=10)

    with pytest.raises(BenchRefused, match="was begun again since"):
        undo(entry=first, by=ada.user)


def test_begun_twice_and_undone_twice_is_not_begun(ada, glue):
    first = enter(ada, "start", glue, ago=20)
    enter(ada, "pause", glue, ago=15)
    second = enter(ada, "start", glue, ago=10)

    undo(entry=second, by=ada.user)
    undo(entry=first, by=ada.user)

    glue.refresh_from_db()
    assert (running(), glue.state, clocked(glue, timezone.now()).minutes) == ([], "to_do", 0)


def test_begun_a_second_time_and_undone_leaves_the_clock_of_the_first(ada, glue):
    enter(ada, "start", glue, ago=20)
    again = enter(ada, "start", glue, ago=5)

    undo(entry=again, by=ada.user)

    glue.refresh_from_db()
    assert (running(), glue.state) == ([glue], "started")


def test_a_task_that_is_done_is_not_done_again(ada, bea, glue):
    enter(ada, "done", glue, minutes=Decimal(8))

    with pytest.raises(BenchRefused, match="is done already, by Ada on"):
        enter(bea, "done", glue, minutes=Decimal(9))


def test_what_somebody_else_is_at_is_neither_done_nor_paused(ada, bea, glue):
    enter(ada, "start", glue)

    for what in ("done", "pause"):
        with pytest.raises(SpellRefused, match="Ada is at “.*” since"):
            enter(bea, what, glue)

    enter(ada, "pause", glue)
    with pytest.raises(BenchRefused, match="Ada has begun “.*” on .* give it to Bea"):
        enter(bea, "done", glue)


def test_a_sheet_somebody_else_is_at_is_not_cut(ada, bea):
    sheet = make_sheet(make_housing(campaign=make_campaign()))
    enter(ada, "start", sheet)

    with pytest.raises(SpellRefused, match="Ada is at “Sheet 1”"):
        enter(bea, "sheet_cut", sheet)

    assert enter(ada, "sheet_cut", sheet).message.startswith("Sheet 1 is cut")


def test_minutes_by_the_clock_are_kept_with_the_entry(ada, glue):
    enter(ada, "start", glue, ago=25)

    done = enter(ada, "done", glue)

    assert (done.minutes, done.message) == (25, f"“{glue}” is done. It took 25 minutes.")


def test_a_clock_left_running_is_asked_about(ada, glue, lid):
    enter(ada, "start", glue, ago=14 * 60)

    paused = enter(ada, "start", lid)
    done = enter(ada, "done", glue)

    assert "enter the minutes yourself" in paused.message
    assert "ran for more than 4 hours on end, so no minutes are noted" in done.message
    assert done.minutes is None


def test_a_time_to_come_counts_as_now(ada, glue):
    entry = enter(ada, "start", glue, ago=-600)

    assert glue.spells.get().started_at == entry.at <= timezone.now()


def test_a_sheet_cut_by_mistake_is_at_the_bench_again(ada):
    box = make_housing(campaign=make_campaign())
    make_tasks(box)
    sheet = make_sheet(box, stock=2)
    enter(ada, "start", sheet, ago=12)
    cut = enter(ada, "sheet_cut", sheet)

    undone = undo(entry=cut, by=ada.user)

    assert undone.message == "Sheet 1 is not cut. Its clock runs on."
    assert (running(), cut.minutes, balance_of(sheet.sheet_size)) == ([sheet], 12, 1)


def test_a_sheet_spoiled_by_mistake_is_at_the_bench_again(ada):
    sheet = make_sheet(make_housing(campaign=make_campaign()), stock=2)
    enter(ada, "start", sheet, ago=12)
    spoiled = enter(ada, "spoiled", sheet, reason="damaged")

    undone = undo(entry=spoiled, by=ada.user)

    assert undone.message == "The sheet is not spoiled; it is at the bench again."
    assert (running(), balance_of(sheet.sheet_size)) == ([sheet], 1)


def test_a_sheet_cut_since_is_not_unbegun(ada):
    sheet = make_sheet(make_housing(campaign=make_campaign()))
    begun = enter(ada, "start", sheet)
    enter(ada, "sheet_cut", sheet)

    with pytest.raises(BenchRefused, match="Sheet 1 was cut since. Undo that first"):
        undo(entry=begun, by=ada.user)


def test_no_clock_runs_at_what_was_finished_elsewhere(ada):
    # in the work list, on the page of the plan, or by the status of the box
    box, other = (make_housing(campaign=make_campaign()) for _ in range(2))
    glue, lid = make_tasks(box, "glue", "lid")
    make_tasks(other, "glue")
    sheet = make_sheet(other)
    left = []

    enter(ada, "start", glue)
    finish_task(task=glue)
    left += running()
    enter(ada, "start", sheet)
    cut_sheet(sheet=sheet)
    left += running()
    enter(ada, "start", lid)
    move_housing(housing=move_housing(housing=box, status="in_work"), status="made")

    assert left + running() == []


def test_entries_of_a_box_that_was_dropped_are_told_so(ada, glue):
    begun = enter(ada, "start", glue)
    glue.delete()
    begun.refresh_from_db()

    with pytest.raises(BenchRefused, match="not in the plan any more"):
        undo(entry=begun, by=ada.user)


class AnyMinutes(TestCase):
    """However a sheet's minutes fall, its boxes share all of them."""

    @few(25)
    @given(
        minutes=st.decimals(0, 600, places=2),
        planned=st.lists(st.decimals(0, 99, places=2), min_size=2, max_size=6),
    )
    def test_the_shares_add_up_to_the_minutes(self, minutes, planned):
        campaign = make_campaign()
        boxes = [make_housing(campaign=campaign) for _ in planned]
        for box, each in zip(boxes, planned, strict=True):
            make_tasks(box, "fetch", "cut", planned_minutes=each)

        cut_sheet(sheet=make_sheet(*boxes), minutes=minutes)

        tasks = Task.objects.filter(housing__in=boxes)
        assert sum(task.spent_minutes for task in tasks) == minutes
        assert min(task.spent_minutes for task in tasks) >= 0


class AnyOrder(TestCase):
    """Two people, two tasks, anything in any order: one clock a person, and no time counted twice."""

    @few(25)
    @given(
        acts=st.lists(
            st.tuples(st.sampled_from(["start", "pause", "done", "undo"]), st.booleans(), st.booleans()),
            max_size=10,
        )
    )
    def test_no_clock_counts_the_same_time_twice(self, acts):
        people = [make_person(user=make_user("maker")) for _ in range(2)]
        tasks = [make_tasks(make_housing(), "glue")[0] for _ in range(2)]
        kept = []
        for minute, (what, who, which) in enumerate(acts):
            try:
                if what == "undo" and kept:
                    undo(entry=kept.pop(), by=people[who].user)
                elif what != "undo":
                    kept.append(enter(people[who], what, tasks[which], ago=30 - minute))
            except Refusal:
                pass
        for person in people:
            # one begun by mistake has no length
            spells = list(person.spells.exclude(ended_at=F("started_at")).order_by("started_at", "pk"))
            assert all(spell.ended_at for spell in spells[:-1])
            assert all(a.ended_at <= b.started_at for a, b in zip(spells, spells[1:], strict=False))
        for task in tasks:
            task.refresh_from_db()
            assert (task.done_at is not None) == (task.state == "done")
            assert not (task.state == "done" and task.spells.filter(ended_at=None).exists())
