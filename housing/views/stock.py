"""The stock beside what the running campaigns need; where an entry of a ledger comes from; offcut labels."""

from datetime import timedelta

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from boards.models import Board, Offcut, StockMovement
from boards.services import StockRefused
from housing.models import PlannedSheet
from housing.pdf import pdf_problem, render_pdf
from housing.printing.offcut_labels import offcut_labels_context
from housing.queries.stock_needs import sheets_waiting_for_board, stock_needs
from housing.services.stock import undo_entry
from objects.readers import reader_of
from objects.roles import MAKER, role_required

NEW_DAYS = 1  # kept today or yesterday
MOST_LABELS = 200  # about 3 s of work
SHOWN = 20


@require_safe
def stock(request: HttpRequest) -> HttpResponse:
    """What to order by when, and which sheets wait for board."""
    needs, waiting = stock_needs(), sheets_waiting_for_board()
    to_order = [one for one in needs if one.is_short or one.is_low]
    context = {
        "to_order": sorted(to_order, key=lambda one: one.order_by or one.shortage.since or one.today),
        "enough": [one for one in needs if not (one.is_short or one.is_low)],
        "waiting": waiting[:SHOWN],
        "waiting_number": waiting.count(),
    }
    return render(request, "housing/stock.html", context)


@require_safe
def stock_sheet(request: HttpRequest, pk: int) -> HttpResponse:
    """From an entry of a ledger to the sheet that it was made for, in its plan."""
    sheet = PlannedSheet.objects.filter(pk=pk).select_related("plan").first()
    if sheet is None:
        messages.info(request, _("That sheet is not in any plan now: its campaign was planned again since."))
        return redirect("boards:board-list")
    plan = reverse("housing:campaign-plan", args=[sheet.plan.campaign_id])
    return redirect(f"{plan}#sheet-{sheet.position}")


@require_POST
@role_required(MAKER)
def stock_undo(request: HttpRequest, pk: int) -> HttpResponse:
    """Reverse an entry that was made for a planned sheet."""
    movement = get_object_or_404(StockMovement.objects.select_related("sheet_size__board"), pk=pk)
    try:
        undo_entry(movement=movement, by=request.user)
    except StockRefused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, _("The entry is reversed."))
    return redirect("boards:board-detail", pk=movement.sheet_size.board_id)


@require_safe
def offcut_label(request: HttpRequest, pk: int) -> HttpResponse:
    """The label of one offcut as PDF."""
    offcut = get_object_or_404(Offcut.objects.select_related("board"), pk=pk)
    if problem := pdf_problem():
        return render(request, "housing/print_no_pdf.html", {"problem": problem}, status=503)
    return _pdf(_context(request, [offcut]), f"offcut-{offcut.pk}")


@require_safe
def offcut_labels(request: HttpRequest) -> HttpResponse:
    """Labels of the offcuts that came onto the rack today or yesterday, of one board or of all."""
    board = request.GET.get("board", "")
    kept = Offcut.objects.filter(gone_at=None).select_related("board").order_by("pk")
    back = reverse("boards:board-list")
    if board.isascii() and board.isdecimal() and len(board) < 10:
        one = get_object_or_404(Board, pk=int(board))
        kept, back = kept.filter(board=one), reverse("boards:board-detail", args=[one.pk]) + "#rack"
    since = timezone.now() - timedelta(days=NEW_DAYS)
    offcuts = list(kept.filter(kept_at__date__gte=timezone.localdate(since))[:MOST_LABELS])
    if not offcuts:
        messages.info(
            request, _("No offcut came onto the rack today or yesterday. Each one's page has its label.")
        )
        return redirect(back)
    context = _context(request, offcuts)
    if request.GET.get("format") != "pdf":
        address = request.GET.copy()
        address["format"] = "pdf"
        context |= {
            "back_url": back,
            "pdf_url": f"{request.path}?{address.urlencode()}",
            "pdf_problem": pdf_problem(),
        }
        return render(request, "print/offcut_labels.html", context)
    if problem := pdf_problem():
        return render(request, "housing/print_no_pdf.html", {"problem": problem}, status=503)
    return _pdf(context, "offcuts")


def _context(request: HttpRequest, offcuts: list[Offcut]) -> dict:
    reader = reader_of(request)
    return offcut_labels_context(offcuts, reader, request.build_absolute_uri("/"))


def _pdf(context: dict, name: str) -> HttpResponse:
    return HttpResponse(
        render_pdf(render_to_string("print/offcut_labels.html", context)),
        content_type="application/pdf",
        headers={"Content-Disposition": f'inline; filename="{name}.pdf"'},
    )
