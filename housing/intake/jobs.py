"""Long lists in the background: the worker reads, saves and undoes them, all rows or none."""

from django.urls import reverse

from housing.intake.imports import read_rows
from housing.intake.saving import save_list
from housing.intake.undoing import undo_list
from housing.models import Campaign, Job
from housing.services.jobs import runs, start_job
from housing.services.nesting import Progress
from objects.core.words import say
from objects.models import ListImport

State = ListImport.State
OF_LISTS = (Job.Kind.READ, Job.Kind.IMPORT, Job.Kind.UNDO)


def start_list_job(*, kind: str, listed: ListImport, campaign: Campaign | None = None, by=None) -> Job:
    """Have the worker read, save or undo a list; work on the same list that is under way is taken for it."""
    under_way = work_under_way(listed)
    return under_way or start_job(
        kind=kind,
        title=f"{Job.Kind(kind).label.replace('a list', '')}{listed.file_name}"[:200],
        parameters={"list": listed.pk, "campaign": campaign.pk if campaign else None},
        by=by,
    )


def work_under_way(listed: ListImport) -> Job | None:
    """The job that works on a list now or will soon."""
    jobs = Job.objects.filter(kind__in=OF_LISTS, parameters__list=listed.pk)
    return jobs.exclude(state__in=Job.OVER).first()


@runs(Job.Kind.READ)
def run_reading(job: Job, progress: Progress) -> dict:
    """Read a staged list for its preview; begun again after a restart it is simply read again."""
    listed = _listed(job)
    if listed.state == State.STAGED:
        read_rows(listed=listed, progress=progress)
    return _outcome(
        listed,
        say("“{file_name}” is read. Nothing is saved yet: look at it and agree.", file_name=listed.file_name),
    )


@runs(Job.Kind.IMPORT)
def run_import(job: Job, progress: Progress) -> dict:
    """Save a staged list; one that a killed worker had saved already is only reported again."""
    listed = _listed(job)
    if listed.state != State.SAVED:
        campaign = Campaign.objects.filter(pk=job.parameters["campaign"]).first()
        save_list(listed=listed, campaign=campaign, by=job.by, progress=progress)
    return _outcome(listed, say("“{file_name}” is saved.", file_name=listed.file_name))


@runs(Job.Kind.UNDO)
def run_undoing(job: Job, progress: Progress) -> dict:
    """Undo a saved list; one that a killed worker had undone already is only reported again."""
    listed = _listed(job)
    if listed.state != State.UNDONE:
        undo_list(listed=listed, by=job.by, progress=progress)
    return _outcome(listed, say("“{file_name}” is undone.", file_name=listed.file_name))


def _listed(job: Job) -> ListImport:
    return ListImport.objects.get(pk=job.parameters["list"])


def _outcome(listed: ListImport, message: str) -> dict:
    return {"message": message, "result_url": reverse("housing:import-preview", args=[listed.pk])}
