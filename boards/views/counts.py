"""The pages on which everything of a board, or of a kind of supply, is counted at once."""

from collections.abc import Sequence

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from boards.forms import CountForm
from boards.models import Board, SheetSize, Supply
from boards.queries import sheet_sizes_in_stock, supplies_listed
from boards.services import CountRefused, StockRefused, count_all
from objects.core.words import say
from objects.readers import reader_of
from objects.roles import MAKER, role_required


@require_http_methods(["GET", "HEAD", "POST"])
@role_required(MAKER)
def board_count(request: HttpRequest, pk: int) -> HttpResponse:
    board = get_object_or_404(Board, pk=pk)
    back = reverse("boards:board-detail", args=[board.pk])
    return _count(
        request,
        list(sheet_sizes_in_stock().filter(board=board)),
        say("Count the sheets of {board}", board=board),
        back,
    )


@require_http_methods(["GET", "HEAD", "POST"])
@role_required(MAKER)
def supply_count(request: HttpRequest, kind: str = "") -> HttpResponse:
    """All supplies, or those of a kind."""
    if kind and kind not in Supply.Kind.values:
        raise Http404(say("There is no kind of supply called “{kind}”.", kind=kind))
    supplies = supplies_listed().filter(**({"kind": kind} if kind else {}))
    named = (
        say("{label}: count what is on hand", label=Supply.Kind(kind).label)
        if kind
        else say("Count all supplies")
    )
    return _count(request, list(supplies), named, reverse("boards:supply-list"))


def _count(
    request: HttpRequest, things: Sequence[SheetSize | Supply], heading: str, back: str
) -> HttpResponse:
    form = CountForm(request.POST or None, things=things, unit=reader_of(request).unit)
    if request.method == "POST" and form.is_valid():
        clean = form.cleaned_data
        try:
            made = count_all(
                counts=form.counts(), by=request.user, note=clean["note"], entry_id=clean["entry_id"]
            )
        except CountRefused as refused:
            form.moved_on(refused.now)
            form.add_error(None, str(refused))
        except StockRefused as refused:
            form.add_error(None, str(refused))
        else:
            differing = sum(1 for entry in made if entry.quantity)
            messages.success(
                request,
                say(
                    "{made} counted, {differing} not as expected. The ledgers tell the differences.",
                    made=len(made),
                    differing=differing,
                ),
            )
            return redirect(back)
    return render(request, "boards/stock_count.html", {"form": form, "heading": heading, "back": back})
