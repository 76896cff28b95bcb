"""What entries of the bench do with sheets: begun, cut, spoiled, and each of these undone."""

from typing import Any

from django.core.exceptions import ObjectDoesNotExist
from django.utils import timezone

from boards.models import Reason
from housing.models import BenchEntry, Housing, Person, PlannedSheet
from housing.queries.sheets import issue_of
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
from housing.services.nesting import PlanRefused
from housing.services.sheets import cut, issue_sheet, locked_sheet, take_back_cut, take_back_issue
from housing.services.spells import begin_spell, clocked, end_spell, refuse_somebody_there, resume_spell
from housing.services.spoiled_sheets import spoil_sheet, take_back_spoiling
from housing.services.tasks import refuse_held

What = BenchEntry.What
LONGEST_NOTE = 120


def start_sheet(ask: Ask, sheet: PlannedSheet, person: Person) -> Outcome:
    """Take a sheet and begin to cut it, or go on after a pause."""
    sheet = _locked(sheet)
    if sheet.cut_at:
        raise PlanRefused(f"{sheet} was cut already, on {sheet.cut_at:%d %B %Y}.")
    for housing in Housing.objects.filter(blanks__placements__sheet=sheet).distinct():
        refuse_held(housing)
    was_issued = issue_of(sheet) is not None
    issued = issue_sheet(sheet=sheet, by=ask.by)
    begun = begin_spell(at_what=issued, person=person, at=ask.at)
    taken = ""
    if not was_issued:
        taken = (
            f" Offcut {issued.offcut_id} is taken off the rack."
            if issued.offcut_id
            else " It is taken out of the stock."
        )
    return Outcome(
        f"{issued} is begun.{taken}{and_paused(begun.paused)}",
        begun_memory(begun.spell, begun.paused) | {"was_issued": was_issued},
    )


def undo_start_sheet(entry: BenchEntry, sheet: PlannedSheet, by: Any) -> str:
    """Begun by mistake: that counts no minutes, what was paused by it runs on, and the sheet is put back."""
    memory, sheet = remembered(entry), _locked(sheet)
    if sheet.cut_at:
        raise BenchRefused(f"{sheet} was cut since. Undo that first.")
    refuse_begun_again(sheet, memory)
    goes_on = drop_spell(memory, timezone.now())
    back = ""
    if not memory.get("was_issued") and take_back_issue(sheet=sheet, by=by):
        back = (
            f" Offcut {sheet.offcut_id} is on the rack again."
            if sheet.offcut_id
            else " It is in stock again."
        )
    return f"{sheet} is not begun.{back}{goes_on}"


@handles(What.SHEET_CUT)
def sheet_cut(ask: Ask) -> Outcome:
    """Note that a sheet is cut, with the minutes entered, or with those of the clock."""
    sheet = _asked(ask)
    ended = end_spell(at_what=sheet, at=ask.at)
    minutes, doubt = told_minutes(ask.minutes, clocked(sheet, ask.at))
    made = cut(sheet=sheet, by=ask.by, person=ask.person, minutes=minutes, at=ask.at)
    kept = len(made.memory["rack"])
    rack = f" {kept} offcut{'s go' if kept != 1 else ' goes'} on the rack." if kept else ""
    return Outcome(
        f"{made.sheet} is cut; the boxes on it can be scored.{took(minutes)}{rack}{doubt}",
        dict(made.memory) | ended_memory(ended),
        minutes=minutes,
    )


@undoes(What.SHEET_CUT)
def undo_sheet_cut(entry: BenchEntry, by: Any) -> str:
    """Cut by mistake: stock, rack, boxes and tasks are as they were."""
    memory = remembered(entry)
    sheet = take_back_cut(sheet=_of_entry(entry), memory=memory, by=by)
    runs = " Its clock runs on." if resume_spell(pk=memory.get("spell"), now=timezone.now()) else ""
    return f"{sheet} is not cut.{runs}"


@handles(What.SPOILED)
def spoiled(ask: Ask) -> Outcome:
    """Write off the sheet at the bench; the planned sheet waits for another one."""
    reason = str(ask.detail.get("reason") or Reason.MISCUT)
    if reason not in Reason.values:
        raise BenchRefused("Say why the sheet was spoiled: choose one of the reasons.")
    sheet = _asked(ask)
    note = str(ask.detail.get("note", ""))[:LONGEST_NOTE]
    spoilt = spoil_sheet(sheet=sheet, reason=reason, note=note, by=ask.by)
    memory = dict(spoilt.memory) | ended_memory(end_spell(at_what=sheet, at=ask.at))
    if spoilt.sheet.offcut_id:
        return Outcome(
            f"The offcut for {spoilt.sheet} is written off. Ask a manager to plan the campaign again: no "
            "other offcut has its size.",
            memory,
        )
    worth = f"{spoilt.lost:,.2f} {spoilt.sheet.plan.campaign.currency}"
    return Outcome(f"A sheet worth {worth} is written off. {spoilt.sheet} waits for another one.", memory)


@undoes(What.SPOILED)
def undo_spoiled(entry: BenchEntry, by: Any) -> str:
    """Written off by mistake: the sheet is at the bench again, or in stock if it was not taken yet."""
    memory = remembered(entry)
    sheet = take_back_spoiling(sheet=_of_entry(entry), memory=memory, by=by)
    resume_spell(pk=memory.get("spell"), now=timezone.now())
    where = "at the bench" if memory.get("was_issued") else "on the rack" if sheet.offcut_id else "in stock"
    return f"The sheet is not spoiled; it is {where} again."


def _asked(ask: Ask) -> PlannedSheet:
    if ask.sheet is None:
        raise BenchRefused(
            "That sheet is not in the plan any more: the campaign was planned again since. Reload the page."
        )
    sheet = _locked(ask.sheet)
    if ask.person is not None:
        refuse_somebody_there(at_what=sheet, person=ask.person)
    return sheet


def _of_entry(entry: BenchEntry) -> PlannedSheet:
    if entry.sheet is None:
        raise BenchRefused("That sheet is not in the plan any more.")
    return entry.sheet


def _locked(sheet: PlannedSheet) -> PlannedSheet:
    """The sheet before the clock, so that two who write at once never wait for each other."""
    try:
        return locked_sheet(sheet)
    except ObjectDoesNotExist as gone:
        raise BenchRefused("That sheet is not in the plan any more. Reload the page.") from gone
