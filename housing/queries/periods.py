"""A period of whole days, as records that carry a time are asked for it."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from django.db.models import Q
from django.utils import timezone
from django.utils.formats import date_format

from objects.core.words import say


@dataclass(frozen=True)
class Period:
    """From a first to a last day, both in it, by the clock of the installation's time zone."""

    first: date
    last: date

    @property
    def start(self) -> datetime:
        """The first moment in it."""
        return start_of(self.first)

    @property
    def end(self) -> datetime:
        """The first moment after it."""
        return start_of(self.last + timedelta(days=1))

    def of(self, field: str) -> Q:
        """That a time lies in it."""
        return Q(**{f"{field}__gte": self.start, f"{field}__lt": self.end})

    def __str__(self) -> str:
        first, last = (date_format(day, "j F Y") for day in (self.first, self.last))
        return first if first == last else say("{first} to {last}", first=first, last=last)


def month_of(day: date) -> Period:
    """The month that a day lies in."""
    first = day.replace(day=1)
    return Period(first, (first + timedelta(days=31)).replace(day=1) - timedelta(days=1))


def start_of(day: date) -> datetime:
    """The first moment of a day, by the clock of the installation's time zone."""
    return timezone.make_aware(datetime.combine(day, datetime.min.time()))
