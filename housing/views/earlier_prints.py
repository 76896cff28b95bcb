"""Prints made in the background: those of the reader, going on with one that was stopped, removing one."""

from collections.abc import Callable

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from housing.models import Job
from housing.printing.pieces import drop_pieces
from housing.services.jobs import JobRefused, drop_print, go_on_with
from objects.roles import has_role

SHOWN = 50  # of a reader's prints, the latest first


@require_safe
def print_list(request: HttpRequest) -> HttpResponse:
    """The reader's own prints with what came of them; of a manager those of everybody."""
    prints = Job.objects.filter(kind=Job.Kind.PRINT).select_related("by")
    if not has_role(request.user):
        prints = prints.filter(by=request.user)
    return render(request, "housing/print_list.html", {"prints": prints[:SHOWN], "most": SHOWN})


@require_POST
def print_go_on(request: HttpRequest, pk: int) -> HttpResponse:
    """Go on with a print that was cancelled or failed."""
    job = _own(request, pk)
    _try(request, lambda: go_on_with(job=job, by=request.user))
    return redirect("housing:job-detail", pk=pk)


@require_POST
def print_drop(request: HttpRequest, pk: int) -> HttpResponse:
    """Remove a print that is over, with its file and its pieces."""
    job = _own(request, pk)
    if _try(request, lambda: drop_print(job=job, by=request.user)):
        drop_pieces(pk)
        messages.success(request, _("“%(title)s” is removed.") % {"title": job.title})
    return redirect("housing:print-list")


def _own(request: HttpRequest, pk: int) -> Job:
    job = get_object_or_404(Job, pk=pk, kind=Job.Kind.PRINT)
    if job.by_id != request.user.pk and not has_role(request.user):
        raise PermissionDenied(
            _("Only a manager or whoever asked for this print may do that. Ask one of them.")
        )
    return job


def _try(request: HttpRequest, move: Callable[[], object]) -> bool:
    try:
        move()
    except JobRefused as refused:
        messages.error(request, str(refused))
        return False
    return True
