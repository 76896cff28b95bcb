"""Taking in a list: hand it in, look at what was understood, agree or drop it, see the report, undo it."""

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse, StreamingHttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.http import content_disposition_header
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from housing.forms.imports import ColumnsForm, ImportForm, SaveForm
from housing.intake.imports import (
    LONG_LIST,
    drop_list,
    handed_in_before,
    match_list,
    missing_columns,
    read_rows,
    stage_list,
    take_anew,
)
from housing.intake.jobs import start_list_job, work_under_way
from housing.intake.report import XLSX_ROWS, Report, report_of
from housing.intake.saving import save_list
from housing.intake.undoing import UndoRefused, require_undoable, undo_list
from housing.models import Campaign, Job
from housing.views import questions
from objects.core.words import say
from objects.intake import IntakeRefused
from objects.intake.rows import STATUS_NAMES
from objects.models import ListImport
from objects.readers import reader_of
from objects.roles import MANAGER, SURVEYOR, has_role, role_required
from objects.views.asking import asks_first

Kind, State = ListImport.Kind, ListImport.State
SURVEYOR_KINDS = {Kind.OBJECTS, Kind.LOCATIONS}
ROWS_A_PAGE = 200
EARLIER = 30
SPREADSHEET = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


@role_required(SURVEYOR)
@require_http_methods(["GET", "POST"])
def import_start(request: HttpRequest) -> HttpResponse:
    """Hand in a list; the lists handed in before stand beneath."""
    asked = {"kind": kind} if (kind := request.GET.get("kind", "")) else None
    form = ImportForm(
        request.POST or None, request.FILES or None, kinds=_kinds_for(request.user), initial=asked
    )
    if request.method == "POST" and form.is_valid():
        file = form.cleaned_data["file"]
        try:
            listed = stage_list(
                kind=form.cleaned_data["kind"],
                file_name=file.name,
                data=file.read(),
                unit=form.cleaned_data["unit"],
                by=request.user,
            )
            return _read_or_show(request, listed)
        except IntakeRefused as refused:
            form.add_error("file", str(refused))
    earlier = ListImport.objects.defer("data", "sizes").select_related("by")[:EARLIER]
    shown = [(listed, [each for each in _named(listed.counts) if each[2]]) for listed in earlier]
    return render(request, "housing/import_start.html", {"form": form, "earlier": shown})


@role_required(SURVEYOR)
@require_http_methods(["GET", "POST"])
def import_preview(request: HttpRequest, pk: int) -> HttpResponse:
    """What was understood of a list, row by row; POST reads it again with other columns."""
    listed = _listed_for(request, pk)
    if job := work_under_way(listed):
        return redirect("housing:job-detail", pk=job.pk)
    if listed.state != State.STAGED:
        return _show_done(request, listed)
    if "headings" not in listed.reading:
        take_anew(listed)
    form = ColumnsForm(request.POST or None, listed=listed)
    if request.method == "POST" and form.is_valid():
        chosen = form.cleaned_data
        try:
            match_list(
                listed=listed, columns=form.columns(), unit=chosen["unit"], sheet=chosen.get("sheet", "")
            )
        except IntakeRefused as refused:
            form.add_error(None, str(refused))
        else:
            return _read_or_show(request, listed)
    return _show_staged(request, listed, form)


@role_required(SURVEYOR)
@require_POST
def import_read(request: HttpRequest, pk: int) -> HttpResponse:
    """Read a staged list once more, against the records as they are now."""
    listed = _listed_for(request, pk)
    listed.read_at = None
    try:
        if listed.reading["rows"] < LONG_LIST:
            read_rows(listed=listed)
    except IntakeRefused as refused:
        messages.error(request, str(refused))
        return redirect("housing:import-preview", pk=pk)
    return _read_or_show(request, listed)


@role_required(SURVEYOR)
@require_POST
def import_save(request: HttpRequest, pk: int) -> HttpResponse:
    """Save the rows of a list that were not refused."""
    listed = _listed_for(request, pk)
    form = SaveForm(request.POST, listed=listed)
    if not form.is_valid():
        for error in form.errors.values():
            messages.error(request, " ".join(error))
        return redirect("housing:import-preview", pk=pk)
    campaign = form.cleaned_data.get("campaign")
    if listed.reading.get("rows", 0) >= LONG_LIST and listed.state == State.STAGED:
        return _have_done(request, Job.Kind.IMPORT, listed, campaign)
    try:
        counts = save_list(listed=listed, campaign=campaign, by=request.user)
    except IntakeRefused as refused:
        messages.error(request, str(refused))
    else:
        words = ", ".join(f"{count} {name.lower()}" for _, name, count in _named(counts) if count)
        messages.success(
            request, say("“{file_name}” is saved: {words}.", file_name=listed.file_name, words=words)
        )
    return redirect("housing:import-preview", pk=pk)


@role_required(SURVEYOR)
@require_POST
@asks_first(lambda request, pk: questions.list_aside(request, pk=_listed_for(request, pk).pk))
def import_drop(request: HttpRequest, pk: int) -> HttpResponse:
    """Put a list aside unsaved."""
    try:
        listed = drop_list(listed=_listed_for(request, pk))
        messages.success(
            request, say("“{file_name}” was put aside. Nothing was saved.", file_name=listed.file_name)
        )
    except IntakeRefused as refused:
        messages.error(request, str(refused))
    return redirect("housing:import-start")


