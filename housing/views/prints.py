"""Prints: choose what, look at it, take it as PDF; a big one is made in the background."""

from pathlib import Path

from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from housing.forms.prints import PrintForm
from housing.models import Job
from housing.pdf import pdf_problem
from housing.printing.labels import labels_context
from housing.printing.pdfs import CUT_SHEETS, LABELS, cut_sheets_context, make_print, print_parameters
from housing.queries.prints import boxes_of, boxes_to_print, number_without_box, selected_objects
from housing.services.jobs import start_job
from housing.services.label_codes import give_codes
from objects.readers import reader_of

AT_ONCE = {CUT_SHEETS: 24, LABELS: 240}  # about 3 s of work; more is made in the background
NAMES = {CUT_SHEETS: "cut sheets", LABELS: "labels"}


@require_safe
def print_choose(request: HttpRequest) -> HttpResponse:
    reader = reader_of(request)
    form = PrintForm(request.GET, unit=reader.unit, paper=reader.paper)
    return _choose(request, form, 200)


@require_http_methods(["GET", "HEAD", "POST"])
def print_cut_sheets(request: HttpRequest) -> HttpResponse:
    return _print(request, CUT_SHEETS)


@require_http_methods(["GET", "HEAD", "POST"])
def print_labels(request: HttpRequest) -> HttpResponse:
    return _print(request, LABELS)


@require_safe
def print_file(request: HttpRequest, pk: int) -> FileResponse:
    """The PDF file of a finished print."""
    job = get_object_or_404(Job, pk=pk, kind=Job.Kind.PRINT)
    if not job.file or not job.file.storage.exists(job.file.name):
        raise Http404("This print has no file. It is not finished, or the file was removed: print it again.")
    return FileResponse(job.file.open("rb"), as_attachment=True, filename=Path(job.file.name).name)


def _print(request: HttpRequest, what: str) -> HttpResponse:
    """The selection in the address as a page, as PDF, or as a job for the worker if it is a big one."""
    reader = reader_of(request)
    form = PrintForm(request.GET, unit=reader.unit, paper=reader.paper)
    if not form.is_valid():
        return _choose(request, form, 400)
    if not form.has_selection:
        return redirect("housing:print-choose")
    clean = form.cleaned_data
    objects = selected_objects(
        ticked=[thing.pk for thing in clean["object"]], campaign=clean["campaign"], location=clean["location"]
    )
    boxes = boxes_of(objects)
    if not boxes:
        return render(request, "housing/print_refused.html", {"names": NAMES[what]}, status=404)
    give_codes(boxes=boxes)
    wants_pdf = request.GET.get("format") == "pdf" or request.method == "POST"
    if (wants_pdf or len(boxes) > AT_ONCE[what]) and (problem := pdf_problem()):
        return render(request, "housing/print_no_pdf.html", {"problem": problem}, status=503)
    parameters = print_parameters(
        what=what,
        boxes=boxes,
        reader=reader,
        paper=clean["paper"],
        base_url=request.build_absolute_uri("/"),
        layout=clean["layout"],
        start=clean["start"],
    )
    if request.method == "POST":
        title = f"{len(boxes):,} {NAMES[what]}"
        job = start_job(kind=Job.Kind.PRINT, title=title, parameters=parameters, by=request.user)
        return redirect("housing:job-detail", job.pk)
    if len(boxes) > AT_ONCE[what]:
        return render(request, "housing/print_large.html", {"names": NAMES[what], "number": len(boxes)})
    if wants_pdf:
        return _pdf(what, parameters)
    return _page(request, what, boxes, clean, number_without_box(objects, boxes))


def _page(request: HttpRequest, what: str, boxes: list[int], clean: dict, left_out: int) -> HttpResponse:
    base_url, paper = request.build_absolute_uri("/"), clean["paper"]
    housings = boxes_to_print(boxes)
    if what == LABELS:
        context = labels_context(housings, paper, base_url, clean["layout"], clean["start"])
    else:
        context = cut_sheets_context(housings, reader_of(request), paper, base_url)
    address = request.GET.copy()
    back = f"{reverse('housing:print-choose')}?{address.urlencode()}"
    address["format"] = "pdf"
    context |= {
        "back_url": back,
        "pdf_url": f"{request.path}?{address.urlencode()}",
        "pdf_problem": pdf_problem(),
        "note": _left_out(left_out),
    }
    return render(request, f"print/{what}.html", context)


def _left_out(number: int) -> str:
    if not number:
        return ""
    objects, have = ("1 object", "has") if number == 1 else (f"{number:,} objects", "have")
    return f"{objects} of your selection {have} no box with blanks yet. Plan the campaign first."


def _pdf(what: str, parameters: dict) -> HttpResponse:
    file = make_print(parameters=parameters, progress=lambda percent, stage: None)
    name = f"{what.replace('_', '-')}.pdf"
    return HttpResponse(
        file, content_type="application/pdf", headers={"Content-Disposition": f'inline; filename="{name}"'}
    )


def _choose(request: HttpRequest, form: PrintForm, status: int) -> HttpResponse:
    ticked = request.GET.getlist("object")
    return render(request, "housing/print_choose.html", {"form": form, "ticked": len(ticked)}, status=status)
