"""Taking in a list: hand it in, look at what was understood, agree or drop it."""

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from housing.forms.imports import ColumnsForm, ImportForm, SaveForm
from housing.intake.imports import drop_list, match_list, preview_list, save_list, stage_list
from housing.intake.jobs import LONG_LIST
from housing.models import Job
from housing.services.jobs import start_job
from objects.intake import IntakeRefused
from objects.intake.rows import CHECK, REFUSED, STATUS_NAMES
from objects.models import ListImport
from objects.roles import MANAGER, SURVEYOR, has_role, role_required

Kind = ListImport.Kind
SURVEYOR_KINDS = {Kind.OBJECTS, Kind.LOCATIONS}
ROWS_A_PAGE = 200
PROBLEMS_SHOWN = 200
COLUMNS_SHOWN = 8
EARLIER = 30


@role_required(SURVEYOR)
@require_http_methods(["GET", "POST"])
def import_start(request: HttpRequest) -> HttpResponse:
    """Hand in a list; the lists handed in before stand beneath."""
    form = ImportForm(request.POST or None, request.FILES or None, kinds=_kinds_for(request.user))
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
            return redirect("housing:import-preview", pk=listed.pk)
        except IntakeRefused as refused:
            form.add_error("file", str(refused))
    earlier = ListImport.objects.defer("data").select_related("by")[:EARLIER]
    return render(request, "housing/import_start.html", {"form": form, "earlier": earlier})


@role_required(SURVEYOR)
@require_http_methods(["GET", "POST"])
def import_preview(request: HttpRequest, pk: int) -> HttpResponse:
    """What was understood of a list, row by row; POST reads it again with other columns."""
    listed = _listed_for(request, pk)
    if listed.state != ListImport.State.STAGED:
        return _show_done(request, listed)
    understood = preview_list(listed=listed)
    form = ColumnsForm(request.POST or None, understood=understood, unit=listed.unit)
    if request.method == "POST" and form.is_valid():
        match_list(listed=listed, columns=form.columns(), unit=form.cleaned_data["unit"])
        return redirect("housing:import-preview", pk=pk)
    return _show(request, listed, understood, form, SaveForm(listed=listed))


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
    if sum(listed.counts.values()) >= LONG_LIST and listed.state == ListImport.State.STAGED:
        job = start_job(
            kind=Job.Kind.IMPORT,
            title=f"Save {listed.file_name}",
            parameters={"list": listed.pk, "campaign": campaign.pk if campaign else None},
            by=request.user,
        )
        return redirect("housing:job-detail", pk=job.pk)
    try:
        counts = save_list(listed=listed, campaign=campaign, by=request.user)
    except IntakeRefused as refused:
        messages.error(request, str(refused))
    else:
        words = ", ".join(f"{count} {name.lower()}" for name, count in _named(counts) if count)
        messages.success(request, f"“{listed.file_name}” is saved: {words}.")
    return redirect("housing:import-preview", pk=pk)


@role_required(SURVEYOR)
@require_POST
def import_drop(request: HttpRequest, pk: int) -> HttpResponse:
    """Put a list aside unsaved."""
    try:
        listed = drop_list(listed=_listed_for(request, pk))
        messages.success(request, f"“{listed.file_name}” was put aside. Nothing was saved.")
    except IntakeRefused as refused:
        messages.error(request, str(refused))
    return redirect("housing:import-start")


def _kinds_for(user) -> list[tuple[str, str]]:
    return [(kind.value, kind.label) for kind in Kind if kind in SURVEYOR_KINDS or has_role(user, MANAGER)]


def _listed_for(request: HttpRequest, pk: int) -> ListImport:
    listed = get_object_or_404(ListImport, pk=pk)
    if listed.kind not in dict(_kinds_for(request.user)):
        raise PermissionDenied(
            f"Lists of this kind ({listed.get_kind_display()}) need the role manager. Ask a manager to do it."
        )
    return listed


def _show(request, listed, understood, columns_form, save_form) -> HttpResponse:
    page = Paginator(understood.rows_by_urgency, ROWS_A_PAGE).get_page(request.GET.get("page"))
    return render(
        request,
        "housing/import_preview.html",
        {
            "listed": listed,
            "understood": understood,
            "unused": understood.unmatched[:COLUMNS_SHOWN],
            "unused_too": understood.unmatched[COLUMNS_SHOWN:],
            "counts": _named(understood.counts),
            "refused": understood.counts["refused"],
            "usable": len(understood.rows) - understood.counts["refused"],
            "columns_form": columns_form,
            "save_form": save_form,
            "page": page,
        },
    )


def _show_done(request: HttpRequest, listed: ListImport) -> HttpResponse:
    problems = listed.rows.filter(status__in=[REFUSED, CHECK])
    shown = sorted(problems, key=lambda row: row.status != REFUSED)[:PROBLEMS_SHOWN]
    return render(
        request,
        "housing/import_done.html",
        {
            "listed": listed,
            "counts": _named(listed.counts),
            "problems": [
                (row.line, row.key, row.status, STATUS_NAMES[row.status], row.messages) for row in shown
            ],
            "more": problems.count() - len(shown),
            "to_check": listed.kind == Kind.OBJECTS and listed.counts.get(CHECK, 0),
        },
    )


def _named(counts: dict[str, int]) -> list[tuple[str, int]]:
    return [(name, counts.get(status, 0)) for status, name in STATUS_NAMES.items()]
