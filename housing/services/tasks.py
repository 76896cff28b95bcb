"""Tasks begun and finished, and the boxes they are about go on with them."""

from datetime import datetime
from decimal import Decimal

from django.db import transaction
from django.utils import timezone

from housing.core.steps import OF_SHEETS, waits_for
from housing.models import Hold, Housing, Person, PlannedSheet, Task
from housing.services.housings import NEXT, move_housing
from housing.services.moments import on_moment
from housing.services.spells import end_spell
from objects.core.refusals import Refusal
from objects.core.words import say
from objects.models import CatalogueObject

Step, State = Task.Step, Task.State
MOST_MINUTES = 24 * 60

# Where a housing stands once the last of some steps is done.
REACHED = {
    Housing.Status.IN_WORK: (Step.CUT,),
    Housing.Status.MADE: (Step.FETCH, Step.CUT, Step.SCORE, Step.GLUE, Step.LID),
    Housing.Status.HOUSED: (Step.RETURN,),
}


class TaskRefused(Refusal):
    """A task cannot be begun or finished; the message is a sentence for the reader."""


@transaction.atomic
def start_task(*, task: Task, person: Person | None = None, at: datetime | None = None) -> Task:
    """Begin a task; a second click changes nothing, and one somebody else has begun is refused."""
    task = Task.objects.select_for_update(of=("self",)).select_related("housing").get(pk=task.pk)
    if task.state == State.DONE:
        raise TaskRefused(say("“{work}” is done already{by_whom}.", work=task, by_whom=by_whom(task)))
    if task.state == State.STARTED:
        if person and task.person_id and task.person_id != person.pk:
            raise TaskRefused(
                say(
                    "{person} has begun “{work}” already{when}. Choose another task.",
                    person=task.person,
                    work=task,
                    when=on_moment(task.started_at),
                )
            )
        if person and not task.person_id:
            task.person = person
            task.save(update_fields=["person"])
        return task
    refuse_held(task.housing)
    _refuse_waiting(task)
    task.state, task.started_at = State.STARTED, at or timezone.now()
    task.person = person or task.person
    task.save(update_fields=["state", "started_at", "person"])
    return task


@transaction.atomic
def finish_task(
    *,
    task: Task,
    minutes: Decimal | None = None,
    person: Person | None = None,
    by=None,
    at: datetime | None = None,
) -> Task:
    """Finish a task with the minutes it took, and take its box on; a second click changes nothing."""
    # The housing first, as moving it does, so that the two never wait for each other.
    housing = Housing.objects.select_for_update(of=("self",)).get(tasks=task.pk)
    task = Task.objects.select_for_update(of=("self",)).get(pk=task.pk)
    if task.state == State.DONE:
        return task
    refuse_minutes(minutes)
    refuse_held(housing)
    _refuse_too_early(task)
    now, was_begun = at or timezone.now(), task.state == State.STARTED
    task.state, task.done_at = State.DONE, now
    task.started_at = task.started_at or now
    task.spent_minutes = minutes
    # what somebody has begun is theirs, whoever says that it is done
    task.person = task.person if was_begun and task.person else person or task.person
    task.save(update_fields=["state", "done_at", "started_at", "spent_minutes", "person"])
    end_spell(at_what=task, at=now)
    open_steps = set(housing.tasks.exclude(state=State.DONE).values_list("step", flat=True))
    for reached, steps in REACHED.items():
        if task.step in steps and open_steps.isdisjoint(steps) and reached in NEXT[housing.status]:
            move_housing(
                housing=housing, status=reached, by=by, note=say("{step}: done", step=task.get_step_display())
            )
            break
    return task


def refuse_minutes(minutes: Decimal | None) -> None:
    """Raises TaskRefused for minutes that nobody can have worked on end."""
    if minutes is not None and not 0 <= minutes <= MOST_MINUTES:
        raise TaskRefused(
            say(
                "{minutes} minutes cannot be right. Enter 0 to {most_minutes}, or leave it blank.",
                minutes=minutes,
                most_minutes=MOST_MINUTES,
            )
        )


def refuse_held(housing: Housing) -> None:
    """Raises TaskRefused while a question about the box is open."""
    hold = Hold.objects.filter(housing=housing, answered_at=None).first()
    if hold is not None:
        raise TaskRefused(
            say(
                "{housing} waits {reason}: “{question}” Its work rests until the question is answered.",
                housing=housing,
                reason=hold.get_reason_display().lower(),
                question=hold.question,
            )
        )


def uncut_sheets(housing: Housing) -> list[PlannedSheet]:
    """The sheets on which blanks of a box lie and that are not cut yet, in the order of the plan."""
    sheets = PlannedSheet.objects.filter(placements__blank__housing=housing, cut_at=None)
    return list(sheets.distinct().order_by("position"))


def _refuse_waiting(task: Task) -> None:
    """Raises TaskRefused while a step that comes before is not done."""
    others = {other.step: other for other in Task.objects.filter(housing=task.housing_id)}
    before = [others[step] for step in waits_for(task.step, others)]
    if first := next((other for other in before if other.state != State.DONE), None):
        whose = (
            " " + say("It is {person}’s.", person=first.person)
            if first.person and first.person_id != task.person_id
            else ""
        )
        raise TaskRefused(
            say(
                "“{task}” comes after “{step}”, which is not done yet. Finish that first.{whose}",
                task=task,
                step=first.get_step_display(),
                whose=whose,
            )
        )


def _refuse_too_early(task: Task) -> None:
    """A step is done after those before it; measuring is done when the sizes are entered, cutting when the
    sheets are noted as cut, so that the stock is right."""
    _refuse_waiting(task)
    if task.step in OF_SHEETS and (sheets := uncut_sheets(task.housing)):
        if len(sheets) == 1:
            raise TaskRefused(
                say(
                    "{box} is cut from {sheet} of the cutting plan. Note there that it is cut: the stock "
                    "follows, and this step with it.",
                    box=task.housing,
                    sheet=sheets[0],
                )
            )
        raise TaskRefused(
            say(
                "{box} is cut from {sheets} of the cutting plan. Note there that they are cut: the stock "
                "follows, and this step with it.",
                box=task.housing,
                sheets=say(" and ").join(str(sheet) for sheet in sheets),
            )
        )
    unmeasured = CatalogueObject.objects.filter(housing_ties__housing=task.housing_id).exclude(
        size_state=CatalogueObject.SizeState.KNOWN
    )
    if task.step == Step.MEASURE and (thing := unmeasured.first()):
        raise TaskRefused(
            say(
                "{thing_number} has no full size yet. Enter height, width and depth on its page first.",
                thing_number=thing.number,
            )
        )


def by_whom(task: Task) -> str:
    """Who has done a task, and when, to go on a sentence."""
    when = on_moment(task.done_at)
    return say(", by {person}", person=task.person) + when if task.person else when
