"""Files for cutting machines: of a box, of a design's trial, of sheets of a cutting plan."""

from collections.abc import Sequence
from io import BytesIO

from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.views.decorators.http import require_safe

from housing.core.errors import SizeRefused
from housing.forms.designs import TrialForm
from housing.forms.sheet_prints import SheetPrintForm
from housing.models import Design, Housing, PlannedSheet
from housing.printing.machine_files import (
    CONTENT_TYPES,
    MachineFile,
    box_files,
    layers_of,
    sheet_file,
    trial_files,
    zip_of,
)
from housing.queries.prints import boxes_to_print
from housing.queries.sheet_prints import sheets_to_print
from housing.views.designs import try_design
from objects.core.words import say
from objects.readers import reader_of

MOST_SHEETS = 40  # in one file: about 3 s of work


@require_safe
def machine_box(request: HttpRequest, pk: int) -> HttpResponse:
    """What files there are of a box, part by part."""
    housing = _housing(pk)
    files = box_files(housing)
    rows = [(file, _addresses("machine-blank", pk, number)) for number, file in enumerate(files)]
    thing = housing.contents.all()[0].object_id
    return _page(
        request,
        heading=say("Files for a cutting machine: {what}", what=housing.box_number),
        rows=rows,
        files=files,
        zip_url=reverse("housing:machine-box-zip", args=[pk]) if files else "",
        back=reverse("housing:object-detail", args=[thing]),
    )


@require_safe
def machine_blank(request: HttpRequest, pk: int, blank: int, kind: str) -> HttpResponse:
    """The file of one part of a box, by its place among the files of the box."""
    return _file(box_files(_housing(pk)), blank, kind)


@require_safe
def machine_box_zip(request: HttpRequest, pk: int) -> HttpResponse:
    files = box_files(_housing(pk))
    return _zip(files, files[0].name.rpartition("_")[0] if files else "box")


@require_safe
def machine_design(request: HttpRequest, pk: int) -> HttpResponse:
    """What files there are of what a design gives for the size in the address."""
    design = get_object_or_404(Design, pk=pk)
    files, refusal = _trial_files(request, design)
    given = request.GET.copy()
    given.pop("csrfmiddlewaretoken", None)  # of the form that led here
    asked = given.urlencode()
    rows = [
        (file, [(kind, f"{address}?{asked}") for kind, address in _addresses("machine-design-part", pk, i)])
        for i, file in enumerate(files)
    ]
    zip_url = f"{reverse('housing:machine-design-zip', args=[pk])}?{asked}" if files else ""
    return _page(
        request,
        heading=say("Files for a cutting machine: {what}", what=design),
        rows=rows,
        files=files,
        zip_url=zip_url,
        back=f"{reverse('housing:design-try', args=[pk])}?{asked}",
        refusal=refusal,
    )


@require_safe
def machine_design_part(request: HttpRequest, pk: int, part: int, kind: str) -> HttpResponse:
    files, _ = _trial_files(request, get_object_or_404(Design, pk=pk))
    return _file(files, part, kind)


@require_safe
def machine_design_zip(request: HttpRequest, pk: int) -> HttpResponse:
    files, _ = _trial_files(request, get_object_or_404(Design, pk=pk))
    return _zip(files, "design")


@require_safe
def machine_sheets(request: HttpRequest) -> HttpResponse:
    """What files there are of the sheets chosen in the address, the first ones where they are many."""
    reader = reader_of(request)
    form = SheetPrintForm(request.GET, paper=reader.paper, hand=reader.hand)
    keys = form.sheets() if form.is_valid() else []
    shown, refusals, rows = keys[:MOST_SHEETS], [], []
    files = []
    for sheet in sheets_to_print(shown):
        try:
            files.append(file := sheet_file(sheet))
        except SizeRefused as refused:
            refusals.append(reader.sentence(refused))
            continue
        rows.append((file, _addresses("machine-sheet", sheet.pk)))
    asked = request.GET.urlencode()
    left = len(keys) - len(shown)
    return _page(
        request,
        heading=say("Files for a cutting machine: sheets"),
        rows=rows,
        files=files,
        zip_url=f"{reverse('housing:machine-sheets-zip')}?{asked}" if files else "",
        back=f"{reverse('housing:print-sheet-layouts')}?{asked}&choose=1",
        refusal=" ".join(refusals),
        left=left,
    )


@require_safe
def machine_sheet(request: HttpRequest, pk: int, kind: str) -> HttpResponse:
    if not PlannedSheet.objects.filter(pk=pk).exists():
        raise Http404(say("There is no such sheet. Perhaps the campaign was planned again since."))
    try:
        return _file([sheet_file(sheets_to_print([pk])[0])], 0, kind)
    except SizeRefused as refused:
        raise Http404(str(refused)) from refused


@require_safe
def machine_sheets_zip(request: HttpRequest) -> HttpResponse:
    reader = reader_of(request)
    form = SheetPrintForm(request.GET, paper=reader.paper, hand=reader.hand)
    files = []
    for sheet in sheets_to_print(form.sheets()[:MOST_SHEETS] if form.is_valid() else []):
        try:
            files.append(sheet_file(sheet))
        except SizeRefused:
            continue  # the page before says so
    return _zip(files, "sheets")


def _housing(pk: int) -> Housing:
    found = get_object_or_404(Housing, pk=pk)
    if not found.design_id:
        raise Http404(say("This box has no design, so that there is nothing to cut."))
    return boxes_to_print([pk])[0]


def _trial_files(request: HttpRequest, design: Design) -> tuple[list[MachineFile], str]:
    """The files, or the sentence with which the size is refused."""
    reader = reader_of(request)
    form = TrialForm(request.GET, unit=reader.unit, design=design)
    trial = try_design(form, reader)
    if trial.enclosure is None:
        return [], reader.sentence(trial.refusal)
    return trial_files(trial.enclosure.parts, form.tried().board, str(design)), ""


def _addresses(name: str, *keys: int) -> list[tuple[str, str]]:
    """The address of a file in each format."""
    return [(kind, reverse(f"housing:{name}", args=[*keys, kind])) for kind in CONTENT_TYPES]


def _page(request: HttpRequest, *, files: Sequence[MachineFile], **context: object) -> HttpResponse:
    given = {"refusal": "", "left": 0, "layers": layers_of(files), **context}
    return render(request, "housing/machine_files.html", given)


def _file(files: Sequence[MachineFile], number: int, kind: str) -> HttpResponse:
    if kind not in CONTENT_TYPES or number >= len(files):
        raise Http404(say("There is no such file."))
    file = files[number]
    return HttpResponse(
        file.text(kind).encode(),
        content_type=CONTENT_TYPES[kind],
        headers={"Content-Disposition": f'attachment; filename="{file.name}.{kind}"'},
    )


def _zip(files: Sequence[MachineFile], name: str) -> FileResponse:
    if not files:
        raise Http404(say("There is nothing to make files of."))
    return FileResponse(BytesIO(zip_of(files)), as_attachment=True, filename=f"{name}.zip")
