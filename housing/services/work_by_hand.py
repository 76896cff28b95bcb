"""Work given to people by hand, and left to the planner again; the rest is given out anew around it."""

import logging
from collections.abc import Collection, Sequence

from django.db import transaction
from django.utils.formats import date_format

from housing.core.steps import OF_SHEETS, SKILL_OF_STEP, skills_with
from housing.models import Campaign, HousedObject, Person, PlannedSheet, Task
from housing.queries.open_work import TO_NOBODY
from housing.services.giving_out import LONGEST_REASON, assign_tasks
from housing.services.tasks import by_whom
from objects.core.refusals import Refusal
from objects.core.words import noted, say

State = Task.State
log = logging.getLogger(__name__)


class ReassignRefused(Refusal):
    """Work cannot be given to this person; the message is a sentence for the reader."""


def reassign_sheet(*, sheet: PlannedSheet, person: Person | None, by=None) -> list[Task]:
    """Give the fetching and cutting of a whole sheet to a person by hand; see reassign()."""
    return reassign(sheets=[sheet], person=person, by=by)


@transaction.atomic
def reassign(
    *, tasks: Sequence[Task] = (), sheets: Sequence[PlannedSheet] = (), person: Person | None, by=None
) -> list[Task]:
    """Give tasks and sheets to a person by hand, None for nobody, and give out the rest again around them.

    Who fetches or cuts for one box of a sheet does so for all of it, so these move together. Returns what
    moved. Raises ReassignRefused, and moves nothing, for what is done or begun by somebody else, and for a
    person who takes no part in the campaign, lacks the skill, or may not handle hazards that there are.
    """
    found = _with_their_sheets(tasks, sheets)
    if not found:
        return []
    campaign = _campaign_of(found)
    for task in found:
        _refuse_done_or_begun(task, person)
    if person is not None:
        _refuse_unfit(found, person, campaign)
    who = str(by.get_full_name() or by.get_username()).replace(";", ",") if by else ""
    # kept in English and told anew where it is shown, so that whoever gives out next knows it again
    reason = noted("Given by hand by {who}").format(who=who) if who else noted("Given by hand")
    if person is None:
        reason = noted("Given to nobody by hand by {who}").format(who=who) if who else TO_NOBODY
    moving = [task for task in found if task.state == State.TO_DO]
    Task.objects.filter(pk__in=[task.pk for task in moving]).update(
        person=person, is_fixed=True, reason=reason[:LONGEST_REASON]
    )
    log.info("Tasks %s given by hand to %s, by %s", [task.pk for task in moving], person or "nobody", by)
    assign_tasks(campaign=campaign)
    return _again(moving)


@transaction.atomic
def release(*, tasks: Sequence[Task] = (), sheets: Sequence[PlannedSheet] = (), by=None) -> list[Task]:
    """Leave tasks and sheets that were given by hand to the planner again, and give out all anew.

    Returns what was left to it; nothing changes for what is done, begun, or was not given by hand.
    """
    found = [task for task in _with_their_sheets(tasks, sheets) if task.is_fixed]
    moving = [task for task in found if task.state == State.TO_DO]
    if not moving:
        return []
    Task.objects.filter(pk__in=[task.pk for task in moving]).update(is_fixed=False, reason="")
    log.info("Tasks %s left to the planner again, by %s", [task.pk for task in moving], by)
    assign_tasks(campaign=_campaign_of(moving))
    return _again(moving)


