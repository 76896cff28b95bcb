"""What entries of the bench do with tasks and sheets: begun, paused, done, cut, spoiled, and undone."""

from collections.abc import Mapping
from typing import Any

from boards.models import Reason
from housing.core.steps import OF_SHEETS, later_steps
from housing.models import BenchEntry, Housing, PlannedSheet, Task
from housing.queries.sheets import issue_of
from housing.services.bench_entries import Ask, BenchRefused, Outcome, handles, undoes
from housing.services.housings import move_back
from housing.services.nesting import PlanRefused
from housing.services.sheets import cut, issue_sheet, spoil_sheet, take_back_cut, take_back_issue
from housing.services.spells import begin_spell, clocked, end_spell
from housing.services.tasks import finish_task, refuse_held, start_task

What, State = BenchEntry.What, Task.State


@handles(What.START)
def start(ask: Ask) -> Outcome:
    """Begin a task or a sheet, or go on after a pause; what else of the person's was running pauses."""
    if ask.person is None:
        raise BenchRefused("Choose who works first: the clock runs for a person.")
    if ask.sheet is not None:
        return _start_sheet(ask, ask.sheet)
    task = _task(ask)
    if task.step in OF_SHEETS and (sheet := task.sheet) and not sheet.cut_at:
        raise BenchRefused(f"Begin {sheet} instead: the boxes on it are cut together.")
    before = _memory(task)
    begun = start_task(task=task, person=ask.person, at=ask.at)
    paused = begin_spell(at_what=begun, person=ask.person, at=ask.at)
    return Outcome(f"“{begun}” is begun.{_paused(paused)}", before)


def _start_sheet(ask: Ask, sheet: PlannedSheet) -> Outcome:
    if sheet.cut_at:
        raise PlanRefused(f"{sheet} was cut already, on {sheet.cut_at:%d %B %Y}.")
    for housing in Housing.objects.filter(blanks__placements__sheet=sheet).distinct():
        refuse_held(housing)
    was_issued = issue_of(sheet) is not None
    issued = issue_sheet(sheet=sheet, by=ask.by)
    paused = begin_spell(at_what=issued, person=ask.person, at=ask.at)
    taken = "" if was_issued else " It is taken out of the stock."
    if issued.offcut_id and not was_issued:
        taken = f" Offcut {issued.offcut_id} is taken off the rack."
    return Outcome(f"{issued} is begun.{taken}{_paused(paused)}", {"was_issued": was_issued})


@handles(What.PAUSE)
def pause(ask: Ask) -> Outcome:
    """Stop the clock; the work stays begun."""
    at_what = ask.sheet or _task(ask)
    ended = end_spell(at_what=at_what, at=ask.at)
    if ended is None:
        return Outcome(f"“{at_what}” was not running.")
    return Outcome(f"“{at_what}” is paused.", {"spell": ended.pk})


@handles(What.DONE)
def done(ask: Ask) -> Outcome:
    """Finish a task with the minutes entered, or with those of the clock."""
    task = _task(ask)
    before = _memory(task) | {"housing": task.housing.status}
    end_spell(at_what=task, at=ask.at)
    minutes = ask.minutes
    if minutes is None and (by_clock := clocked(task, ask.at)) and not by_clock.is_doubtful:
        minutes = by_clock.minutes
    finished = finish_task(task=task, minutes=minutes, person=ask.person, by=ask.by, at=ask.at)
    took = f" It took {minutes.normalize():f} minutes." if minutes is not None else ""
    return Outcome(f"“{finished}” is done.{took}", before)


@handles(What.SHEET_CUT)
def sheet_cut(ask: Ask) -> Outcome:
    """Note that a sheet is cut, with the minutes entered, or with those of the clock."""
    sheet = _sheet(ask)
    end_spell(at_what=sheet, at=ask.at)
    minutes = ask.minutes
    if minutes is None and (by_clock := clocked(sheet, ask.at)) and not by_clock.is_doubtful:
        minutes = by_clock.minutes
    made = cut(sheet=sheet, by=ask.by, person=ask.person, minutes=minutes, at=ask.at)
    kept = len(made.memory["rack"])
    rack = f" {kept} offcut{'s go' if kept != 1 else ' goes'} on the rack." if kept else ""
    return Outcome(f"{made.sheet} is cut; the boxes on it can be scored.{rack}", made.memory)


