"""Tasks as the work list shows them."""

from django.db.models import QuerySet

from housing.models import Housing, Person, Task


def tasks_to_show() -> QuerySet[Task]:
    """All tasks of housings in hand, with the objects they are for."""
    return (
        Task.objects.exclude(housing__status=Housing.Status.DROPPED)
        .select_related("person", "housing__campaign")
        .prefetch_related("housing__contents__object")
    )


def tasks_for(person: Person | None) -> QuerySet[Task]:
    """The tasks of one person; none for nobody."""
    return tasks_to_show().filter(person=person) if person else tasks_to_show().none()


def person_of(user) -> Person | None:
    """The person a login belongs to, if it was tied to one."""
    return Person.objects.filter(user=user).first()
