"""Tasks as the work list shows them, and which of them can be begun now."""

from itertools import combinations

from django.db.models import Exists, OuterRef, Prefetch, Q, QuerySet, Value
from django.db.models.lookups import Exact

from housing.core.steps import STEPS, later_steps
from housing.models import Hold, HousedObject, Housing, Person, Task
from housing.queries.waits import waits_of
from objects.models import Location
from objects.queries.catalogue import inside

# Steps of which neither comes before the other, in the order that they are listed.
SIDE_BY_SIDE = [
    (first, second) for first, second in combinations(STEPS, 2) if second not in later_steps(first)
]
OPEN = [Task.State.TO_DO, Task.State.STARTED]


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
    nearer = Task.objects.filter(
        housing=OuterRef("housing"),
        sequence__gt=OuterRef("sequence"),
        sequence__lt=OuterRef(OuterRef("sequence")),
    )
    before = Task.objects.filter(
        housing=OuterRef("housing"), sequence__lt=OuterRef("sequence"), state__in=OPEN
    )
    for first, second in SIDE_BY_SIDE:
        nearer = nearer.exclude(Q(step=second) & _is(first, OuterRef("step")))
        nearer = nearer.exclude(Q(step=first) & _is(second, OuterRef(OuterRef("step"))))
        before = before.exclude(Q(step=first) & _is(second, OuterRef("step")))
    holds = Hold.objects.filter(housing=OuterRef("housing"), answered_at=None)
    waiting = Q(Exists(before.exclude(Exists(nearer)))) | Q(Exists(holds))
    return waiting if is_so else ~waiting


def _is(step: str, outer: OuterRef) -> Exact:
    """The condition that the step of the query around is a certain one."""
    return Exact(Value(step), outer)


def at_location(tasks: QuerySet[Task], place: Location) -> QuerySet[Task]:
    """Of some tasks those for objects that are at a place or below it."""
    there = HousedObject.objects.filter(inside(place, "object__location__path"), is_live=True)
    return tasks.filter(housing__in=there.values("housing"))


def person_of(user) -> Person | None:
    """The person a login belongs to, if it was tied to one."""
    return Person.objects.filter(user=user).first()
