"""One piece of long work: how far it is, and what came of it."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from housing.models import Job


@require_safe
def job_detail(request: HttpRequest, pk: int) -> HttpResponse:
    job = get_object_or_404(Job, pk=pk)
    part = "#progress" if request.htmx else ""
    return render(request, f"housing/job_detail.html{part}", {"job": job})
