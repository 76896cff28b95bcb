"""Days away: of one person, and of all in the coming weeks."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from django.db.models import QuerySet

from housing.core.day_words import WORKING_DAYS, days_in_words, working_days
from housing.core.weeks import DAYS_A_WEEK, monday_of
from housing.models import Absence, Campaign, Person, Task
from objects.core.words import say


@dataclass(frozen=True)
class Away:
    """An absence, and how many days from Monday to Friday it takes out of one week."""

    absence: Absence
    days: int

    @property
    def span(self) -> str:
        return span_of(self.absence)

    @property
    def share(self) -> str:
        return (
            say("the whole week")
            if self.days == WORKING_DAYS
            else say("{days} of {working_days} days", days=self.days, working_days=WORKING_DAYS)
        )


@dataclass(frozen=True)
class AwayWeek:
    """A week from its Monday with who is away in it, each absence by itself."""

    monday: date
    away: list[Away]

    @property
    def words(self) -> str:
        return days_in_words(self.monday, self.monday + timedelta(days=WORKING_DAYS - 1))


def span_of(absence: Absence) -> str:
    """The days of an absence in words."""
    return days_in_words(absence.first_day, absence.last_day)


def absences_ahead(today: date) -> QuerySet[Absence]:
    """Absences that are not over, of people who work at present, the next first."""
    ahead = Absence.objects.filter(last_day__gte=today, person__is_active=True)
    return ahead.select_related("person").order_by("first_day", "last_day", "person__name")


def weeks_away(absences: Iterable[Absence], today: date, weeks: int) -> list[AwayWeek]:
    """Who is away in each of some weeks, the week of today first; weekends count for nothing."""
    absences, found = list(absences), []
    for number in range(weeks):
        monday = monday_of(today) + timedelta(days=DAYS_A_WEEK * number)
        friday = monday + timedelta(days=WORKING_DAYS - 1)
        away = [
            Away(absence, working_days(max(absence.first_day, monday), min(absence.last_day, friday)))
            for absence in absences
        ]
        found.append(AwayWeek(monday, [one for one in away if one.days]))
    return found


def campaigns_to_give_out(person: Person | None = None) -> QuerySet[Campaign]:
    """Campaigns under way in which work can be given out again: all, or those one person takes part in."""
    campaigns = Campaign.objects.filter(is_closed=False, housings__tasks__state=Task.State.TO_DO)
    return (campaigns.filter(people=person) if person else campaigns).distinct()
