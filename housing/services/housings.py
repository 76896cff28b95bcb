"""Designing housings and moving them along from plan to shelf."""

from collections.abc import Sequence
from decimal import Decimal

from django.db import transaction
from django.utils import timezone

from boards.core.board import BoardRefused
from housing.core.arranging import MOST_IN_CELLS
from housing.core.enclosures import Enclosure
from housing.core.errors import EnclosureError
from housing.models import Campaign, HousedObject, Housing, HousingEvent, Task, WorkSpell
from housing.services.enclosing import design_enclosure
from housing.services.outdating import outdate
from objects.core.refusals import Refusal
from objects.core.words import say
from objects.models import CatalogueObject

Status = Housing.Status

# From each status to those that may follow; anything not yet housed may be dropped.
NEXT = {
    Status.WAITING: {Status.DROPPED},
    Status.PLANNED: {Status.IN_WORK, Status.DROPPED},
    Status.IN_WORK: {Status.MADE, Status.DROPPED},
    Status.MADE: {Status.HOUSED, Status.DROPPED},
    Status.HOUSED: {Status.DROPPED},
    Status.DROPPED: set(),
}


# The steps of the work that are over once a housing has got so far.
OVER = {
    Status.MADE: (Task.Step.FETCH, Task.Step.CUT, Task.Step.SCORE, Task.Step.GLUE, Task.Step.LID),
    Status.HOUSED: tuple(Task.Step),
}


class HousingRefused(Refusal):
    """A housing cannot be changed as asked; the message is a sentence for the reader."""


def is_as_worked_out(housing: Housing) -> bool:
    """Whether a housing's design, as advised, would still give its contents the box worked out for them."""
    contents = [tie.object for tie in housing.contents.all()]
    if any(thing.size_state != CatalogueObject.SizeState.KNOWN for thing in contents):
        return False
    now = Housing()
    try:
        set_sizes(now, design_enclosure(design=housing.recipe, contents=contents))
    except (EnclosureError, BoardRefused):
        return False
    return (now.inner_mm, now.outside_mm) == (housing.inner_mm, housing.outside_mm)


def set_sizes(housing: Housing, enclosure: Enclosure) -> None:
    """Write an enclosure's sizes into a housing without saving it."""
    for side in ("x_mm", "y_mm", "z_mm"):
        setattr(housing, f"inner_{side}", round(Decimal(getattr(enclosure.inside, side)), 4))
        setattr(housing, f"outside_{side}", round(Decimal(getattr(enclosure.outside, side)), 4))
    housing.notes = list(enclosure.notes)
    housing.supplies = [[supply.what, supply.count] for supply in enclosure.supplies]


@transaction.atomic
def move_housing(*, housing: Housing, status: str, by=None, note: str = "") -> Housing:
    """Take a housing one step on and write the step into its trail.

    Raises HousingRefused when the step does not follow from where the housing is now, for instance because
    somebody else has already taken it.
    """
    housing = Housing.objects.select_for_update().get(pk=housing.pk)
    if status not in NEXT[housing.status]:
        raise HousingRefused(
            say(
                "{housing} is “{status}” and cannot become “{label}” from there. Reload the page to see "
                "where it stands now.",
                housing=housing,
                status=housing.get_status_display(),
                label=Status(status).label,
            )
        )
    housing.status = status
    if status == Status.DROPPED:
        housing.contents.update(is_live=False)
        housing.problem = Housing.Problem.NONE
        # its blanks are still on the planned sheets, so the plan no longer fits
        outdate(Campaign.objects.filter(pk=housing.campaign_id))
    housing.save(update_fields=["status", "problem"])
    _close_tasks(housing)
    HousingEvent.objects.create(housing=housing, status=status, by=by, note=note)
    return housing


@transaction.atomic
def move_back(*, housing: Housing, status: str, by=None, note: str) -> Housing:
    """Take a housing back to where it was before a step that is undone; the trail keeps both.

    Raises HousingRefused when it has gone on or was dropped since.
    """
    housing = Housing.objects.select_for_update().get(pk=housing.pk)
    if housing.status not in NEXT[status] or housing.status == Status.DROPPED:
        raise HousingRefused(
            say(
                "{housing} is “{status}” by now and cannot go back to “{label}”. Reload the page to see "
                "where it stands.",
                housing=housing,
                status=housing.get_status_display(),
                label=Status(status).label,
            )
        )
    housing.status = status
    housing.save(update_fields=["status"])
    HousingEvent.objects.create(housing=housing, status=status, by=by, note=note[:300])
    return housing


def _close_tasks(housing: Housing) -> None:
    """Tasks that the new status has overtaken: those of a dropped box vanish, the others count as done."""
    open_tasks = housing.tasks.exclude(state=Task.State.DONE)
    if housing.status == Status.DROPPED:
        open_tasks.delete()
    else:
        over = open_tasks.filter(step__in=OVER.get(housing.status, ()))
        now = timezone.now()
        WorkSpell.objects.filter(task__in=over, ended_at=None).update(ended_at=now)  # nobody is at them now
        over.update(state=Task.State.DONE, done_at=now)


@transaction.atomic
def house_together(*, contents: Sequence[CatalogueObject], campaign, by=None) -> Housing:
    """Make one waiting housing for a set of objects; the next plan gives it a design and a size.

    Raises HousingRefused when fewer than two objects are given or one already has a housing in hand.
    """
    if len(contents) < 2:
        raise HousingRefused(say("A set needs at least two objects. Tick the objects that belong together."))
    if len(contents) > MOST_IN_CELLS:
        raise HousingRefused(
            say(
                "{count} objects are too many for one box; a tray with dividers takes at most "
                "{most_in_cells}. Tick only those that belong together.",
                count=len(contents),
                most_in_cells=MOST_IN_CELLS,
            )
        )
    ties = HousedObject.objects.filter(object__in=contents, is_live=True).select_related("housing", "object")
    for tie in ties:
        if tie.housing.status not in (Status.WAITING, Status.PLANNED):
            raise HousingRefused(
                say(
                    "{object_number} already has {housing} ({status}). Leave it out of the set, or drop that "
                    "housing first.",
                    object_number=tie.object.number,
                    housing=tie.housing,
                    status=tie.housing.get_status_display(),
                )
            )
    for housing in {tie.housing for tie in ties}:
        move_housing(housing=housing, status=Status.DROPPED, by=by, note=say("Joined into a set"))
    housing = Housing.objects.create(
        campaign=campaign,
        status=Status.WAITING,
        problem=Housing.Problem.NO_DESIGN,
        problem_note=say("Plan the campaign to give this set a design and a size."),
    )
    HousedObject.objects.bulk_create(
        HousedObject(housing=housing, object=thing, position=position)
        for position, thing in enumerate(contents, start=1)
    )
    HousingEvent.objects.create(housing=housing, status=housing.status, by=by, note=say("Set made"))
    return housing
