"""Entries made at the bench: each is kept once, however often it is sent, and the last one can be undone.

What an entry does is said by the function that handles its kind; it registers itself with `handles()`. What
undoes it registers with `undoes()`. Both run in the transaction that keeps the entry, so that an entry and
what it did are stored together or not at all.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from decimal import Decimal
from typing import Any
from uuid import UUID, uuid4

from django.core.files.base import ContentFile
from django.db import IntegrityError, transaction
from django.utils import timezone

from housing.models import BenchEntry, Housing, Person, PlannedSheet, Task
from objects.core.measuring import believable_time
from objects.core.refusals import Refusal
from objects.core.words import say

LONGEST_MESSAGE = 400


class BenchRefused(Refusal):
    """What was entered at the bench cannot be done; the message is a sentence for whoever stands there."""


@dataclass(frozen=True)
class Ask:
    """What somebody wants done at the bench.

    person: who works; by: whose login it is. at: when, by the device's clock. detail: what else was entered,
    by the kind of entry, as plain JSON values. photo: a picture sent along.
    """

    what: str
    by: Any
    at: datetime
    person: Person | None = None
    task: Task | None = None
    sheet: PlannedSheet | None = None
    housing: Housing | None = None
    minutes: Decimal | None = None
    detail: Mapping[str, Any] = field(default_factory=dict)
    photo: ContentFile | None = None


@dataclass(frozen=True)
class Outcome:
    """What came of it: a sentence for whoever stands there, and what undoing has to know, as JSON values.

    minutes: what was noted, where that was told by the clock.
    """

    message: str
    memory: Mapping[str, Any] = field(default_factory=dict)
    minutes: Decimal | None = None


@dataclass(frozen=True)
class Kept:
    """An entry as it is kept. is_new: it was not there before."""

    entry: BenchEntry
    is_new: bool


type Handler = Callable[[Ask], Outcome]
type Undoer = Callable[[BenchEntry, Any], str]
_HANDLERS: dict[str, Handler] = {}
_UNDOERS: dict[str, Undoer] = {}


def handles(*kinds: str) -> Callable[[Handler], Handler]:
    """Lets a function do what entries of some kinds ask for; it raises a Refusal where that cannot be."""

    def keep(handler: Handler) -> Handler:
        _HANDLERS.update(dict.fromkeys(kinds, handler))
        return handler

    return keep


def undoes(*kinds: str) -> Callable[[Undoer], Undoer]:
    """Lets a function take back entries of some kinds; it gets the entry and whose login it is."""

    def keep(undoer: Undoer) -> Undoer:
        _UNDOERS.update(dict.fromkeys(kinds, undoer))
        return undoer

    return keep


def record(*, entry_id: UUID, ask: Ask) -> Kept:
    """Do what was asked for at the bench and keep it; an entry sent again is answered as the first time.

    Raises a Refusal, with nothing stored, when it cannot be done.
    """
    if known := BenchEntry.objects.filter(entry_id=entry_id).first():
        return Kept(known, is_new=False)
    if ask.what not in _HANDLERS:
        raise BenchRefused(say("This kind of entry is not known here. Reload the page and try again."))
    ask = replace(ask, at=believable_time(ask.at, timezone.now()))
    try:
        with transaction.atomic():
            # Kept first, so that the same entry sent twice at once waits here for the other one.
            entry = BenchEntry.objects.create(
                entry_id=entry_id,
                what=ask.what,
                housing=ask.housing or (ask.task.housing if ask.task else None),
                task=ask.task,
                sheet=ask.sheet,
                person=ask.person,
                minutes=ask.minutes,
                at=ask.at,
                by=ask.by,
            )
            outcome = _HANDLERS[ask.what](ask)
            entry.detail = {"asked": dict(ask.detail), "memory": dict(outcome.memory)}
            entry.message = outcome.message[:LONGEST_MESSAGE]
            entry.minutes = ask.minutes if outcome.minutes is None else outcome.minutes
            entry.save(update_fields=["detail", "message", "minutes"])
    except IntegrityError:
        if known := BenchEntry.objects.filter(entry_id=entry_id).first():
            return Kept(known, is_new=False)
        raise
    return Kept(entry, is_new=True)


def last_entry(*, by: Any) -> BenchEntry | None:
    """The last thing that a login did at the bench and that can be undone, if there is one."""
    mine = BenchEntry.objects.filter(by=by, undone_by=None).exclude(what=BenchEntry.What.UNDO)
    return mine.order_by("-pk").first()


@transaction.atomic
def undo(*, entry: BenchEntry, by: Any, entry_id: UUID | None = None) -> BenchEntry:
    """Take back an entry. What it did is undone by a second entry; nothing is deleted.

    Raises BenchRefused when it was undone before, or when work went on from there.
    """
    held = BenchEntry.objects.select_for_update(of=("self",)).get(pk=entry.pk)
    if again := BenchEntry.objects.filter(undoes=held).first():
        return again
    if held.what not in _UNDOERS:
        raise BenchRefused(
            say("“{what}” cannot be undone. Enter what is right instead.", what=held.get_what_display())
        )
    message = _UNDOERS[held.what](held, by)
    return BenchEntry.objects.create(
        entry_id=entry_id or uuid4(),
        what=BenchEntry.What.UNDO,
        undoes=held,
        housing=held.housing,
        task=held.task,
        sheet=held.sheet,
        person=held.person,
        at=timezone.now(),
        by=by,
        message=message[:LONGEST_MESSAGE],
    )
