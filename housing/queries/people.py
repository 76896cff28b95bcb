"""People with the work they have in hand and when they are away next."""

from datetime import date

from django.db.models import Count, OuterRef, QuerySet, Subquery
from django.db.models.functions import Coalesce

from housing.models import Absence, Housing, Person, Task


def people_with_counts(today: date) -> QuerySet[Person]:
    """People with `open_tasks`, their tasks that are not done; who works at present comes first.

    Of the next absence, or the one that today lies in, `away_from` and `away_to`.
    """
    away = Absence.objects.filter(person=OuterRef("pk"), last_day__gte=today).order_by("first_day", "pk")
    tasks = (
        Task.objects.filter(person=OuterRef("pk"), state__in=[Task.State.TO_DO, Task.State.STARTED])
        .exclude(housing__status=Housing.Status.DROPPED)
        .order_by()
        .values("person")
        .annotate(number=Count("pk"))
    )
    return (
        Person.objects.select_related("grade")
        .annotate(
            open_tasks=Coalesce(Subquery(tasks.values("number")), 0),
            away_from=Subquery(away.values("first_day")[:1]),
            away_to=Subquery(away.values("last_day")[:1]),
        )
        .order_by("-is_active", "name")
    )
