"""Long work outside the page: run by the worker, with its progress and its result kept to be shown."""

import logging
import math
from collections.abc import Callable
from time import monotonic

from django.db import transaction
from django.tasks import task
from django.urls import reverse
from django.utils import timezone

from housing.models import Campaign, Job
from housing.services.budgets import make_budget
from housing.services.campaigns import plan_campaign
from housing.services.nesting import Progress
from objects.core import words
from objects.core.refusals import Refusal
from objects.core.words import noted, say, say_count
from objects.speaking import in_language

State, Kind, Wish = Job.State, Job.Kind, Job.Wish
log = logging.getLogger(__name__)

LOOK_SECONDS = 0.5  # between two looks at the database while a job runs; often enough for whoever waits
CANCELLED = noted("It was cancelled; nothing was changed.")
BEGUN_AGAIN = noted("Begun again after a restart")

Runner = Callable[[Job, Progress], dict]
_RUNNERS: dict[str, Runner] = {}


class JobRefused(Refusal):
    """A job cannot be stopped so; the message is a sentence for the reader."""


class JobCancelled(Refusal):
    """Ends a job that somebody cancelled; raised by its progress, so that it leaves all as it was."""


def runs(kind: str) -> Callable[[Runner], Runner]:
    """Lets a function do the work of one kind of job; it returns what to write into the job when done."""

    def keep(runner: Runner) -> Runner:
        _RUNNERS[kind] = runner
        return runner

    return keep


def start_job(*, kind: str, title: str, parameters: dict, by=None) -> Job:
    """Put a job in the queue; the worker takes it up once the transaction around it is stored."""
    job = Job.objects.create(kind=kind, title=title, parameters=parameters, by=by, language=words.spoken())
    transaction.on_commit(lambda: run_job.enqueue(job.pk))
    return job


@transaction.atomic
def finish_job(*, job: Job, by=None) -> Job:
    """Have a running job of planning end soon, with the best plan it has found so far.

    Raises JobRefused when it does not run, is cancelled already, or is work of another kind.
    """
    job = Job.objects.select_for_update(of=("self",)).get(pk=job.pk)
    _refuse_over(job)
    if job.kind != Kind.PLAN:
        raise JobRefused(say("This work is of use only when it is whole. Let it go on, or cancel it."))
    if job.state == State.WAITING:
        raise JobRefused(
            say("This work has not begun, so there is no plan yet. Wait for its turn, or cancel it.")
        )
    if job.wish == Wish.CANCEL:
        raise JobRefused(say("This work is being cancelled already. Plan the campaign again to have a plan."))
    _write(job, wish=Wish.FINISH)
    log.info("Job %s is to finish with the best so far, as wished by %s", job.pk, by)
    return job


@transaction.atomic
def cancel_job(*, job: Job, by=None) -> Job:
    """Cancel a job: at once if it waits for its turn, at its next look at the wish if it runs.

    Raises JobRefused when it is over.
    """
    job = Job.objects.select_for_update(of=("self",)).get(pk=job.pk)
    _refuse_over(job)
    at_once = _cancelled() if job.state == State.WAITING else {}
    _write(job, wish=Wish.CANCEL, **at_once)
    log.info("Job %s is to be cancelled, as wished by %s", job.pk, by)
    return job


@transaction.atomic
def go_on_with(*, job: Job, by=None) -> Job:
    """Put a print that was cancelled or failed back into the queue; what is set of it is not set again.

    Raises JobRefused for work of another kind, and where nothing is to go on with.
    """
    job = Job.objects.select_for_update(of=("self",)).get(pk=job.pk)
    if job.kind != Kind.PRINT:
        raise JobRefused(say("Only prints are gone on with. Begin this work again where you began it."))
    if job.state not in (State.CANCELLED, State.FAILED):
        state = job.get_state_display().lower()
        raise JobRefused(say("There is nothing to go on with: this print is {state}.", state=state))
    _write(job, state=State.WAITING, wish=Wish.GO_ON, message="", finished_at=None)
    transaction.on_commit(lambda: run_job.enqueue(job.pk))
    log.info("Job %s goes on, as wished by %s", job.pk, by)
    return job


def drop_print(*, job: Job, by=None) -> None:
    """Remove a print that is over, with its file. Raises JobRefused where it is not a print, or not over."""
    if job.kind != Kind.PRINT or not job.is_over:
        raise JobRefused(say("Only a print that is over can be removed. Cancel it first."))
    if job.file:
        job.file.delete(save=False)
    job.delete()
    log.info("The print “%s” was removed by %s", job.title, by)


@transaction.atomic
def put_back_interrupted() -> list[Job]:
    """Have the jobs that a killed worker had begun wait again, or cancel those of which that was wished.

    Right only where no worker runs. Returns those that wait.
    """
    left = list(Job.objects.select_for_update(of=("self",)).filter(state=State.RUNNING))
    for job in left:
        if job.wish == Wish.CANCEL:
            _write(job, **_cancelled())
        else:
            begun_again = {"begun again": "after a restart"}
            with words.speaking(job.language):
                stage = say(BEGUN_AGAIN)
            _write(job, state=State.WAITING, percent=0, stage=stage, standing=begun_again)
    return [job for job in left if not job.is_over]


