"""People with the work they have in hand."""

from django.db.models import Count, Q, QuerySet

from housing.models import Person, Task


def people_with_counts() -> QuerySet[Person]:
    """People with `open_tasks`, their tasks that are not done; who works at present comes first."""
    return (
        Person.objects.select_related("grade")
        .annotate(
            open_tasks=Count(
                "tasks",
                filter=Q(tasks__state__in=[Task.State.TO_DO, Task.State.STARTED])
                & ~Q(tasks__housing__status="dropped"),
            )
        )
        .order_by("-is_active", "name")
    )