@handles(What.SPOILED)
def spoiled(ask: Ask) -> Outcome:
    """Write off the sheet at the bench; the planned sheet waits for another one."""
    sheet = _sheet(ask)
    reason = str(ask.detail.get("reason") or Reason.MISCUT)
    if reason not in Reason.values:
        raise BenchRefused("Say why the sheet was spoiled: choose one of the reasons.")
    end_spell(at_what=sheet, at=ask.at)
    spoilt, lost = spoil_sheet(
        sheet=sheet, reason=reason, note=str(ask.detail.get("note", ""))[:120], by=ask.by
    )
    if spoilt.offcut_id:
        return Outcome(
            f"The offcut for {spoilt} is written off. Ask a manager to plan the campaign again: no other "
            "offcut has its size."
        )
    currency = spoilt.plan.campaign.currency
    return Outcome(
        f"A sheet worth {lost:,.2f} {currency} is written off. {spoilt} waits for another one."
    )


@undoes(What.START)
def undo_start(entry: BenchEntry, by: Any) -> str:
    """Begun by mistake: the clock is stopped where it began, the task is as before, the sheet is put back."""
    if entry.sheet is not None:
        _drop_spell(entry, entry.sheet)
        is_back = not _remembered(entry).get("was_issued") and take_back_issue(sheet=entry.sheet, by=by)
        return f"{entry.sheet} is not begun.{' It is back in the stock.' if is_back else ''}"
    task = _of_entry(entry)
    if task.state == State.DONE:
        raise BenchRefused(f"“{task}” was done since. Undo that first.")
    _drop_spell(entry, task)
    _restore(task, _remembered(entry))
    return f"“{task}” is not begun."


@undoes(What.DONE)
def undo_done(entry: BenchEntry, by: Any) -> str:
    """Done by mistake: the task is open again and its box where it was, unless work went on from there."""
    task, before = _of_entry(entry), _remembered(entry)
    later = task.housing.tasks.filter(step__in=later_steps(task.step)).exclude(state=State.TO_DO).first()
    if later:
        raise BenchRefused(f"“{later}” was begun since. Undo that first.")
    if (status := before.get("housing")) and status != task.housing.status:
        move_back(housing=task.housing, status=status, by=by, note=f"{task.get_step_display()}: undone")
    _restore(task, before)
    return f"“{task}” is open again."


@undoes(What.SHEET_CUT)
def undo_sheet_cut(entry: BenchEntry, by: Any) -> str:
    """Cut by mistake: stock, rack, boxes and tasks are as they were."""
    if entry.sheet is None:
        raise BenchRefused("That sheet is not in the plan any more.")
    sheet = take_back_cut(sheet=entry.sheet, memory=_remembered(entry), by=by)
    return f"{sheet} is not cut."


@undoes(What.PAUSE)
def undo_pause(entry: BenchEntry, by: Any) -> str:
    """Paused by mistake: the clock goes on from now; the minutes of the pause are not counted."""
    at_what, person = entry.sheet or _of_entry(entry), entry.person
    if person is None:
        raise BenchRefused("Begin it again instead.")
    begin_spell(at_what=at_what, person=person, at=entry.received_at)
    return f"“{at_what}” goes on."


def _task(ask: Ask) -> Task:
    if ask.task is None:
        raise BenchRefused(
            "That step is not in the plan any more: the campaign was planned again since. Reload the page."
        )
    return ask.task


def _sheet(ask: Ask) -> PlannedSheet:
    if ask.sheet is None:
        raise BenchRefused(
            "That sheet is not in the plan any more: the campaign was planned again since. Reload the page."
        )
    return ask.sheet


def _of_entry(entry: BenchEntry) -> Task:
    if entry.task is None:
        raise BenchRefused("That step is not in the plan any more.")
    return Task.objects.select_for_update(of=("self",)).select_related("housing").get(pk=entry.task_id)


def _memory(task: Task) -> dict[str, Any]:
    """A task as it is before something is done with it, ready for JSON."""
    return {
        "state": task.state,
        "person": task.person_id,
        "started_at": task.started_at.isoformat() if task.started_at else None,
    }


def _remembered(entry: BenchEntry) -> Mapping[str, Any]:
    return entry.detail.get("memory", {})


def _restore(task: Task, before: Mapping[str, Any]) -> None:
    Task.objects.filter(pk=task.pk).update(
        state=before.get("state", State.TO_DO),
        person=before.get("person"),
        started_at=before.get("started_at"),
        done_at=None,
        spent_minutes=None,
    )


def _drop_spell(entry: BenchEntry, at_what: Task | PlannedSheet) -> None:
    """The spell that an entry began counts nothing; one that ended since stays."""
    spells = at_what.spells.filter(ended_at=None)
    for spell in spells:
        spell.ended_at = spell.started_at
        spell.save(update_fields=["ended_at"])


def _paused(running) -> str:
    return f" “{running.task or running.sheet}” is paused." if running else ""
