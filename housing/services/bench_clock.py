"""What entries of the bench do with the clock, in words: minutes taken, work paused and gone on with."""

from collections.abc import Mapping
from datetime import datetime
from decimal import Decimal
from typing import Any

from django.db.models import F

from housing.models import BenchEntry, PlannedSheet, Task, WorkSpell
from housing.services.bench_entries import BenchRefused
from housing.services.moments import moment_of
from housing.services.spells import LONGEST_BELIEVED, Clocked, resume_spell, void_spell
from objects.core.words import say

HOURS_BELIEVED = int(LONGEST_BELIEVED.total_seconds() // 3600)


def told_minutes(entered: Decimal | None, by_clock: Clocked | None) -> tuple[Decimal | None, str]:
    """Minutes as entered, else by the clock where it can be believed; and what to say where it cannot."""
    if entered is not None or by_clock is None:
        return entered, ""
    if by_clock.is_doubtful:
        return None, (
            " "
            + say(
                "The clock ran for more than {hours_believed} hours on end, so no minutes are noted. If "
                "you know how long it took, undo this and enter the minutes.",
                hours_believed=HOURS_BELIEVED,
            )
        )
    return by_clock.minutes, ""


def took(minutes: Decimal | None) -> str:
    """How long something took, to go on a sentence."""
    if minutes is None:
        return ""
    if minutes == 1:
        return " " + say("It took 1 minute.")
    return " " + say("It took {minutes} minutes.", minutes=f"{minutes.normalize():f}")


def and_paused(spell: WorkSpell | None) -> str:
    """What was paused, to go on a sentence; a clock that ran too long is asked about."""
    if spell is None:
        return ""
    words = " " + say("“{work}” is paused.", work=spell.task or spell.sheet)
    if spell.ended_at and spell.ended_at - spell.started_at > LONGEST_BELIEVED:
        words += " " + say(
            "Its clock ran since {moment}: enter the minutes yourself when it is done.",
            moment=moment_of(spell.started_at),
        )
    return words


def begun_memory(spell: WorkSpell | None, paused: WorkSpell | None) -> dict[str, Any]:
    """What undoing has to know of clocks that began and stopped, ready for JSON."""
    return {"spell": spell.pk if spell else None, "paused": paused.pk if paused else None}


def ended_memory(spell: WorkSpell | None) -> dict[str, Any]:
    """What undoing has to know of a clock that stopped, ready for JSON."""
    return {"spell": spell.pk if spell else None}


def remembered(entry: BenchEntry) -> Mapping[str, Any]:
    """What was stored with an entry so that it can be undone."""
    return entry.detail.get("memory", {})


def refuse_begun_again(at_what: Task | PlannedSheet, memory: Mapping[str, Any]) -> None:
    """Raises BenchRefused where the clock was begun again after the entry that is to be undone."""
    later = at_what.spells.exclude(ended_at=F("started_at"))  # those that were undone have no length
    if (spell := memory.get("spell")) and later.filter(pk__gt=spell).exists():
        raise BenchRefused(say("“{at_what}” was begun again since. Undo that first.", at_what=at_what))


def drop_spell(memory: Mapping[str, Any], now: datetime) -> str:
    """The clock that began by mistake counts nothing, and what it paused runs on; in words for a sentence."""
    if not memory.get("spell"):
        return ""
    void_spell(pk=memory["spell"])
    goes_on = resume_spell(pk=memory.get("paused"), now=now)
    return " " + say("“{work}” goes on.", work=goes_on.task or goes_on.sheet) if goes_on else ""
