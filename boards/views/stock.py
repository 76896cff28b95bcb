"""What moves at the pages of boards: sheets in and out, and entries reversed."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST

from boards.forms import StockForm
from boards.forms.stock import COUNT, RECEIVE, USE, WRITE_OFF
from boards.models import Board, StockMovement
from boards.queries import OF_A_PLAN
from boards.services import (
    StockRefused,
    count_sheets,
    receive_sheets,
    reverse_movement,
    use_sheets,
    write_off_sheets,
)
from boards.views.boards import show_board
from objects.core.words import say
from objects.readers import reader_of
from objects.roles import MAKER, role_required

MOVES = {RECEIVE: receive_sheets, USE: use_sheets, WRITE_OFF: write_off_sheets, COUNT: count_sheets}
OF_THE_BENCH = say(
    "This entry was made for a sheet of a cutting plan. Undo it where the sheet was cut, so that plan and "
    "stock keep together."
)


@require_POST
@role_required(MAKER)
def stock_move(request: HttpRequest, pk: int) -> HttpResponse:
    """Write sheets in or out, or note how many were counted."""
    board = get_object_or_404(Board, pk=pk)
    form = StockForm(request.POST, board=board, unit=reader_of(request).unit)
    if form.is_valid():
        try:
            moved = MOVES[form.cleaned_data["action"]](by=request.user, **form.asked())
        except StockRefused as refused:
            form.add_error("count", str(refused))
        else:
            messages.success(
                request,
                say(
                    "{moved} is in the ledger; {balance} are now in stock.",
                    moved=moved,
                    balance=moved.balance,
                ),
            )
            return redirect("boards:board-detail", pk=board.pk)
    return show_board(request, board, form=form)


@require_POST
@role_required(MAKER)
def movement_reverse(request: HttpRequest, pk: int) -> HttpResponse:
    """Undo a mistaken entry with a second one; those of a plan are undone at the bench."""
    movement = get_object_or_404(StockMovement.objects.select_related("sheet_size__board"), pk=pk)
    try:
        if movement.reference.startswith(OF_A_PLAN):
            raise StockRefused(OF_THE_BENCH)
        made = reverse_movement(movement=movement, by=request.user)
    except StockRefused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(
            request, say("The entry is reversed; {balance} sheets are now in stock.", balance=made.balance)
        )
    return redirect("boards:board-detail", pk=movement.sheet_size.board_id)
