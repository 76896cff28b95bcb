"""Tasks at the work list: begun and finished, and the boxes they are about go on with them."""

from decimal import Decimal

from django.db import transaction
from django.utils import timezone

from housing.core.steps import waits_for
from housing.models import Housing, Person, Task
from housing.services.housings import NEXT, move_housing
from objects.core.refusals import Refusal
from objects.models import CatalogueObject

Step, State = Task.Step, Task.State

# Where a housing stands once the last of some steps is done.
REACHED = {
    Housing.Status.IN_WORK: (Step.CUT,),
    Housing.Status.MADE: (Step.FETCH, Step.CUT, Step.SCORE, Step.GLUE, Step.LID),
    Housing.Status.HOUSED: (Step.RETURN,),
}


class TaskRefused(Refusal):
    """A task cannot be begun or finished; the message is a sentence for the reader."""


@transaction.atomic
def start_task(*, task: Task, person: Person | None = None) -> Task:
    """Begin a task; a second click changes nothing, and one somebody else has begun is refused."""
    task = Task.objects.select_for_update().get(pk=task.pk)
    if task.state == State.DONE:
        raise TaskRefused(f"“{task}” is done already.")
    if task.state == State.STARTED:
        if person and task.person_id and task.person_id != person.pk:
            raise TaskRefused(f"{task.person} has begun “{task}” already. Choose another task.")
        return task
    task.state, task.started_at = State.STARTED, timezone.now()
    task.person = person or task.person
    task.save(update_fields=["state", "started_at", "person"])
    return task


@transaction.atomic
def finish_task(*, task: Task, minutes: Decimal | None = None, person: Person | None = None, by=None) -> Task:
    """Finish a task with the minutes it took, and take its box on; a second click changes nothing."""
    # The housing first, as moving it does, so that the two never wait for each other.
    housing = Housing.objects.select_for_update(of=("self",)).get(tasks=task.pk)
    task = Task.objects.select_for_update().get(pk=task.pk)
    if task.state == State.DONE:
        return task
    if minutes is not None and not 0 <= minutes <= 24 * 60:
        raise TaskRefused(f"{minutes} minutes cannot be right. Enter 0 to 1440, or leave it blank.")
    _refuse_too_early(task)
    now = timezone.now()
    task.state, task.done_at = State.DONE, now
    task.started_at = task.started_at or now
    task.spent_minutes = minutes
    task.person = task.person or person
    task.save(update_fields=["state", "done_at", "started_at", "spent_minutes", "person"])
    open_steps = set(housing.tasks.exclude(state=State.DONE).values_list("step", flat=True))
    for reached, steps in REACHED.items():
        if task.step in steps and open_steps.isdisjoint(steps) and reached in NEXT[housing.status]:
            move_housing(housing=housing, status=reached, by=by, note=f"{task.get_step_display()}: done")
            break
    return task


def _refuse_too_early(task: Task) -> None:
    """A step is done after those before it; measuring is done when the sizes are entered."""
    others = {other.step: other for other in Task.objects.filter(housing=task.housing_id)}
    before = [others[step] for step in waits_for(task.step, others)]
    if first := next((other for other in before if other.state != State.DONE), None):
        raise TaskRefused(
            f"“{task}” comes after “{first.get_step_display()}”, which is not done yet. Finish that first."
        )
    unmeasured = CatalogueObject.objects.filter(housing_ties__housing=task.housing_id).exclude(
        size_state=CatalogueObject.SizeState.KNOWN
    )
    if task.step == Step.MEASURE and (thing := unmeasured.first()):
        raise TaskRefused(
            f"{thing.number} has no full size yet. Enter height, width and depth on its page first."
        )
