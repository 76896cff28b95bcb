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
from housing.services.moments import day_of
from housing.services.nesting import PlanRefused
from housing.services.sheets import cut, issue_sheet, locked_sheet, take_back_cut, take_back_issue
from housing.services.spells import begin_spell, clocked, end_spell, refuse_somebody_there, resume_spell
from housing.services.spoiled_sheets import spoil_sheet, take_back_spoiling
from housing.services.tasks import refuse_held
from objects.core.words import say, say_count

What = BenchEntry.What
LONGEST_NOTE = 120


def start_sheet(ask: Ask, sheet: PlannedSheet, person: Person) -> Outcome:
    """Take a sheet and begin to cut it, or go on after a pause."""
    sheet = _locked(sheet)
    if sheet.cut_at:
        raise PlanRefused(say("{sheet} was cut already, on {day}.", sheet=sheet, day=day_of(sheet.cut_at)))
    for housing in Housing.objects.filter(blanks__placements__sheet=sheet).distinct():
        refuse_held(housing)
    was_issued = issue_of(sheet) is not None
    issued = issue_sheet(sheet=sheet, by=ask.by)
    begun = begin_spell(at_what=issued, person=person, at=ask.at)
    taken = ""
    if not was_issued:
        taken = " " + (
            say("Offcut {offcut} is taken off the rack.", offcut=issued.offcut_id)
            if issued.offcut_id
            else say("It is taken out of the stock.")
        )
    return Outcome(
        say("{sheet} is begun.", sheet=issued) + taken + and_paused(begun.paused),
        begun_memory(begun.spell, begun.paused) | {"was_issued": was_issued},
    )


def undo_start_sheet(entry: BenchEntry, sheet: PlannedSheet, by: Any) -> str:
    """Begun by mistake: that counts no minutes, what was paused by it runs on, and the sheet is put back."""
    memory, sheet = remembered(entry), _locked(sheet)
    if sheet.cut_at:
        raise BenchRefused(say("{sheet} was cut since. Undo that first.", sheet=sheet))
    refuse_begun_again(sheet, memory)
    goes_on = drop_spell(memory, timezone.now())
    back = ""
    if not memory.get("was_issued") and take_back_issue(sheet=sheet, by=by):
        back = " " + (
            say("Offcut {offcut} is on the rack again.", offcut=sheet.offcut_id)
            if sheet.offcut_id
            else say("It is in stock again.")
        )
    return say("{sheet} is not begun.", sheet=sheet) + back + goes_on


@handles(What.SHEET_CUT)
def sheet_cut(ask: Ask) -> Outcome:
    """Note that a sheet is cut, with the minutes entered, or with those of the clock."""
    sheet = _asked(ask)
    ended = end_spell(at_what=sheet, at=ask.at)
    minutes, doubt = told_minutes(ask.minutes, clocked(sheet, ask.at))
    made = cut(sheet=sheet, by=ask.by, person=ask.person, minutes=minutes, at=ask.at)
    kept = len(made.memory["rack"])
    rack = (
        " " + say_count("{count} offcut goes on the rack.", "{count} offcuts go on the rack.", kept)
        if kept
        else ""
    )
    return Outcome(
        say("{sheet} is cut; the boxes on it can be scored.", sheet=made.sheet)
        + took(minutes)
        + rack
        + doubt,
        dict(made.memory) | ended_memory(ended),
        minutes=minutes,
    )


@undoes(What.SHEET_CUT)
def undo_sheet_cut(entry: BenchEntry, by: Any) -> str:
    """Cut by mistake: stock, rack, boxes and tasks are as they were."""
    memory = remembered(entry)
    sheet = take_back_cut(sheet=_of_entry(entry), memory=memory, by=by)
    runs = " " + say("Its clock runs on.") if resume_spell(pk=memory.get("spell"), now=timezone.now()) else ""
    return say("{sheet} is not cut.", sheet=sheet) + runs


@handles(What.SPOILED)
def spoiled(ask: Ask) -> Outcome:
    """Write off the sheet at the bench; the planned sheet waits for another one."""
    reason = str(ask.detail.get("reason") or Reason.MISCUT)
    if reason not in Reason.values:
        raise BenchRefused(say("Say why the sheet was spoiled: choose one of the reasons."))
    sheet = _asked(ask)
    note = str(ask.detail.get("note", ""))[:LONGEST_NOTE]
    spoilt = spoil_sheet(sheet=sheet, reason=reason, note=note, by=ask.by)
    memory = dict(spoilt.memory) | ended_memory(end_spell(at_what=sheet, at=ask.at))
    if spoilt.sheet.offcut_id:
        return Outcome(
            say(
                "The offcut for {sheet} is written off. Ask a manager to plan the campaign again: no "
                "other offcut has its size.",
                sheet=spoilt.sheet,
            ),
            memory,
        )
    worth = f"{spoilt.lost:,.2f} {spoilt.sheet.plan.campaign.currency}"
    return Outcome(
        say(
            "A sheet worth {worth} is written off. {sheet} waits for another one.",
            worth=worth,
            sheet=spoilt.sheet,
        ),
        memory,
    )


@undoes(What.SPOILED)
def undo_spoiled(entry: BenchEntry, by: Any) -> str:
    """Written off by mistake: the sheet is at the bench again, or in stock if it was not taken yet."""
    memory = remembered(entry)
    sheet = take_back_spoiling(sheet=_of_entry(entry), memory=memory, by=by)
    resume_spell(pk=memory.get("spell"), now=timezone.now())
    if memory.get("was_issued"):
        return say("The sheet is not spoiled; it is at the bench again.")
    if sheet.offcut_id:
        return say("The sheet is not spoiled; it is on the rack again.")
    return say("The sheet is not spoiled; it is in stock again.")


def _asked(ask: Ask) -> PlannedSheet:
    if ask.sheet is None:
        raise BenchRefused(
            say(
                "That sheet is not in the plan any more: the campaign was planned again since. Reload "
                "the page."
            )
        )
    sheet = _locked(ask.sheet)
    if ask.person is not None:
        refuse_somebody_there(at_what=sheet, person=ask.person)
    return sheet


def _of_entry(entry: BenchEntry) -> PlannedSheet:
    if entry.sheet is None:
        raise BenchRefused(say("That sheet is not in the plan any more."))
    return entry.sheet


def _locked(sheet: PlannedSheet) -> PlannedSheet:
    """The sheet before the clock, so that two who write at once never wait for each other."""
    try:
        return locked_sheet(sheet)
    except ObjectDoesNotExist as gone:
        raise BenchRefused(say("That sheet is not in the plan any more. Reload the page.")) from gone
