"""Entries made at the bench: kept once, done whole or not at all, undone with only the trail left."""

from datetime import timedelta
from decimal import Decimal
from uuid import UUID, uuid4

import pytest
from django.utils import timezone
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase

from housing.models import BenchEntry, Task, WorkSpell
from housing.services.bench_entries import Ask, BenchRefused, last_entry, record, undo
from housing.services.sheets import cut_sheet
from housing.services.spells import SpellRefused, clocked
from housing.services.tasks import TaskRefused
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
def box():
    """A box whose sheet is cut."""
    box = make_housing(campaign=make_campaign())
    make_tasks(box)
    cut_sheet(sheet=make_sheet(box))
    box.refresh_from_db()
    return box


@pytest.fixture
def ada():
    return make_person(name="Ada", user=make_user("maker"))


def act(person, what: str, of, *, at=None, minutes=None, entry_id: UUID | None = None, **detail):
    """What a person enters about a task or a sheet."""
    named = {"task": of} if isinstance(of, Task) else {"sheet": of}
    ask = Ask(what, person.user, at or timezone.now(), person=person, minutes=minutes, detail=detail, **named)
    return record(entry_id=entry_id or uuid4(), ask=ask)


def state_of(box) -> tuple:
    """All that an entry may change of a box and its tasks."""
    box.refresh_from_db()
    rows = box.tasks.order_by("pk").values_list("step", "state", "person", "spent_minutes", "done_at")
    return box.status, list(rows)


def test_the_clock_tells_the_minutes(box, ada):
    score, now = box.tasks.get(step="score"), timezone.now()

    act(ada, "start", score, at=now - timedelta(minutes=50))
    act(ada, "pause", score, at=now - timedelta(minutes=40))
    act(ada, "start", score, at=now - timedelta(minutes=15))
    act(ada, "done", score, at=now)

    score.refresh_from_db()
    assert (score.state, score.person, score.spent_minutes) == ("done", ada, 25)  # 10 and 15


def test_minutes_that_were_entered_go_before_the_clock(box, ada):
    score, now = box.tasks.get(step="score"), timezone.now()
    act(ada, "start", score, at=now - timedelta(minutes=50))

    act(ada, "done", score, at=now, minutes=Decimal(35))

    score.refresh_from_db()
    assert score.spent_minutes == 35


def test_a_clock_that_ran_over_night_is_not_taken_at_face_value(box, ada):
    score, now = box.tasks.get(step="score"), timezone.now()
    act(ada, "start", score, at=now - timedelta(hours=16))

    assert clocked(score, now).is_doubtful
    act(ada, "done", score, at=now)

    score.refresh_from_db()
    assert (score.state, score.spent_minutes) == ("done", None)


def test_beginning_something_else_pauses_what_was_running(box, ada):
    score, other = box.tasks.get(step="score"), make_tasks(make_housing(), "glue")[0]
    act(ada, "start", score)

    kept = act(ada, "start", other)

    assert f"“{score}” is paused" in kept.entry.message
    assert list(WorkSpell.objects.filter(ended_at=None).values_list("task", flat=True)) == [other.pk]


def test_an_entry_sent_again_is_kept_once_and_answered_alike(box, ada):
    score, entry_id = box.tasks.get(step="score"), uuid4()

    first = act(ada, "done", score, minutes=Decimal(12), entry_id=entry_id)
    again = act(ada, "done", score, minutes=Decimal(99), entry_id=entry_id)

    assert (first.is_new, again.is_new) == (True, False)
    assert first.entry == again.entry
    assert BenchEntry.objects.count() == 1


def test_what_is_refused_leaves_nothing_behind(box, ada):
    before = state_of(box)

    with pytest.raises(TaskRefused, match="comes after"):
        act(ada, "done", box.tasks.get(step="return"))

    assert state_of(box) == before
    assert not BenchEntry.objects.exists()


def test_the_second_tablet_is_told_who_has_begun(box, ada):
    bea, score = make_person(name="Bea", user=make_user("maker")), box.tasks.get(step="score")
    act(ada, "start", score)

    with pytest.raises(TaskRefused, match="Ada has begun"):
        act(bea, "start", score)
    with pytest.raises(Refusal):
        act(bea, "start", score)

    assert WorkSpell.objects.get().person == ada


def test_one_sheet_is_cut_by_one_person_at_a_time(ada):
    other = make_housing(campaign=make_campaign())
    sheet = make_sheet(other)
    act(ada, "start", sheet)

    with pytest.raises(SpellRefused, match="Ada is at “Sheet 1” since"):
        act(make_person(user=make_user("maker")), "start", sheet)


