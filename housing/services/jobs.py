"""Long work outside the page: run by the worker, with its progress and its result kept to be shown."""

import logging
from collections.abc import Callable

from django.db import transaction
from django.tasks import task
from django.urls import reverse
from django.utils import timezone

from housing.models import Campaign, Job
from housing.services.campaigns import plan_campaign
from housing.services.plans import Progress
from objects.core.refusals import Refusal

State, Kind = Job.State, Job.Kind
log = logging.getLogger(__name__)

Runner = Callable[[Job, Progress], dict]
_RUNNERS: dict[str, Runner] = {}


def runs(kind: str) -> Callable[[Runner], Runner]:
    """Lets a function do the work of one kind of job; it returns what to write into the job when done."""

    def keep(runner: Runner) -> Runner:
        _RUNNERS[kind] = runner
        return runner

    return keep


def start_job(*, kind: str, title: str, parameters: dict, by=None) -> Job:
    """Put a job in the queue; the worker takes it up once the transaction around it is stored."""
    job = Job.objects.create(kind=kind, title=title, parameters=parameters, by=by)
    transaction.on_commit(lambda: run_job.enqueue(job.pk))
    return job


@task
def run_job(job_id: int) -> None:
    """Run one job. Running it twice does no harm: a finished job is left alone, an interrupted one redone."""
    job = Job.objects.get(pk=job_id)
    if job.is_over:
        return
    _write(job, state=State.RUNNING, started_at=timezone.now(), percent=0)
    try:
        outcome = _RUNNERS[job.kind](job, _progress(job))
    except Refusal as refused:
        _write(job, state=State.FAILED, message=str(refused), finished_at=timezone.now())
    except Exception:
        log.exception("Job %s failed", job.pk)
        _write(
            job,
            state=State.FAILED,
            message="It failed for an unforeseen reason; nothing was half saved. The log says more.",
            finished_at=timezone.now(),
        )
        raise
    else:
        _write(job, state=State.DONE, percent=100, finished_at=timezone.now(), **outcome)


def _write(job: Job, **values) -> None:
    for name, value in values.items():
        setattr(job, name, value)
    job.save(update_fields=list(values))


def _progress(job: Job) -> Progress:
    def tell(percent: int, stage: str) -> None:
        # Inside a transaction nobody could see it, and it would hold the database's write lock.
        if not transaction.get_connection().in_atomic_block:
            _write(job, percent=percent, stage=stage[:200])

    return tell


@runs(Kind.PLAN)
def _run_plan(job: Job, progress: Progress) -> dict:
    campaign = Campaign.objects.get(pk=job.parameters["campaign"])
    plan = plan_campaign(campaign=campaign, by=job.by, progress=progress)
    return {
        "message": f"{plan.sheets.count()} sheets are planned.",
        "result_url": reverse("housing:campaign-plan", args=[campaign.pk]),
    }
