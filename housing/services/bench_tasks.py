"""What entries of the bench do with tasks: begun, paused, done, and each of these undone."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from django.utils import timezone

from housing.core.steps import OF_SHEETS, later_steps
from housing.models import BenchEntry, Housing, Task
from housing.services.bench_clock import (
    and_paused,
    begun_memory,
    drop_spell,
    ended_memory,
    refuse_begun_again,
    remembered,
    told_minutes,
    took,
)
from housing.services.bench_entries import Ask, BenchRefused, Outcome, handles, undoes
from housing.services.bench_sheets import start_sheet, undo_start_sheet
from housing.services.housings import move_back
from housing.services.moments import on_moment
from housing.services.spells import begin_spell, clocked, end_spell, refuse_somebody_there, resume_spell
from housing.services.tasks import by_whom, finish_task, start_task
from objects.core.words import say

What, State = BenchEntry.What, Task.State


@handles(What.START)
def start(ask: Ask) -> Outcome:
    """Begin a task or a sheet, or go on after a pause; what else of the person's was running pauses."""
    if ask.person is None:
        raise BenchRefused(say("Choose who works first: the clock runs for a person."))
    if ask.sheet is not None:
        return start_sheet(ask, ask.sheet, ask.person)
    task = _asked(ask)
    if task.step in OF_SHEETS and (sheet := task.sheet) and not sheet.cut_at:
        raise BenchRefused(say("Begin {sheet} instead: the boxes on it are cut together.", sheet=sheet))
    before = _memory(task)
    started = start_task(task=task, person=ask.person, at=ask.at)
    begun = begin_spell(at_what=started, person=ask.person, at=ask.at)
    return Outcome(
        say("“{work}” is begun.", work=started) + and_paused(begun.paused),
        before | begun_memory(begun.spell, begun.paused),
    )


@handles(What.PAUSE)
def pause(ask: Ask) -> Outcome:
    """Stop the clock; the work stays begun."""
    at_what = ask.sheet or _asked(ask)
    if ask.person is not None:
        refuse_somebody_there(at_what=at_what, person=ask.person)
    ended = end_spell(at_what=at_what, at=ask.at)
    words = (
        say("“{work}” is paused.", work=at_what) if ended else say("“{work}” was not running.", work=at_what)
    )
    return Outcome(words, ended_memory(ended))


@handles(What.DONE)
def done(ask: Ask) -> Outcome:
    """Finish a task with the minutes entered, or with those of the clock."""
    task = _asked(ask)
    if task.state == State.DONE:
        raise BenchRefused(say("“{task}” is done already{by_whom}.", task=task, by_whom=by_whom(task)))
    _refuse_somebody_elses(task, ask)
    before = _memory(task) | {"housing": task.housing.status}
    ended = end_spell(at_what=task, at=ask.at)
    minutes, doubt = told_minutes(ask.minutes, clocked(task, ask.at))
    finished = finish_task(task=task, minutes=minutes, person=ask.person, by=ask.by, at=ask.at)
    return Outcome(
        say("“{work}” is done.", work=finished) + took(minutes) + doubt,
        before | ended_memory(ended),
        minutes=minutes,
    )


@undoes(What.START)
def undo_start(entry: BenchEntry, by: Any) -> str:
    """Begun by mistake: that counts no minutes, what was paused by it runs on, and the task is as before."""
    memory = remembered(entry)
    if entry.sheet is not None:
        return undo_start_sheet(entry, entry.sheet, by)
    task = _of_entry(entry)
    if task.state == State.DONE:
        raise BenchRefused(say("“{task}” was done since. Undo that first.", task=task))
    refuse_begun_again(task, memory)
    _restore(task, memory)
    return say("“{work}” is not begun.", work=task) + drop_spell(memory, timezone.now())


@undoes(What.PAUSE)
def undo_pause(entry: BenchEntry, by: Any) -> str:
    """Paused by mistake: the clock runs on as if it had not stopped."""
    at_what = entry.sheet or _of_entry(entry)
    if not (spell := remembered(entry).get("spell")):
        return say("“{work}” was not running.", work=at_what)
    if resume_spell(pk=spell, now=timezone.now()) is None:
        raise BenchRefused(
            say("Too much has happened since then. Begin “{at_what}” again instead.", at_what=at_what)
        )
    return say("“{work}” goes on.", work=at_what)


@undoes(What.DONE)
def undo_done(entry: BenchEntry, by: Any) -> str:
    """Done by mistake: the task is open again and its box where it was, unless work went on from there."""
    task, memory = _of_entry(entry), remembered(entry)
    if task.state != State.DONE:
        raise BenchRefused(
            say("“{task}” is open already. Reload the page to see where it stands.", task=task)
        )
    later = task.housing.tasks.filter(step__in=later_steps(task.step)).exclude(state=State.TO_DO).first()
    if later:
        raise BenchRefused(say("“{later}” was begun since. Undo that first.", later=later))
    if (status := memory.get("housing")) and status != task.housing.status:
        move_back(
            housing=task.housing,
            status=status,
            by=by,
            note=say("Undone: {step}", step=task.get_step_display()),
        )
    _restore(task, memory)
    runs = " " + say("Its clock runs on.") if resume_spell(pk=memory.get("spell"), now=timezone.now()) else ""
    return say("“{work}” is open again.", work=task) + runs


def _asked(ask: Ask) -> Task:
    if ask.task is None:
        raise BenchRefused(
            say(
                "That step is not in the plan any more: the campaign was planned again since. Reload the "
                "page."
            )
        )
    return _locked(ask.task.pk)


def _of_entry(entry: BenchEntry) -> Task:
    if entry.task_id is None:
        raise BenchRefused(say("That step is not in the plan any more."))
    return _locked(entry.task_id)


def _locked(pk: int) -> Task:
    """A task, kept from others; its housing first, as finishing does, so that nobody waits for each other."""
    Housing.objects.select_for_update(of=("self",)).filter(tasks=pk).first()
    tasks = Task.objects.select_for_update(of=("self",)).select_related("housing", "person", "sheet")
    if (task := tasks.filter(pk=pk).first()) is None:
        raise BenchRefused(
            say("That step is not in the plan any more: its box was dropped. Reload the page.")
        )
    return task


def _refuse_somebody_elses(task: Task, ask: Ask) -> None:
    """Raises a Refusal where somebody else is at a task, or has begun it."""
    if ask.person is None:
        return
    refuse_somebody_there(at_what=task, person=ask.person)
    if task.state == State.STARTED and task.person_id and task.person_id != ask.person.pk:
        raise BenchRefused(
            say(
                "{person} has begun “{work}”{when}. Let them finish it, or ask a manager to give it to "
                "{other}.",
                person=task.person,
                work=task,
                when=on_moment(task.started_at),
                other=ask.person,
            )
        )


def _memory(task: Task) -> dict[str, Any]:
    """A task as it is before something is done with it, ready for JSON."""
    return {
        "state": task.state,
        "person": task.person_id,
        "started_at": task.started_at.isoformat() if task.started_at else None,
        "spent_minutes": None if task.spent_minutes is None else str(task.spent_minutes),
    }


def _restore(task: Task, memory: Mapping[str, Any]) -> None:
    spent = memory.get("spent_minutes")
    Task.objects.filter(pk=task.pk).update(
        state=memory.get("state", State.TO_DO),
        person=memory.get("person"),
        started_at=memory.get("started_at"),
        done_at=None,
        spent_minutes=None if spent is None else Decimal(spent),
    )