def _with_their_sheets(tasks: Sequence[Task], sheets: Sequence[PlannedSheet]) -> list[Task]:
    """The tasks, locked, with all fetching and cutting that is still to be done of their sheets.

    Raises ReassignRefused for a sheet that is cut.
    """
    for sheet in sheets:
        sheet.refresh_from_db(fields=["cut_at"])
        if sheet.cut_at:
            raise ReassignRefused(
                say(
                    "{sheet} was cut already, on {day}. Nobody has it now.",
                    sheet=sheet,
                    day=date_format(sheet.cut_at, "d M Y"),
                )
            )
    asked = {task.pk for task in tasks}
    of_sheets = Task.objects.filter(step__in=OF_SHEETS).exclude(state=State.DONE)
    whole = {task.sheet_id for task in Task.objects.filter(pk__in=asked, step__in=OF_SHEETS)}
    for sheet in sheets:
        own = of_sheets.filter(sheet=sheet)
        if own.exists():
            whole.add(sheet.pk)
        else:  # its boxes are fetched and cut with their first sheets
            boxes = of_sheets.filter(housing__blanks__placements__sheet=sheet)
            whole |= set(boxes.values_list("sheet", flat=True))
            asked |= set(boxes.filter(sheet=None).values_list("pk", flat=True))
    asked |= set(of_sheets.filter(sheet__in=whole - {None}).values_list("pk", flat=True))
    locked = Task.objects.select_for_update(of=("self",)).filter(pk__in=asked)
    return list(locked.select_related("housing").order_by("housing", "sequence"))


def _campaign_of(tasks: Sequence[Task]) -> Campaign:
    """The campaign of some tasks. Raises ReassignRefused where they are of several."""
    campaigns = Campaign.objects.filter(housings__tasks__in=tasks).distinct()
    if len(campaigns) > 1:
        named = " and ".join(f"“{campaign}”" for campaign in campaigns)
        raise ReassignRefused(
            say("These tasks are of {named}. Move those of one campaign at a time.", named=named)
        )
    return campaigns[0]


def _refuse_done_or_begun(task: Task, person: Person | None) -> None:
    if task.state == State.DONE:
        raise ReassignRefused(
            say(
                "“{task}” is done already{by_whom}. Choose work that is still to be done.",
                task=task,
                by_whom=by_whom(task),
            )
        )
    if task.state == State.STARTED and task.person_id and (person is None or task.person_id != person.pk):
        raise ReassignRefused(
            say(
                "{person} has begun “{task}”. Undo that at the bench first, or leave it with {person}.",
                person=task.person,
                task=task,
            )
        )


def _refuse_unfit(tasks: Sequence[Task], person: Person, campaign: Campaign) -> None:
    if not person.is_active or not campaign.people.filter(pk=person.pk).exists():
        raise ReassignRefused(
            say(
                "{person} takes no part in “{campaign}”. Add them on the campaign's edit page first, or "
                "choose somebody else.",
                person=person,
                campaign=campaign,
            )
        )
    skills = skills_with(person.skill_set)
    for task in tasks:
        if SKILL_OF_STEP[task.step] not in skills:
            name = str(Person.Skill(SKILL_OF_STEP[task.step]).label)
            raise ReassignRefused(
                say(
                    "{person} does not have the skill “{name}”, which “{task}” asks for. Choose somebody "
                    "else, or add the skill on their page once they have been taught.",
                    person=person,
                    name=name,
                    task=task,
                )
            )
    if not person.handles_hazards and (hazardous := _hazardous(tasks)):
        boxes = " and ".join(sorted(str(task.housing) for task in hazardous)[:3])
        raise ReassignRefused(
            say(
                "{person} may not handle hazardous objects, and {boxes} has some. Choose somebody who "
                "may; ask your conservator or safety officer when in doubt.",
                person=person,
                boxes=boxes,
            )
        )


def _hazardous(tasks: Collection[Task]) -> list[Task]:
    """One task of each box that has hazards."""
    boxes = {task.housing_id: task for task in tasks}
    ties = HousedObject.objects.filter(housing__in=boxes).exclude(object__hazards="")
    return [boxes[housing] for housing in sorted(set(ties.values_list("housing", flat=True)))]


def _again(tasks: Sequence[Task]) -> list[Task]:
    """Tasks as they are stored now."""
    return list(Task.objects.filter(pk__in=[task.pk for task in tasks]).order_by("housing", "sequence"))
