"""The page of one supply: what is on hand, what moves, and its ledger."""

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from boards.forms import SupplyStockForm
from boards.forms.stock import COUNT, RECEIVE, USE, WRITE_OFF
from boards.models import Supply, SupplyMovement
from boards.queries import movements_of_supply
from boards.services import (
    StockRefused,
    count_supply,
    receive_supply,
    reverse_supply_movement,
    use_supply,
    write_off_supply,
)
from objects.core.words import say
from objects.roles import MAKER, role_required

PER_PAGE = 50
MOVES = {RECEIVE: receive_supply, USE: use_supply, WRITE_OFF: write_off_supply, COUNT: count_supply}


@require_safe
def supply_detail(request: HttpRequest, pk: int) -> HttpResponse:
    return _show(request, _supply(pk))


@require_POST
@role_required(MAKER)
def supply_move(request: HttpRequest, pk: int) -> HttpResponse:
    """Write units in or out, or note how many were counted."""
    supply = _supply(pk)
    form = SupplyStockForm(request.POST, unit=supply.get_unit_display())
    if form.is_valid():
        try:
            moved = MOVES[form.cleaned_data["action"]](supply=supply, by=request.user, **form.asked())
        except StockRefused as refused:
            form.add_error("units", str(refused))
        else:
            there = f"{moved.balance.normalize():f} {supply.get_unit_display()}"
            messages.success(
                request,
                say(
                    "{kind}: it is in the ledger. On hand now: {there}.",
                    kind=moved.get_kind_display(),
                    there=there,
                ),
            )
            return redirect("boards:supply-detail", pk=supply.pk)
    return _show(request, supply, form)


@require_POST
@role_required(MAKER)
def supply_reverse(request: HttpRequest, pk: int) -> HttpResponse:
    """Undo a mistaken entry with a second one."""
    movement = get_object_or_404(SupplyMovement.objects.select_related("supply"), pk=pk)
    try:
        made = reverse_supply_movement(movement=movement, by=request.user)
    except StockRefused as refused:
        messages.error(request, str(refused))
    else:
        there = f"{made.balance.normalize():f} {movement.supply.get_unit_display()}"
        messages.success(request, say("The entry is reversed. On hand now: {there}.", there=there))
    return redirect("boards:supply-detail", pk=movement.supply_id)


def _supply(pk: int) -> Supply:
    return get_object_or_404(Supply.objects.select_related("supplier"), pk=pk)


def _show(request: HttpRequest, supply: Supply, form: SupplyStockForm | None = None) -> HttpResponse:
    ledger = Paginator(movements_of_supply(supply), PER_PAGE)
    return render(
        request,
        "boards/supply_detail.html",
        {
            "supply": supply,
            "page": ledger.get_page(request.GET.get("page")),
            "form": form or SupplyStockForm(unit=supply.get_unit_display()),
            "today": timezone.localdate(),
        },
    )
