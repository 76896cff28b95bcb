"""The first steps of a new museum: four steps with samples to take, and removing the samples again."""

from datetime import timedelta

from django.contrib import messages
from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from housing.intake.rules import shipped_rules
from housing.intake.samples import take_sample, take_samples
from housing.models import Job
from housing.queries.first_run import first_steps, is_begun_museum, standing
from housing.queries.samples import KINDS, sample_file
from housing.services.campaigns import CampaignRefused
from housing.services.first_run import start_first_campaign
from housing.services.samples import SamplesRefused, remove_samples
from objects.intake import IntakeRefused
from objects.roles import role_required

# A job that has waited so long has no worker to take it up.
LONG_WAIT = timedelta(seconds=20)


@require_safe
def first_run(request: HttpRequest) -> HttpResponse:
    """The four steps: what is done, what comes next, and what to do there."""
    return _show(request)


@require_POST
@role_required()
def first_run_sample(request: HttpRequest, kind: str) -> HttpResponse:
    """Take the sample list of one step and show the next step."""
    if kind not in KINDS:
        raise Http404("There is no sample of this kind.")
    try:
        listed = take_sample(kind=kind, by=request.user)
    except (SamplesRefused, IntakeRefused) as refused:
        messages.error(request, str(refused))
    else:
        messages.success(
            request, _("The sample is taken: %(number)s rows.") % {"number": listed.counts["new"]}
        )
    return _to_next()


@require_safe
def first_run_file(request: HttpRequest, kind: str) -> FileResponse:
    """The sample list of one step as a file, to see how a list is written."""
    if kind not in KINDS:
        raise Http404("There is no sample of this kind.")
    path = sample_file(kind)
    return FileResponse(
        path.open("rb"), as_attachment=True, filename=f"sample-{path.name}", content_type="text/csv"
    )


@require_POST
@role_required()
def first_run_all(request: HttpRequest) -> HttpResponse:
    """Take all samples and begin to plan a campaign of them."""
    try:
        take_samples(by=request.user)
    except IntakeRefused as refused:
        messages.error(request, str(refused))
        return _to_next()
    return _start(request)


@require_POST
@role_required()
def first_run_campaign(request: HttpRequest) -> HttpResponse:
    """Make the first campaign of all that needs a box, and begin to plan it."""
    return _start(request)


@require_POST
@role_required()
def first_run_remove(request: HttpRequest) -> HttpResponse:
    """Remove the samples with all that was planned of them."""
    try:
        gone = remove_samples(by=request.user)
    except SamplesRefused as refused:
        return _show(request, refused, 409)
    messages.success(
        request,
        _(
            "The samples are removed: %(objects)s objects, %(boards)s boards, %(designs)s designs and "
            "%(campaigns)s campaigns with their boxes. Nothing of your own was touched."
        )
        % gone,
    )
    return redirect("housing:first-run")


def _start(request: HttpRequest) -> HttpResponse:
    try:
        start_first_campaign(rules=shipped_rules(), by=request.user)
    except CampaignRefused as refused:
        messages.error(request, str(refused))
    return redirect(f"{reverse('housing:first-run')}#campaign")


def _to_next() -> HttpResponse:
    """The place of the step that comes next on the page of steps."""
    following = next((step for step in first_steps() if step.is_next), None)
    return redirect(following.url if following else "housing:first-run")


def _show(request: HttpRequest, refused: SamplesRefused | None = None, status: int = 200) -> HttpResponse:
    steps, stands = first_steps(), standing()
    job = stands.job
    return render(
        request,
        "housing/first_run.html",
        {
            "steps": steps,
            "stands": stands,
            "is_done": is_begun_museum(steps),
            "is_untouched": not any(step.is_done for step in steps),
            "refused": refused,
            "is_stuck": bool(
                job and job.state == Job.State.WAITING and timezone.now() - job.created_at > LONG_WAIT
            ),
        },
        status=status,
    )