@task
def run_job(job_id: int) -> None:
    """Run one job. Running it twice does no harm: a finished job is left alone, an interrupted one redone."""
    waiting = Job.objects.filter(pk=job_id).exclude(state__in=Job.OVER)
    # In one go, so that it cannot be cancelled between a look at its state and its beginning.
    if not waiting.update(state=State.RUNNING, started_at=timezone.now(), percent=0):
        return
    job = Job.objects.get(pk=job_id)
    with in_language(job.language):
        _run(job)


def _run(job: Job) -> None:
    try:
        outcome = _RUNNERS[job.kind](job, _progress(job))
    except JobCancelled as cancelled:
        _write(job, **_cancelled(str(cancelled)))
    except Refusal as refused:
        _write(job, state=State.FAILED, message=str(refused), finished_at=timezone.now())
    except Exception:
        log.exception("Job %s failed", job.pk)
        _write(
            job,
            state=State.FAILED,
            message=say("It failed for an unforeseen reason; nothing was half saved. The log says more."),
            finished_at=timezone.now(),
        )
        raise
    else:
        outcome["message"] += _answer_to(_wish_of(job))
        _write(job, state=State.DONE, percent=100, finished_at=timezone.now(), **outcome)


def _write(job: Job, **values) -> None:
    for name, value in values.items():
        setattr(job, name, value)
    job.save(update_fields=list(values))


def _cancelled(message: str = CANCELLED) -> dict:
    return {"state": State.CANCELLED, "message": say(message), "finished_at": timezone.now()}


def _refuse_over(job: Job) -> None:
    if job.is_over:
        state = job.get_state_display().lower()
        raise JobRefused(say("This work is over already ({state}); nothing is left to stop.", state=state))


def _wish_of(job: Job) -> str:
    return Job.objects.values_list("wish", flat=True).get(pk=job.pk)


def _answer_to(wish: str) -> str:
    """What a job that is done says to a wish made meanwhile."""
    if wish == Wish.FINISH:
        return " " + say("It is the best found until it was asked to finish.")
    return " " + say("It was done before it could be cancelled.") if wish == Wish.CANCEL else ""


def _progress(job: Job) -> Progress:
    """What a runner calls with the percent, the stage and how it stands; says whether to finish now.

    Raises JobCancelled when somebody cancelled the job. At 100 percent the result is stored and it is too
    late for that.
    """
    before = job.standing  # that it was begun again, for one
    looked_at, wish = -math.inf, job.wish

    def tell(percent: int, stage: str, standing: dict | None = None) -> bool:
        nonlocal looked_at, wish
        # Inside a transaction nobody could see it, and it would hold the database's write lock.
        if transaction.get_connection().in_atomic_block:
            return False
        stage, now = stage[:200], monotonic()
        if is_due := now - looked_at >= LOOK_SECONDS:
            looked_at, wish = now, _wish_of(job)
        if wish == Wish.CANCEL and percent < 100:
            raise JobCancelled(CANCELLED)
        if is_due or percent in (0, 100) or stage != job.stage:
            shown = job.standing if standing is None else {**before, **standing}
            _write(job, percent=percent, stage=stage, standing=shown)
        return wish == Wish.FINISH

    return tell


def _dearer(campaign: Campaign) -> str:
    """A sentence where the sheets of a plan cost more than those of the one before it."""
    costs = [record.cost for record in campaign.plan_records.all()[:2]]
    if len(costs) < 2 or costs[0] <= costs[1]:
        return ""
    dearer = say(
        "Its sheets cost {now} {currency}, those of the plan before it {before}; the comparison shows why.",
        now=f"{costs[0]:,.2f}", before=f"{costs[1]:,.2f}", currency=campaign.currency,
    )  # fmt: skip
    return f" {dearer}"


@runs(Kind.PLAN)
def _run_plan(job: Job, progress: Progress) -> dict:
    campaign = Campaign.objects.get(pk=job.parameters["campaign"])
    keep = job.parameters.get("keep", False)
    plan = plan_campaign(campaign=campaign, by=job.by, keep=keep, progress=progress)
    planned = say_count("{count} sheet is planned.", "{count} sheets are planned.", plan.sheets.count())
    return {
        "message": planned + _dearer(campaign),
        "result_url": reverse("housing:campaign-plan", args=[campaign.pk]),
    }


@runs(Kind.BUDGET)
def _run_budget(job: Job, progress: Progress) -> dict:
    campaign = Campaign.objects.get(pk=job.parameters["campaign"])
    budget = make_budget(campaign=campaign, by=job.by, progress=progress)
    paid = say(
        "{money} {currency} are to be paid, and {contingency} more for contingency.",
        money=f"{budget.money:,.2f}", contingency=f"{budget.contingency:,.2f}", currency=budget.currency,
    )  # fmt: skip
    missing = say("It is incomplete, so the sum is too low; its page says why.")
    return {
        "message": paid if budget.is_complete else f"{paid} {missing}",
        "result_url": reverse("housing:campaign-budget", args=[campaign.pk]),
    }
