"""Tasks as the work list shows them, and which of them can be begun now."""

from collections.abc import Collection

from django.db.models import Exists, OuterRef, Prefetch, Q, QuerySet

from housing.core.steps import STEPS, later_steps
from housing.models import Hold, HousedObject, Housing, Person, Task
from housing.queries.bench import waits_of
from objects.models import Location
from objects.queries.catalogue import inside

# For each step all that come before it in any box.
BEFORE = {step: [one for one in STEPS if step in later_steps(one)] for step in STEPS}


def tasks_to_show() -> QuerySet[Task]:
    """All tasks of housings in hand, with the objects they are for and what they wait for."""
    return (
        Task.objects.exclude(housing__status=Housing.Status.DROPPED)
        .select_related("person", "sheet", "housing__campaign")
        .prefetch_related(
            "housing__contents__object",
            Prefetch("housing__tasks", Task.objects.select_related("person").order_by("sequence")),
            Prefetch("housing__holds", Hold.objects.filter(answered_at=None), "open_holds"),
        )
    )


def tasks_for(person: Person | None) -> QuerySet[Task]:
    """The tasks of one person; none for nobody."""
    return tasks_to_show().filter(person=person) if person else tasks_to_show().none()


def waiting_for(task: Task) -> tuple[str, ...]:
    """What a task of tasks_to_show() waits for, in words: open questions first, then steps before it."""
    if task.state == Task.State.DONE:
        return ()
    holds = (f"{hold.get_reason_display().lower()}: {hold.question}" for hold in task.housing.open_holds)
    return (*holds, *waits_of(task, {one.step: one for one in task.housing.tasks.all()}))


def waits(is_so: bool = True) -> Q:
    """The condition that a task waits for a step before it, or for the answer to a question; or does not.

    A step waits for the last of those before it that its box has, as core.steps.waits_for() tells.
    """
    conditions = Q(Exists(Hold.objects.filter(housing=OuterRef("housing"), answered_at=None)))
    for step, before in BEFORE.items():
        if before:
            conditions |= Q(Exists(_open_before(step, before)), step=step)
    return conditions if is_so else ~conditions


def _open_before(step: str, before: Collection[str]) -> QuerySet[Task]:
    """Open tasks of the box before a step, none of its tasks lying between."""
    nearest = Q(pk__in=[])
    for one in before:
        between = [other for other in before if other in later_steps(one)]
        there = Task.objects.filter(housing=OuterRef("housing"), step__in=between)
        nearest |= Q(~Exists(there), step=one) if between else Q(step=one)
    of_box = Task.objects.filter(nearest, housing=OuterRef("housing"))
    return of_box.exclude(state=Task.State.DONE)


def at_location(tasks: QuerySet[Task], place: Location) -> QuerySet[Task]:
    """Of some tasks those for objects that are at a place or below it."""
    there = HousedObject.objects.filter(inside(place, "object__location__path"), is_live=True)
    return tasks.filter(housing__in=there.values("housing"))


def person_of(user) -> Person | None:
    """The person a login belongs to, if it was tied to one."""
    return Person.objects.filter(user=user).first()
