"""The work by week given out again or moved by hand, and in a sentence what changed by it."""

from collections.abc import Sequence

from django.db import transaction
from django.urls import reverse

from housing.models import Campaign, Job, Person, PlannedSheet, Task
from housing.queries.campaigns import open_plan_job
from housing.queries.giving_out import last_schedule
from housing.queries.weeks import Placing, changes_since, placing_of, standing_in_words
from housing.services.giving_out import assign_tasks
from housing.services.jobs import runs
from housing.services.nesting import Progress
from housing.services.work_by_hand import reassign, release
from objects.core.refusals import Refusal
from objects.core.words import say


class MoveRefused(Refusal):
    """Work cannot be given out or moved now; the message is a sentence for the reader."""


@transaction.atomic
def give_out_again(*, campaign: Campaign) -> str:
    """Give out all work of a campaign anew; what is begun or given by hand stays. Returns what changed."""
    campaign = _locked(campaign)
    before = placing_of(campaign)
    assign_tasks(campaign=campaign)
    return _told(before, campaign)


@transaction.atomic
def move_work(
    *,
    campaign: Campaign,
    sheets: Sequence[PlannedSheet],
    tasks: Sequence[Task],
    person: Person | None,
    by=None,
) -> str:
    """Give sheets and tasks to a person, or to nobody, by hand; the rest adapts. Returns what changed.

    Raises ReassignRefused when the person cannot do it: then nothing is moved.
    """
    campaign = _locked(campaign)
    before = placing_of(campaign)
    reassign(tasks=tasks, sheets=sheets, person=person, by=by)
    return _told(before, campaign)


@transaction.atomic
def release_work(
    *, campaign: Campaign, sheets: Sequence[PlannedSheet], tasks: Sequence[Task], by=None
) -> str:
    """Leave sheets and tasks to the planner again, and have the rest adapt. Returns what changed."""
    campaign = _locked(campaign)
    before = placing_of(campaign)
    release(tasks=tasks, sheets=sheets, by=by)
    return _told(before, campaign)


def _locked(campaign: Campaign) -> Campaign:
    """The campaign, kept from others until this is stored.

    Raises MoveRefused when it is closed, or being planned and so given out soon anyway.
    """
    campaign = Campaign.objects.select_for_update(of=("self",)).get(pk=campaign.pk)
    if campaign.is_closed:
        raise MoveRefused(
            say("“{campaign}” is closed. Open it again on its edit page first.", campaign=campaign)
        )
    if open_plan_job(campaign):
        raise MoveRefused(
            say(
                "“{campaign}” is being planned, and its work given out with that. Wait until it is done.",
                campaign=campaign,
            )
        )
    return campaign


def _told(before: Placing, campaign: Campaign) -> str:
    campaign.refresh_from_db(fields=["work_from"])
    schedule = last_schedule(campaign)
    return f"{changes_since(before, campaign)} {standing_in_words(schedule)}"


@runs(Job.Kind.ASSIGN)
def _run_assign(job: Job, progress: Progress) -> dict:
    campaign = Campaign.objects.get(pk=job.parameters["campaign"])
    progress(10, say("Giving out the work"))
    return {
        "message": give_out_again(campaign=campaign),
        "result_url": reverse("housing:campaign-tasks", args=[campaign.pk]),
    }
