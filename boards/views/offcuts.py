"""Offcuts: put on the rack, taken, thrown away, put back; a page for each, to which its label leads."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_POST, require_safe

from boards.models import Board, Offcut
from boards.queries import OF_A_PLAN, entries_of
from boards.services import StockRefused, drop_offcut, keep_offcut, put_back_offcut, use_offcut
from boards.views.boards import rack_form_of, show_board
from objects.core.words import say
from objects.roles import MAKER, role_required


@require_safe
def offcut_detail(request: HttpRequest, pk: int) -> HttpResponse:
    offcut = get_object_or_404(Offcut.objects.select_related("board"), pk=pk)
    entries = list(entries_of(offcut))
    context = {
        "offcut": offcut,
        "entries": entries,
        "is_of_a_plan": _is_of_a_plan(entries),
    }
    return render(request, "boards/offcut_detail.html", context)


@require_POST
@role_required(MAKER)
def offcut_keep(request: HttpRequest, pk: int) -> HttpResponse:
    """Put an offcut on the rack that did not come from a planned sheet."""
    board = get_object_or_404(Board, pk=pk)
    form = rack_form_of(request, board, request.POST)
    if not form.is_valid():
        return show_board(request, board, rack_form=form)
    kept = keep_offcut(board=board, **form.cleaned_data, by=request.user)
    messages.success(
        request, say("Offcut {pk} is on the rack. Write its number on it, or print its label.", pk=kept.pk)
    )
    return redirect("boards:board-detail", pk=board.pk)


@require_POST
@role_required(MAKER)
def offcut_take(request: HttpRequest, pk: int) -> HttpResponse:
    """Take an offcut off the rack to cut it up."""
    offcut = get_object_or_404(Offcut, pk=pk)
    try:
        use_offcut(offcut=offcut, by=request.user, note=request.POST.get("note", "").strip())
    except StockRefused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(
            request, say("Offcut {pk} is taken. What is left of it goes back as a new offcut.", pk=offcut.pk)
        )
    return redirect("boards:offcut-detail", pk=offcut.pk)


@require_POST
@role_required(MAKER)
def offcut_gone(request: HttpRequest, pk: int) -> HttpResponse:
    """Note that an offcut is no longer on the rack: missed, or thrown away."""
    offcut = get_object_or_404(Offcut, pk=pk)
    is_thrown = bool(request.POST.get("thrown"))
    drop_offcut(offcut=offcut, by=request.user, note=request.POST.get("note", "").strip(), thrown=is_thrown)
    messages.success(request, say("Offcut {pk} is no longer on the rack.", pk=offcut.pk))
    return redirect("boards:board-detail", pk=offcut.board_id)


@require_POST
@role_required(MAKER)
def offcut_back(request: HttpRequest, pk: int) -> HttpResponse:
    """Put an offcut back that left the rack by mistake; one taken for a plan goes back at the bench."""
    offcut = get_object_or_404(Offcut.objects.select_related("board"), pk=pk)
    try:
        if _is_of_a_plan(list(entries_of(offcut))):
            raise StockRefused(
                say(
                    "Offcut {pk} was taken for a sheet of a cutting plan. Undo that where it was cut.",
                    pk=offcut.pk,
                )
            )
        put_back_offcut(offcut=offcut, by=request.user)
    except StockRefused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, say("Offcut {pk} is on the rack again.", pk=offcut.pk))
    return redirect("boards:offcut-detail", pk=offcut.pk)


def _is_of_a_plan(entries: list) -> bool:
    """Whether an offcut left the rack for a planned sheet, and that still stands."""
    standing = [one for one in entries if one.kind == "taken" and not hasattr(one, "reversed_by")]
    return any(one.reference.startswith(OF_A_PLAN) for one in standing)
