"""The purchase list of a campaign: page, table and print, of all suppliers or of one."""

from collections.abc import Callable, Sequence
from decimal import Decimal

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.utils.text import slugify
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from housing.core.budget.lines import Section
from housing.models import Budget, Campaign
from housing.pdf import pdf_problem
from housing.printing.purchase_list import purchase_csv, purchase_pdf
from housing.queries.budgets import changes_since, live_budget, told_budget
from housing.queries.purchases import SupplierOrder, orders_of
from objects.readers import Reader, reader_of


@require_safe
def campaign_purchases(request: HttpRequest, pk: int) -> HttpResponse:
    """What is to be ordered from whom, as the live budget has it."""
    campaign = get_object_or_404(Campaign, pk=pk)
    stored = live_budget(campaign)
    context = {"campaign": campaign, "stored": stored}
    if stored:
        budget, orders, today = told_budget(stored), orders_of(stored), timezone.localdate()
        context |= {
            "budget": budget,
            "changes": changes_since(stored),
            "orders": [(order, order.comes_on(today)) for order in orders],
            "total": sum((order.total for order in orders), Decimal()),
            "on_hand": budget.of(Section.ON_HAND),
            "pdf_problem": pdf_problem(),
        }
    return render(request, "housing/campaign_purchases.html", context)


@require_safe
def campaign_purchases_csv(request: HttpRequest, pk: int) -> HttpResponse:
    return _file(request, pk, "csv", "text/csv; charset=utf-8", purchase_csv)


@require_safe
def campaign_purchases_pdf(request: HttpRequest, pk: int) -> HttpResponse:
    if problem := pdf_problem():
        return render(request, "housing/print_no_pdf.html", {"problem": problem}, status=503)
    return _file(request, pk, "pdf", "application/pdf", purchase_pdf)


def _file(
    request: HttpRequest,
    pk: int,
    ending: str,
    content_type: str,
    write: Callable[[Budget, Sequence[SupplierOrder], Reader], bytes],
) -> HttpResponse:
    """A file of the orders of all suppliers, or of the one that the address names."""
    campaign = get_object_or_404(Campaign, pk=pk)
    stored = live_budget(campaign)
    if stored is None:
        raise Http404(_("This campaign has no budget yet. Work it out on its budget page first."))
    orders = orders_of(stored, request.GET.get("supplier", ""))
    if not orders:
        raise Http404(_("Nothing is to be ordered there by the budget as it is now."))
    name = "-".join(filter(None, ("purchases", str(campaign.pk), _one_name(request, orders))))
    return HttpResponse(
        write(stored, orders, reader_of(request)),
        content_type=content_type,
        headers={"Content-Disposition": f'attachment; filename="{name}.{ending}"'},
    )


def _one_name(request: HttpRequest, orders: Sequence[SupplierOrder]) -> str:
    return slugify(orders[0].name) if request.GET.get("supplier") else ""
