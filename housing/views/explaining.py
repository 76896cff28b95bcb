"""What a finished box tells of its board, and keeping it as the board's correction."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from boards.models import Board
from boards.services import correct_board, forget_correction
from housing.forms.explaining import ExplainForm
from housing.views import questions
from objects.readers import reader_of
from objects.roles import role_required
from objects.views.asking import asks_first


@require_safe
def box_explain(request: HttpRequest) -> HttpResponse:
    """The form, and once it is filled in, what explains the box; nothing is stored."""
    asked = "drawn_x" in request.GET
    form = ExplainForm(
        request.GET if asked else None,
        initial={"board": request.GET.get("board")},
        unit=reader_of(request).unit,
    )
    return _show(request, form)


@require_POST
@role_required()
def box_explain_keep(request: HttpRequest) -> HttpResponse:
    """Keep what was found as the correction of the board."""
    form = ExplainForm(request.POST, unit=reader_of(request).unit)
    if not form.is_valid() or form.explanation is None:
        return _show(request, form)
    found, board = form.explanation, form.cleaned_data["board"]
    note = _("From a finished box, {day}, kept by {name}").format(
        day=date_format(timezone.localdate(), "d F Y"), name=request.user.get_username()
    )
    correct_board(board=board, caliper_mm=found.caliper_mm, fold_share=found.fold_share, note=note)
    messages.success(
        request, _("{board} is corrected. Plan the campaigns again to use it.").format(board=board)
    )
    return redirect("boards:board-detail", pk=board.pk)


@require_POST
@role_required()
@asks_first(questions.correction)
def board_correction_forget(request: HttpRequest, pk: int) -> HttpResponse:
    """Go back to what was stated for a board."""
    board = forget_correction(board=get_object_or_404(Board, pk=pk))
    messages.success(
        request,
        _("{board} goes by its stated caliper again. Plan the campaigns again to use it.").format(
            board=board
        ),
    )
    return redirect("boards:board-detail", pk=board.pk)


def _show(request: HttpRequest, form: ExplainForm) -> HttpResponse:
    found = form.explanation if form.is_bound and form.is_valid() else None
    return render(request, "housing/box_explain.html", {"form": form, "found": found})