def test_a_sheet_that_is_begun_leaves_the_stock_and_comes_back_when_that_is_undone(ada):
    box = make_housing(campaign=make_campaign())
    make_tasks(box)
    sheet = make_sheet(box, stock=2)

    kept = act(ada, "start", sheet)
    out = balance_of(sheet.sheet_size)
    undo(entry=kept.entry, by=ada.user)

    assert (out, balance_of(sheet.sheet_size)) == (1, 2)
    assert not WorkSpell.objects.filter(ended_at=None).exists()


def test_boxes_of_an_uncut_sheet_are_begun_with_the_sheet(ada):
    box = make_housing(campaign=make_campaign())
    make_tasks(box)
    make_sheet(box)

    with pytest.raises(BenchRefused, match="Begin Sheet 1 instead"):
        act(ada, "start", box.tasks.get(step="cut"))


@pytest.mark.parametrize("step", ["score", "glue"])
def test_done_by_mistake_is_undone(box, ada, step):
    for before in ("score",):
        if step != before:
            act(ada, "done", box.tasks.get(step=before))
    before = state_of(box)
    kept = act(ada, "done", box.tasks.get(step=step), minutes=Decimal(12))

    undo(entry=kept.entry, by=ada.user)

    assert state_of(box) == before


def test_a_box_goes_back_to_where_it_was_and_the_trail_keeps_both(box, ada):
    for step in ("score", "glue"):
        act(ada, "done", box.tasks.get(step=step))
    kept = act(ada, "done", box.tasks.get(step="lid"))
    box.refresh_from_db()
    was_made = box.status

    undo(entry=kept.entry, by=ada.user)

    box.refresh_from_db()
    assert (was_made, box.status) == ("made", "in_work")
    trail = list(box.events.values_list("status", "note"))
    assert trail[-2:] == [("made", "Make the lid: done"), ("in_work", "Undone: Make the lid")]


def test_what_others_have_gone_on_from_stays(box, ada):
    kept = act(ada, "done", box.tasks.get(step="score"))
    act(ada, "start", box.tasks.get(step="glue"))

    with pytest.raises(BenchRefused, match="Fold and glue: .* was begun since. Undo that first"):
        undo(entry=kept.entry, by=ada.user)


def test_undone_twice_is_undone_once(box, ada):
    kept = act(ada, "done", box.tasks.get(step="score"))

    assert undo(entry=kept.entry, by=ada.user) == undo(entry=kept.entry, by=ada.user)
    assert last_entry(by=ada.user) is None


def test_a_cut_sheet_is_undone_with_stock_and_tasks(ada):
    box = make_housing(campaign=make_campaign())
    make_tasks(box)
    sheet = make_sheet(box, stock=2)
    before = state_of(box)
    kept = act(ada, "sheet_cut", sheet, minutes=Decimal(20))

    undo(entry=kept.entry, by=ada.user)

    assert (state_of(box), balance_of(sheet.sheet_size)) == (before, 2)


@pytest.mark.parametrize("reason", ["", "miscut"])
def test_a_spoiled_sheet_is_costed(ada, reason):
    sheet = make_sheet(make_housing(campaign=make_campaign()), stock=2)
    act(ada, "start", sheet)

    kept = act(ada, "spoiled", sheet, reason=reason)

    assert "A sheet worth 12.50 USD is written off" in kept.entry.message
    assert balance_of(sheet.sheet_size) == 1


def test_a_reason_that_is_none_is_refused(ada):
    sheet = make_sheet(make_housing(campaign=make_campaign()), stock=2)

    with pytest.raises(BenchRefused, match="Say why the sheet was spoiled"):
        act(ada, "spoiled", sheet, reason="dropped in the river")

    assert balance_of(sheet.sheet_size) == 2


def test_without_a_person_no_clock_runs(box):
    ask = Ask("start", make_user("maker"), timezone.now(), task=box.tasks.get(step="score"))

    with pytest.raises(BenchRefused, match="Choose who works first"):
        record(entry_id=uuid4(), ask=ask)


class AnyWay(TestCase):
    """Steps done and undone in any order leave the box as the steps that were not undone would."""

    @few(15)
    @given(undone=st.lists(st.booleans(), min_size=5, max_size=5))
    def test_undoing_leaves_no_trace_in_the_state(self, undone):
        box = make_housing(campaign=make_campaign())
        make_tasks(box)
        cut_sheet(sheet=make_sheet(box))
        ada = make_person(user=make_user("maker"))
        for step, is_undone in zip(("score", "lid", "glue", "fit", "label"), undone, strict=True):
            before = state_of(box)
            kept = act(ada, "done", box.tasks.get(step=step), minutes=Decimal(3))
            if is_undone:
                undo(entry=kept.entry, by=ada.user)
                assert state_of(box) == before
                act(ada, "done", box.tasks.get(step=step), minutes=Decimal(3))
        box.refresh_from_db()
        assert box.status == "made"
        assert box.tasks.exclude(state="done").count() == 1
