"""Taking the catalogue out: choose the file, get it at once, or have a big one written in the background."""

from pathlib import Path

from django.http import FileResponse, Http404, HttpRequest, HttpResponse, QueryDict, StreamingHttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from housing.forms.exports import PREFIX, ExportForm
from housing.models import Job
from housing.printing.exports import FORMATS, Wanted, objects_of, stream
from housing.printing.list_files import ListRefused
from housing.services.jobs import start_job
from objects.readers import reader_of

AT_ONCE = 5_000  # objects; about 2 s of work as a spreadsheet, measured


@require_safe
def export_choose(request: HttpRequest) -> HttpResponse:
    """What is taken out, by the filter in the address, and the choice of the file."""
    return _choose(request, ExportForm())


@require_http_methods(["GET", "HEAD", "POST"])
def export_write(request: HttpRequest) -> HttpResponse:
    """The file; a big one is asked about first and then written by the worker."""
    form = ExportForm(request.GET)
    if not form.is_valid():
        return _choose(request, form, 400)
    wanted = form.wanted(_filter_of(request), reader_of(request).unit)
    try:
        number = objects_of(wanted).count()
        if request.method == "POST":
            title = _("A list of {number:,} objects as {upper}").format(
                number=number, upper=wanted.format.upper()
            )
            parameters = wanted.as_parameters()
            job = start_job(kind=Job.Kind.EXPORT, title=title, parameters=parameters, by=request.user)
            return redirect("housing:job-detail", job.pk)
        if number > AT_ONCE:
            return render(request, "housing/export_large.html", {"number": number})
        return _file(wanted)
    except ListRefused as refused:
        form.add_error(None, str(refused))
        return _choose(request, form, 400)


@require_safe
def export_file(request: HttpRequest, pk: int) -> FileResponse:
    """The file that the worker has written."""
    job = get_object_or_404(Job, pk=pk, kind=Job.Kind.EXPORT)
    if not job.file or not job.file.storage.exists(job.file.name):
        raise Http404(
            _("This list has no file. It is not written yet, or the file was removed: take it out again.")
        )
    return FileResponse(job.file.open("rb"), as_attachment=True, filename=Path(job.file.name).name)


def _file(wanted: Wanted) -> StreamingHttpResponse:
    name = f"objects-{timezone.localdate():%Y-%m-%d}.{wanted.format}"
    return StreamingHttpResponse(
        stream(wanted),
        content_type=FORMATS[wanted.format].content_type,
        headers={"Content-Disposition": f'attachment; filename="{name}"'},
    )


def _choose(request: HttpRequest, form: ExportForm, status: int = 200) -> HttpResponse:
    filter_address = _filter_of(request)
    try:
        number = objects_of(Wanted("csv", filter_address)).count()
    except ListRefused as refused:
        return render(request, "housing/export_refused.html", {"refusal": str(refused)}, status=400)
    return render(
        request,
        "housing/export_choose.html",
        {
            "form": form,
            "number": number,
            "at_once": AT_ONCE,
            "filter_address": filter_address,
            "filter_pairs": _pairs(filter_address),
        },
        status=status,
    )


def _filter_of(request: HttpRequest) -> str:
    """The part of the address that is the object list's: what is left blank there narrows nothing."""
    kept = QueryDict(mutable=True)
    for name, values in request.GET.lists():
        if not name.startswith(PREFIX) and name not in ("page", "sort") and any(values):
            kept.setlist(name, values)
    return kept.urlencode()


def _pairs(filter_address: str) -> list[tuple[str, str]]:
    return [(name, value) for name, values in QueryDict(filter_address).lists() for value in values]
