"""Prints: choose what, look at it, take it as PDF; a big one is made in the background."""

from dataclasses import asdict
from math import ceil
from pathlib import Path

from django.db.models import QuerySet
from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_http_methods, require_safe

from housing.forms.prints import PrintForm
from housing.models import Job
from housing.pdf import pdf_problem
from housing.printing.asked import Asked
from housing.printing.kinds import (
    BATCH_COVER,
    BOX_LISTS,
    CUT_SHEETS,
    KINDS,
    LABELS,
    PICK_LIST,
    PrintKind,
)
from housing.printing.pdfs import ONE_FILE, make_print, title_of
from housing.printing.pieces import pages_of
from housing.queries.print_groups import BOX, LOCATION, PERSON
from housing.queries.prints import (
    BY_LOCATION,
    BY_NUMBER,
    boxes_of,
    number_without_box,
    selected_objects,
)
from housing.services.jobs import start_job
from housing.services.label_codes import give_codes
from objects.core.words import say
from objects.readers import reader_of

OF_BOXES = (CUT_SHEETS.key, LABELS.key)  # kinds that may be made into a file a box, a place, a person
AT_ONCE = {kind.key: kind.at_once for kind in KINDS.values()}


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


@require_http_methods(["GET", "HEAD", "POST"])
def print_pick_list(request: HttpRequest) -> HttpResponse:
    return _print(request, PICK_LIST)


@require_http_methods(["GET", "HEAD", "POST"])
def print_box_lists(request: HttpRequest) -> HttpResponse:
    return _print(request, BOX_LISTS)


@require_http_methods(["GET", "HEAD", "POST"])
def print_batch_cover(request: HttpRequest) -> HttpResponse:
    return _print(request, BATCH_COVER)


@require_safe
def print_file(request: HttpRequest, pk: int) -> FileResponse:
    """The PDF file of a finished print."""
    job = get_object_or_404(Job, pk=pk, kind=Job.Kind.PRINT)
    if not job.file or not job.file.storage.exists(job.file.name):
        raise Http404(
            _("This print has no file. It is not finished, or the file was removed: print it again.")
        )
    return FileResponse(job.file.open("rb"), as_attachment=True, filename=Path(job.file.name).name)


def _print(request: HttpRequest, kind: PrintKind) -> HttpResponse:
    """The selection in the address as a page, as PDF, or as a job for the worker if it is a big one."""
    reader = reader_of(request)
    form = PrintForm(request.GET, unit=reader.unit, paper=reader.paper)
    if not form.is_valid():
        return _choose(request, form, 400)
    if not form.has_selection:
        return redirect("housing:print-choose")
    clean, names = form.cleaned_data, say(kind.names)
    objects = _selected(form)
    keys = kind.keys(objects, clean["order"] or (BY_NUMBER if kind is CUT_SHEETS else BY_LOCATION))
    if not keys:
        return render(request, "housing/print_refused.html", {"names": names}, status=404)
    if kind.is_of_boxes:
        give_codes(boxes=keys)
    asked = Asked(
        what=kind.key,
        keys=tuple(keys),
        reader=reader,
        paper=clean["paper"],
        base_url=request.build_absolute_uri("/"),
        by=request.user.get_full_name() or request.user.get_username(),
        options={
            "layout": asdict(clean["layout"]),
            "start": clean["start"],
            "outlines": clean["outlines"],
            "campaign": clean["campaign"] and clean["campaign"].pk,
            "person": clean["person"] and clean["person"].pk,
            "week": clean["week"],
            "of": form.in_words(),
        },
    )
    address = request.GET.urlencode()
    back = f"{reverse('housing:print-choose')}?{address}"
    left_out = number_without_box(objects, keys) if kind.is_of_boxes else 0
    return answer(request, kind, asked, back, _left_out(left_out))


def answer(request: HttpRequest, kind: PrintKind, asked: Asked, back: str, note: str = "") -> HttpResponse:
    """A print that was chosen: as a page, as PDF, or as a job for the worker if it is a big one.

    back: where the page leads back to. note: what the page says above the print.
    """
    number, names = len(asked.keys), say(kind.names)
    wants_pdf = request.GET.get("format") == "pdf" or request.method == "POST"
    if (wants_pdf or number > AT_ONCE[kind.key]) and (problem := pdf_problem()):
        return render(request, "housing/print_no_pdf.html", {"problem": problem}, status=503)
    if request.method == "POST":
        files = request.POST.get("files", ONE_FILE)
        if files in dict(_ways(kind)):
            asked = asked.of(asked.keys, files=files)
        title = title_of(asked)
        job = start_job(kind=Job.Kind.PRINT, title=title, parameters=asked.kept(), by=request.user)
        return redirect("housing:job-detail", job.pk)
    if number > AT_ONCE[kind.key]:
        shown = {"names": names, "number": number, "pages": pages_of(asked), "ways": _ways(kind)}
        return render(request, "housing/print_large.html", shown)
    if wants_pdf:
        return _pdf(asked)
    address = request.GET.copy()
    address["format"] = "pdf"
    context = kind.context(asked) | {
        "back_url": back,
        "pdf_url": f"{request.path}?{address.urlencode()}",
        "pdf_problem": pdf_problem(),
        "note": note,
    }
    return render(request, kind.template, context)


@require_safe
def print_count(request: HttpRequest) -> HttpResponse:
    """What the selection in the address comes to, for the page on which it is chosen."""
    reader, shown = reader_of(request), {"number": None}
    form = PrintForm(request.GET, unit=reader.unit, paper=reader.paper)
    if form.is_valid() and form.has_selection:
        objects, clean = _selected(form), form.cleaned_data
        boxes = boxes_of(objects)
        labels = ceil((len(boxes) + clean["start"] - 1) / clean["layout"].on_a_sheet)
        left_out = number_without_box(objects, boxes)
        shown = {"number": len(boxes), "labels": labels, "left_out": left_out}
    return render(request, "housing/print_count.html", shown)


def _selected(form: PrintForm) -> QuerySet:
    """The objects of a selection; what the form does not ask for narrows nothing down."""
    clean = form.cleaned_data
    given = {name: clean[name] for name in ("campaign", "location", "person", "week") if name in clean}
    return selected_objects(ticked=[thing.pk for thing in clean["object"]], **given)


def _ways(kind: PrintKind) -> list[tuple[str, str]]:
    """Key and words of the files a print may be made into."""
    ways = [(ONE_FILE, _("One PDF file"))]
    if kind.key in OF_BOXES:
        ways += [
            (LOCATION, _("A ZIP with a PDF file for each place")),
            (PERSON, _("A ZIP with a PDF file for each person who cuts")),
            (BOX, _("A ZIP with a PDF file for each box, to be kept with its record")),
        ]
    return ways


def _left_out(number: int) -> str:
    if not number:
        return ""
    return ngettext(
        "%(shown)s object of your selection has no box with blanks yet. Plan the campaign first.",
        "%(shown)s objects of your selection have no box with blanks yet. Plan the campaign first.",
        number,
    ) % {"shown": f"{number:,}"}


def _pdf(asked: Asked) -> HttpResponse:
    file = make_print(asked=asked)
    name = f"{asked.what.replace('_', '-')}.pdf"
    return HttpResponse(
        file, content_type="application/pdf", headers={"Content-Disposition": f'inline; filename="{name}"'}
    )


def _choose(request: HttpRequest, form: PrintForm, status: int) -> HttpResponse:
    ticked = request.GET.getlist("object")
    return render(request, "housing/print_choose.html", {"form": form, "ticked": len(ticked)}, status=status)
