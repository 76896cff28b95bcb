"""What was done in a period, what it cost and what is left: for the director or whoever pays."""

from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from housing.forms.reports import ReportForm
from housing.pdf import pdf_problem
from housing.printing.report_pdf import report_context
from housing.printing.report_pdf import report_pdf as pdf_of
from housing.printing.report_workbook import report_workbook
from housing.queries.reports import Report, report_of
from objects.readers import reader_of

XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


@require_safe
def report(request: HttpRequest) -> HttpResponse:
    form = ReportForm(request.GET)
    if not form.is_valid():
        return _refused(request, form)
    found = _asked(request, form)
    asked = {"from": found.period.first.isoformat(), "to": found.period.last.isoformat()}
    if found.campaign:
        asked["campaign"] = str(found.campaign.pk)
    context = report_context(found, reader_of(request)) | {
        "form": form,
        "asked": urlencode(asked),
        "pdf_problem": pdf_problem(),
    }
    return render(request, "housing/report.html", context)


@require_safe
def report_pdf(request: HttpRequest) -> HttpResponse:
    form = ReportForm(request.GET)
    if not form.is_valid():
        return _refused(request, form)
    if problem := pdf_problem():
        return render(request, "housing/print_no_pdf.html", {"problem": problem}, status=503)
    found = _asked(request, form)
    return _file(found, pdf_of(found, reader_of(request)), "pdf", "application/pdf")


@require_safe
def report_xlsx(request: HttpRequest) -> HttpResponse:
    form = ReportForm(request.GET)
    if not form.is_valid():
        return _refused(request, form)
    found = _asked(request, form)
    return _file(found, report_workbook(found, reader_of(request)), "xlsx", XLSX)


def _asked(request: HttpRequest, form: ReportForm) -> Report:
    """The report that was asked for; what people cost is told to managers only."""
    clean = form.cleaned_data
    shows_costs = reader_of(request).is_manager
    return report_of(clean["campaign"], clean["from"], clean["to"], shows_costs=shows_costs)


def _refused(request: HttpRequest, form: ReportForm) -> HttpResponse:
    return render(request, "housing/report.html", {"form": form}, status=400)


def _file(found: Report, data: bytes, ending: str, content_type: str) -> HttpResponse:
    of = f"{found.campaign.pk}-" if found.campaign else ""
    name = f"report-{of}{found.period.first}-{found.period.last}.{ending}"
    return HttpResponse(
        data,
        content_type=content_type,
        headers={"Content-Disposition": f'attachment; filename="{name}"'},
    )
