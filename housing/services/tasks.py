"""Tasks: made for every housing of a plan, given to people, begun and finished."""

from collections import defaultdict
from decimal import Decimal

from django.db import transaction
from django.utils import timezone

from housing.core.assignment import SKILL_OF_STEP, Work, Worker, assign
from housing.core.estimate import LabourFigures
from housing.models import Campaign, Housing, Person, Task
from housing.services.estimates import bench_minutes
from housing.services.housings import NEXT, move_housing
from objects.core.refusals import Refusal
from objects.models import CatalogueObject

Step, State = Task.Step, Task.State
ORDER = [Step.MEASURE, Step.CUT, Step.GLUE, Step.FIT, Step.RETURN]
OPEN = [Housing.Status.WAITING, Housing.Status.PLANNED, Housing.Status.IN_WORK, Housing.Status.MADE]
TO_MEASURE = (Housing.Problem.UNMEASURED, Housing.Problem.CHECK)

# Where a housing stands once a step of it is done.
REACHED = {
    Step.CUT: Housing.Status.IN_WORK,
    Step.GLUE: Housing.Status.MADE,
    Step.RETURN: Housing.Status.HOUSED,
}


class TaskRefused(Refusal):
    """A task cannot be begun or finished; the message is a sentence for the reader."""


def assign_tasks(*, campaign: Campaign) -> list[Task]:
    """Make the tasks of every open housing and give them out; what somebody has begun stays with them."""
    housings = (
        Housing.objects.filter(campaign=campaign, status__in=OPEN)
        .select_related("design")
        .prefetch_related("blanks", "contents__object__location", "tasks")
    )
    kept: dict[tuple[int, str], Task] = {}
    stale: list[int] = []
    wanted: list[Task] = []
    things = {}
    for housing in housings:
        things[housing.pk] = [tie.object for tie in housing.contents.all()]
        minutes = _minutes(housing)
        for task in housing.tasks.all():
            if task.state == State.TO_DO:
                stale.append(task.pk)
            else:
                kept[housing.pk, task.step] = task
        for step, planned in minutes.items():
            if (housing.pk, step) not in kept:
                wanted.append(_task(housing, step, planned))
    Task.objects.filter(pk__in=stale).delete()
    _give_out(campaign, [*kept.values(), *wanted], things)
    return Task.objects.bulk_create(wanted, batch_size=500)


def _minutes(housing: Housing) -> dict[str, float]:
    if housing.status == Housing.Status.WAITING:
        measured = housing.problem not in TO_MEASURE
        return {} if measured else {Step.MEASURE: LabourFigures().measure_minutes}
    return bench_minutes(housing)


def _task(housing: Housing, step: str, minutes: float) -> Task:
    return Task(
        housing=housing, step=step, sequence=ORDER.index(step) + 1, planned_minutes=round(Decimal(minutes), 2)
    )


def _give_out(campaign: Campaign, tasks: list[Task], things: dict) -> None:
    people = campaign.people.filter(is_active=True)
    workers = [
        Worker(
            key=str(person.pk),
            minutes_per_week=float(person.hours_per_week) * 60,
            skills=person.skill_set,
            may_handle_hazards=person.handles_hazards,
        )
        for person in people
    ]
    steps = defaultdict(list)
    open_tasks = [task for task in tasks if task.state != State.DONE]
    for task in open_tasks:
        steps[task.housing_id].append(task)
    work, by_key = [], {}
    for chain in steps.values():
        before = None
        for task in sorted(chain, key=lambda task: task.sequence):
            item = _work(task, things[task.housing_id], before)
            work.append(item)
            by_key[item.key] = task
            before = item.key
    for given in assign(work, workers):
        task = by_key[given.key]
        task.person_id = int(given.worker_key) if given.worker_key else None
        task.week, task.reason = given.week, given.reason
    begun = [task for task in open_tasks if task.pk]
    Task.objects.bulk_update(begun, ["week"])


def _work(task: Task, contents: list, before: str | None) -> Work:
    first = contents[0]
    return Work(
        key=f"{task.housing_id}:{task.step}",
        skill=SKILL_OF_STEP[task.step],
        minutes=float(task.planned_minutes),
        priority=min(thing.priority for thing in contents),
        location=first.location.path if first.location else "",
        is_hazardous=any(thing.hazards for thing in contents),
        sequence_after=before,
        kept_with=str(task.person_id) if task.state == State.STARTED and task.person_id else None,
    )


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
    reached = REACHED.get(task.step)
    if reached in NEXT[housing.status]:
        move_housing(housing=housing, status=reached, by=by, note=f"{task.get_step_display()}: done")
    return task


def _refuse_too_early(task: Task) -> None:
    """A step is done after those before it; measuring is done when the sizes are entered."""
    before = Task.objects.filter(housing=task.housing_id, sequence__lt=task.sequence).exclude(
        state=State.DONE
    )
    if first := before.order_by("sequence").first():
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
