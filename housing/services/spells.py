"""The clock at the bench: who works at what, from when to when."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal

from django.db.models import F
from django.utils import timezone

from housing.models import Person, PlannedSheet, Task, WorkSpell
from objects.core.refusals import Refusal
from objects.core.words import say

# A spell that runs longer was forgotten, as over night; assumed: nobody cuts so long without a break.
LONGEST_BELIEVED = timedelta(hours=4)
# An entry that is undone later than that leaves the clock stopped; assumed: a slip is noticed at once.
RESUMED_WITHIN = timedelta(minutes=10)
MINUTE = timedelta(minutes=1)

type Bench = Task | PlannedSheet


class SpellRefused(Refusal):
    """Work cannot begin; the message is a sentence for the reader."""


@dataclass(frozen=True)
class Clocked:
    """Minutes by the clock. is_doubtful: a spell ran so long that somebody should look at the sum."""

    minutes: Decimal
    is_doubtful: bool


@dataclass(frozen=True)
class Begun:
    """What beginning did. spell: the one that began, None where the clock ran there already. paused: what
    else of the person's was running and is paused by it."""

    spell: WorkSpell | None = None
    paused: WorkSpell | None = None


def begin_spell(*, at_what: Bench, person: Person, at: datetime) -> Begun:
    """Start the clock of a person at a task or a sheet; what else of theirs is running pauses.

    Raises SpellRefused when somebody else's clock runs there.
    """
    # One person at two tablets: the second waits here for the first.
    Person.objects.select_for_update(of=("self",)).get(pk=person.pk)
    refuse_somebody_there(at_what=at_what, person=person)
    if open_spell(at_what):
        return Begun()
    running = _running(person)
    if running:
        _end(running, at)
    return Begun(WorkSpell.objects.create(**_of(at_what), person=person, started_at=at), running)


def end_spell(*, at_what: Bench, at: datetime) -> WorkSpell | None:
    """Stop the clock at a task or a sheet. Returns the spell that ended, None where none was running."""
    if running := open_spell(at_what):
        _end(running, at)
    return running


def resume_spell(*, pk: int | None, now: datetime) -> WorkSpell | None:
    """Let a spell that ended by mistake run on, as if it had not.

    Returns None, with nothing changed, where that was too long ago, or where the person or somebody else has
    begun something since that this would disturb.
    """
    spell = WorkSpell.objects.select_for_update(of=("self",)).filter(pk=pk).first()
    if spell is None or spell.ended_at is None or now - spell.ended_at > RESUMED_WITHIN:
        return None
    at_what = spell.task or spell.sheet
    if _running(spell.person) or at_what is None or open_spell(at_what) or _is_done(at_what):
        return None
    spell.ended_at = None
    spell.save(update_fields=["ended_at"])
    return spell


def void_spell(*, pk: int | None) -> None:
    """A spell that was begun by mistake: it stays on record and counts no minutes."""
    WorkSpell.objects.filter(pk=pk).update(ended_at=F("started_at"))


def open_spell(at_what: Bench) -> WorkSpell | None:
    """The spell that runs at a task or a sheet."""
    spells = WorkSpell.objects.select_for_update(of=("self",)).select_related("person")
    return spells.filter(**_of(at_what), ended_at=None).first()


def refuse_somebody_there(*, at_what: Bench, person: Person) -> None:
    """Raises SpellRefused where somebody else's clock runs at a task or a sheet."""
    there = open_spell(at_what)
    if there is not None and there.person_id != person.pk:
        raise SpellRefused(
            say(
                "{person} is at “{work}” since {time}. Choose something else, or ask them to pause.",
                person=there.person,
                work=at_what,
                time=f"{timezone.localtime(there.started_at):%H:%M}",
            )
        )


def clocked(at_what: Bench, now: datetime) -> Clocked | None:
    """Minutes of all spells at a task or a sheet, the running one until now; None where there are none.

    They are a proposal: whoever did the work may say otherwise.
    """
    spells = list(WorkSpell.objects.filter(**_of(at_what)))
    if not spells:
        return None
    spans = [max((spell.ended_at or now) - spell.started_at, timedelta()) for spell in spells]
    minutes = Decimal(sum(spans, timedelta()) / MINUTE)
    return Clocked(round(minutes, 1), any(span > LONGEST_BELIEVED for span in spans))


def _running(person: Person) -> WorkSpell | None:
    spells = WorkSpell.objects.select_for_update(of=("self",)).select_related("task", "sheet")
    return spells.filter(person=person, ended_at=None).first()


def _is_done(at_what: Bench) -> bool:
    if isinstance(at_what, PlannedSheet):
        return at_what.cut_at is not None
    return at_what.state == Task.State.DONE


def _end(spell: WorkSpell, at: datetime) -> None:
    spell.ended_at = max(at, spell.started_at)  # the clocks of two devices may differ
    spell.save(update_fields=["ended_at"])


def _of(at_what: Bench) -> dict[str, Bench]:
    return {"sheet" if isinstance(at_what, PlannedSheet) else "task": at_what}
