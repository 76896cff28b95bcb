"""Days and times in the words of the language spoken."""

from datetime import datetime

from django.utils import timezone
from django.utils.formats import date_format

from objects.core.words import say


def day_of(at: datetime) -> str:
    """A day, as "05 May 2026"."""
    return date_format(at, "d F Y")


def moment_of(at: datetime) -> str:
    """When something was, by the clock of this place, as "05 May at 14:30"."""
    here = timezone.localtime(at)
    return say("{day} at {time}", day=date_format(here, "d M"), time=f"{here:%H:%M}")


def on_moment(at: datetime | None) -> str:
    """The same to go on within a sentence, as " on 05 May at 14:30"; nothing where nobody noted it."""
    return " " + say("on {moment}", moment=moment_of(at)) if at else ""
