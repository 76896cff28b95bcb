"""What was done since a day: boxes, sheets, steps of work, and by whom."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.db.models import Count, Exists, OuterRef, QuerySet, Sum

from housing.models import Campaign, CampaignObject, Housing, HousingEvent, PlannedSheet, Task
from housing.queries.periods import start_of
from objects.core.words import say
from objects.models import CatalogueObject

State = Task.State


@dataclass(frozen=True)
class Done:
    """Since a day: sheets cut, objects whose boxes were made and housed, hours, and hours by person.

    sheets: (campaign's key, its name, sheets cut of its plan) for each. by_person: (key, name, steps, hours).
    """

    since: date
    sheets: Sequence[tuple[int, str, int]]
    made: int
    housed: int
    tasks: int
    hours: Decimal
    by_person: Sequence[tuple[int | None, str, int, Decimal]]

    @property
    def is_any(self) -> bool:
        return bool(self.sheets or self.made or self.housed or self.tasks)


def done_since(day: date, campaign: Campaign | None = None) -> Done:
    """What was done since a day, that day among it; of one campaign only where given."""
    start = start_of(day)
    tasks = Task.objects.filter(state=State.DONE, done_at__gte=start).exclude(
        housing__status=Housing.Status.DROPPED
    )
    sheets = PlannedSheet.objects.filter(cut_at__gte=start)
    made, housed = (
        objects_that_reached(status, day) for status in (Housing.Status.MADE, Housing.Status.HOUSED)
    )
    if campaign:
        tasks, sheets = tasks.filter(housing__campaign=campaign), sheets.filter(plan__campaign=campaign)
        # Asked of each object: joined, every object of the campaign would be tried with every box of these.
        own = Exists(CampaignObject.objects.filter(campaign=campaign, object=OuterRef("pk")))
        made, housed = made.filter(own), housed.filter(own)
    people = [
        (person, name or say("Nobody named"), number, (spent or Decimal()) / 60)
        for person, name, number, spent in tasks.order_by("person__name")
        .values_list("person", "person__name")
        .annotate(Count("pk"), Sum("spent_minutes"))
    ]
    of_plans = sheets.order_by("plan__campaign__name").values_list("plan__campaign", "plan__campaign__name")
    return Done(
        day,
        list(of_plans.annotate(Count("pk"))),
        made.count(),
        housed.count(),
        sum(number for _, _, number, _ in people),
        sum((hours for *_, hours in people), Decimal()),
        people,
    )


def objects_that_reached(status: str, day: date | None = None) -> QuerySet[CatalogueObject]:
    """Objects whose box in hand got to a status since a day, or ever, and was not taken back from there."""
    events = HousingEvent.objects.filter(status=status)
    reached = (events.filter(at__gte=start_of(day)) if day else events).values("housing")
    further = [Housing.Status.MADE, Housing.Status.HOUSED]
    still = further[further.index(Housing.Status(status)) :]
    return CatalogueObject.objects.filter(
        housing_ties__is_live=True,
        housing_ties__housing__in=reached,
        housing_ties__housing__status__in=still,
    )
