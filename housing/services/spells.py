"""The clock at the bench: who works at what, from when to when."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal

from django.utils import timezone

from housing.models import Person, PlannedSheet, Task, WorkSpell
from objects.core.refusals import Refusal

# A spell that runs longer was forgotten, as over night; assumed: nobody cuts so long without a break.
LONGEST_BELIEVED = timedelta(hours=4)
MINUTE = timedelta(minutes=1)

type Bench = Task | PlannedSheet


class SpellRefused(Refusal):
    """Work cannot begin; the message is a sentence for the reader."""


@dataclass(frozen=True)
class Clocked:
    """Minutes by the clock. is_doubtful: a spell ran so long that somebody should look at the sum."""

    minutes: Decimal
    is_doubtful: bool


def begin_spell(*, at_what: Bench, person: Person, at: datetime) -> WorkSpell | None:
    """Start the clock of a person at a task or a sheet. Returns what of hers was running, now paused, if any.

    Raises SpellRefused when somebody else's clock runs there.
    """
    there = open_spell(at_what)
    if there is not None:
        if there.person_id != person.pk:
            since = timezone.localtime(there.started_at)
            raise SpellRefused(
                f"{there.person} is at “{at_what}” since {since:%H:%M}. Choose something else, or ask them "
                "to pause."
            )
        return None
    running = WorkSpell.objects.select_for_update(of=("self",)).filter(person=person, ended_at=None).first()
    if running:
        _end(running, at)
    WorkSpell.objects.create(**_of(at_what), person=person, started_at=at)
    return running


def end_spell(*, at_what: Bench, at: datetime) -> WorkSpell | None:
    """Stop the clock at a task or a sheet. Returns the spell that ended, None where none was running."""
    if running := open_spell(at_what):
        _end(running, at)
    return running


def open_spell(at_what: Bench) -> WorkSpell | None:
    """The spell that runs at a task or a sheet."""
    spells = WorkSpell.objects.select_for_update(of=("self",)).select_related("person")
    return spells.filter(**_of(at_what), ended_at=None).first()


def clocked(at_what: Bench, now: datetime) -> Clocked | None:
    """Minutes of all spells at a task or a sheet, one that runs counted until now; None without spells."""
    spells = list(WorkSpell.objects.filter(**_of(at_what)))
    if not spells:
        return None
    spans = [max((spell.ended_at or now) - spell.started_at, timedelta()) for spell in spells]
    minutes = Decimal(sum(spans, timedelta()) / MINUTE)
    return Clocked(round(minutes, 1), any(span > LONGEST_BELIEVED for span in spans))


def _end(spell: WorkSpell, at: datetime) -> None:
    spell.ended_at = max(at, spell.started_at)  # the clocks of two devices may differ
    spell.save(update_fields=["ended_at"])


def _of(at_what: Bench) -> dict[str, Bench]:
    return {"sheet" if isinstance(at_what, PlannedSheet) else "task": at_what}
