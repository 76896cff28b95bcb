"""A budget as a file, live or frozen: PDF for whoever pays, a workbook for the office that changes a rate."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from housing.models import Budget
from housing.pdf import pdf_problem
from housing.printing.budget_pdf import budget_pdf as pdf_of
from housing.printing.budget_workbook import budget_workbook
from housing.queries.budgets import baselines, changes_since, live_budget
from objects.readers import reader_of

XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


@require_safe
def budget_pdf(request: HttpRequest, pk: int, budget: int) -> HttpResponse:
    stored = _stored(pk, budget)
    if problem := pdf_problem():
        return render(request, "housing/print_no_pdf.html", {"problem": problem}, status=503)
    return _file(stored, pdf_of(stored, reader_of(request), _changes(stored)), "pdf", "application/pdf")


@require_safe
def budget_xlsx(request: HttpRequest, pk: int, budget: int) -> HttpResponse:
    stored = _stored(pk, budget)
    live = live_budget(stored.campaign) if stored.frozen_at else None
    others = [live] if live else list(baselines(stored.campaign)) if not stored.frozen_at else []
    book = budget_workbook(stored, reader_of(request), others, _changes(stored))
    return _file(stored, book, "xlsx", XLSX)


def _stored(pk: int, budget: int) -> Budget:
    return get_object_or_404(Budget.objects.select_related("campaign"), pk=budget, campaign=pk)


def _changes(stored: Budget) -> list[str]:
    """What has changed since a live budget was made; a frozen one rests on nothing that could."""
    return [] if stored.frozen_at else changes_since(stored)


def _file(stored: Budget, data: bytes, ending: str, content_type: str) -> HttpResponse:
    name = f"budget-{stored.campaign_id}-{stored.pk}.{ending}"
    return HttpResponse(
        data,
        content_type=content_type,
        headers={"Content-Disposition": f'attachment; filename="{name}"'},
    )
