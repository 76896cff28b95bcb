"""One piece of long work: how far it is, what came of it, and stopping it."""

from collections.abc import Callable

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_POST, require_safe
from django_htmx.http import retarget

from housing.models import Job
from housing.services.jobs import JobRefused, cancel_job, finish_job
from housing.views import questions
from objects.roles import has_role, role_required
from objects.views.asking import asks_first


@require_safe
def job_detail(request: HttpRequest, pk: int) -> HttpResponse:
    """The page of a job; asked by the page itself, its progress alone unless the buttons change too."""
    job = get_object_or_404(Job, pk=pk)
    context = {"job": job, "phase": f"{job.state} {job.wish}".strip()}
    if not request.htmx:
        return render(request, "housing/job_detail.html", context)
    if request.GET.get("phase") == context["phase"]:
        return render(request, "housing/job_detail.html#progress", context)
    return retarget(render(request, "housing/job_detail.html#job", context), "#job")


@require_POST
@role_required()
def job_finish(request: HttpRequest, pk: int) -> HttpResponse:
    """Take the best plan so far."""
    return _stop(request, pk, finish_job)


def _may_cancel(request: HttpRequest, pk: int) -> bool:
    return get_object_or_404(Job, pk=pk).by_id == request.user.pk or has_role(request.user)


@require_POST
@asks_first(lambda request, pk: questions.job_cancelled(request, pk) if _may_cancel(request, pk) else None)
def job_cancel(request: HttpRequest, pk: int) -> HttpResponse:
    """Cancel work: managers any, others what they started."""
    if not _may_cancel(request, pk):
        raise PermissionDenied("Only a manager or whoever started this work may cancel it. Ask one of them.")
    return _stop(request, pk, cancel_job)


def _stop(request: HttpRequest, pk: int, stop: Callable[..., Job]) -> HttpResponse:
    job = get_object_or_404(Job, pk=pk)
    try:
        stop(job=job, by=request.user)
    except JobRefused as refused:
        messages.error(request, str(refused))
    return redirect("housing:job-detail", pk=job.pk)