@role_required(SURVEYOR)
@require_POST
@asks_first(lambda request, pk: questions.list_undone(request, pk=_listed_for(request, pk).pk))
def import_undo(request: HttpRequest, pk: int) -> HttpResponse:
    """Take back what a saved list did, if nothing was built on it."""
    listed = _listed_for(request, pk)
    try:
        require_undoable(listed)
        if listed.reading.get("rows", 0) >= LONG_LIST:
            return _have_done(request, Job.Kind.UNDO, listed)
        undo_list(listed=listed, by=request.user)
    except UndoRefused as refused:
        return _show_done(request, listed, refused)
    messages.success(
        request, say("“{file_name}” is undone: all is as it was before.", file_name=listed.file_name)
    )
    return redirect("housing:import-preview", pk=pk)


@role_required(SURVEYOR)
@require_safe
def import_report(request: HttpRequest, pk: int, form: str) -> HttpResponse:
    """What became of every row, or of those with one status, as CSV or as a spreadsheet."""
    listed = _listed_for(request, pk)
    rows = report_of(listed, _status_in(request)).order_by("line")
    report = Report(listed)
    if form == "xlsx" and rows.count() > XLSX_ROWS:
        messages.error(
            request,
            say(
                "A spreadsheet of more than {xlsx_rows:,} rows takes too long to write. Take it as "
                "CSV, which spreadsheets open too, or choose one status.",
                xlsx_rows=XLSX_ROWS,
            ),
        )
        return redirect("housing:import-preview", pk=pk)
    if form == "xlsx":
        answer = HttpResponse(report.xlsx(rows), content_type=SPREADSHEET)
    else:
        answer = StreamingHttpResponse(report.csv(rows), content_type="text/csv; charset=utf-8")
    return _as_download(answer, f"{report.file_name}.{form}")


def _as_download(answer: HttpResponse, name: str) -> HttpResponse:
    answer["Content-Disposition"] = content_disposition_header(as_attachment=True, filename=name)
    return answer


def _kinds_for(user) -> list[tuple[str, str]]:
    return [(kind.value, kind.label) for kind in Kind if kind in SURVEYOR_KINDS or has_role(user, MANAGER)]


def _listed_for(request: HttpRequest, pk: int) -> ListImport:
    listed = get_object_or_404(ListImport.objects.defer("data", "sizes").select_related("by"), pk=pk)
    if listed.kind not in dict(_kinds_for(request.user)):
        raise PermissionDenied(
            say(
                "Lists of this kind ({kind}) need the role manager. Ask a manager to do it.",
                kind=listed.get_kind_display(),
            )
        )
    return listed


def _read_or_show(request: HttpRequest, listed: ListImport) -> HttpResponse:
    """A long list is read by the worker first; a short one is read already."""
    if listed.read_at is None and not missing_columns(listed):
        return _have_done(request, Job.Kind.READ, listed)
    return redirect("housing:import-preview", pk=listed.pk)


def _have_done(
    request: HttpRequest, kind: str, listed: ListImport, campaign: Campaign | None = None
) -> HttpResponse:
    job = start_list_job(kind=kind, listed=listed, campaign=campaign, by=request.user)
    return redirect("housing:job-detail", pk=job.pk)


def _show_staged(request: HttpRequest, listed: ListImport, form: ColumnsForm) -> HttpResponse:
    refused = listed.counts.get("refused", 0)
    return render(
        request,
        "housing/import_preview.html",
        {
            "listed": listed,
            "missing": missing_columns(listed),
            "before": handed_in_before(listed),
            "refused": refused,
            "usable": sum(listed.counts.values()) - refused,
            "columns_form": form,
            "save_form": SaveForm(listed=listed),
            **_rows_shown(request, listed),
        },
    )


def _show_done(request: HttpRequest, listed: ListImport, refused: UndoRefused | None = None) -> HttpResponse:
    context = {
        "listed": listed,
        "to_check": listed.kind == Kind.OBJECTS and listed.counts.get("check", 0),
        "undo_refused": refused,
        "can_be_undone": _can_be_undone(listed),
        **_rows_shown(request, listed),
    }
    return render(request, "housing/import_done.html", context, status=409 if refused else 200)


def _can_be_undone(listed: ListImport) -> bool:
    try:
        require_undoable(listed)
    except UndoRefused:
        return False
    return True


def _rows_shown(request: HttpRequest, listed: ListImport) -> dict:
    """One page of rows, and how many there are of each status; of a list that waits not all are kept."""
    status = _status_in(request)
    page = Paginator(report_of(listed, status), ROWS_A_PAGE).get_page(request.GET.get("page"))
    total = listed.counts.get(status, 0) if status else sum(listed.counts.values())
    return {
        "counts": _named(listed.counts),
        "total": sum(listed.counts.values()),
        "status": status,
        "page": page,
        "rows": Report(listed, reader_of(request)).rows(page),
        "not_kept": total - page.paginator.count,
    }


def _status_in(request: HttpRequest) -> str:
    status = request.GET.get("status", "")
    return status if status in STATUS_NAMES else ""


def _named(counts: dict[str, int]) -> list[tuple[str, str, int]]:
    return [(status, say(name), counts.get(status, 0)) for status, name in STATUS_NAMES.items()]
