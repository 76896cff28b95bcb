"""Pages of the boards: what there is, what it costs, and the ledger of sheets in and out."""

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_POST, require_safe

from boards.core.standards import included_in, standard_of
from boards.forms import BoardForm, OffcutForm, SheetForm, StatementForm, StockForm
from boards.models import Board, BoardStatement, Offcut, SheetSize, StockMovement
from boards.queries import (
    boards_with_stock,
    gone_offcuts_of,
    movements_of,
    offcuts_of,
    sheet_sizes_in_stock,
    statements_of,
)
from boards.services import (
    StockRefused,
    delete_statement,
    drop_offcut,
    keep_offcut,
    receive_sheets,
    record_statement,
    reverse_movement,
    write_off_sheets,
)
from objects.readers import reader_of
from objects.roles import MAKER, role_required

PER_PAGE = 50
MOVES = {"receive": receive_sheets, "write_off": write_off_sheets}


@require_safe
def board_list(request: HttpRequest) -> HttpResponse:
    return render(request, "boards/board_list.html", {"boards": boards_with_stock()})


@require_safe
def board_detail(request: HttpRequest, pk: int) -> HttpResponse:
    board = get_object_or_404(Board, pk=pk)
    return _show_board(request, board)


def _show_board(
    request: HttpRequest, board: Board, form: StockForm | None = None, rack_form: OffcutForm | None = None
) -> HttpResponse:
    statements = list(statements_of(board))
    included = included_in({statement.standard for statement in statements})
    ledger, gone = (Paginator(rows, PER_PAGE) for rows in (movements_of(board), gone_offcuts_of(board)))
    return render(
        request,
        "boards/board_detail.html",
        {
            "board": board,
            "statements": [(one, standard_of(one.standard)) for one in statements],
            "included": [(standard_of(key).short_name, reason) for key, reason in included.items()],
            "sheets": sheet_sizes_in_stock().filter(board=board),
            "page": ledger.get_page(request.GET.get("page")),
            "offcuts": offcuts_of(board),
            "gone": gone.get_page(request.GET.get("gone")),
            "form": form or StockForm(board=board, unit=reader_of(request).unit),
            "rack_form": rack_form or _rack_form(request, board),
        },
    )


def _rack_form(request: HttpRequest, board: Board, data: QueryDict | None = None) -> OffcutForm:
    """Its fields are named apart from those of the sheets in or out, which stand on the same page."""
    offcut, unit = Offcut(board=board), reader_of(request).unit
    return OffcutForm(data, instance=offcut, unit=unit, auto_id="rack_%s")


@require_POST
@role_required(MAKER)
def stock_move(request: HttpRequest, pk: int) -> HttpResponse:
    """Write sheets in or out."""
    board = get_object_or_404(Board, pk=pk)
    form = StockForm(request.POST, board=board, unit=reader_of(request).unit)
    if form.is_valid():
        asked = form.cleaned_data
        try:
            moved = MOVES[asked["action"]](
                sheet_size=asked["sheet_size"], count=asked["count"], by=request.user, note=asked["note"]
            )
        except StockRefused as refused:
            form.add_error("count", str(refused))
        else:
            messages.success(request, f"{moved} is in the ledger; {moved.balance} are now in stock.")
            return redirect("boards:board-detail", pk=board.pk)
    return _show_board(request, board, form=form)


@require_POST
@role_required(MAKER)
def movement_reverse(request: HttpRequest, pk: int) -> HttpResponse:
    """Undo a mistaken entry with a second one."""
    movement = get_object_or_404(StockMovement.objects.select_related("sheet_size__board"), pk=pk)
    try:
        made = reverse_movement(movement=movement, by=request.user)
    except StockRefused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, f"The entry is reversed; {made.balance} sheets are now in stock.")
    return redirect("boards:board-detail", pk=movement.sheet_size.board_id)


@require_POST
@role_required(MAKER)
def offcut_keep(request: HttpRequest, pk: int) -> HttpResponse:
    """Put an offcut on the rack that did not come from a planned sheet."""
    board = get_object_or_404(Board, pk=pk)
    form = _rack_form(request, board, request.POST)
    if not form.is_valid():
        return _show_board(request, board, rack_form=form)
    kept = keep_offcut(board=board, **form.cleaned_data, by=request.user)
    messages.success(request, f"Offcut {kept.pk} is on the rack. Write its number on it.")
    return redirect("boards:board-detail", pk=board.pk)


@require_POST
@role_required(MAKER)
def offcut_gone(request: HttpRequest, pk: int) -> HttpResponse:
    """Note that an offcut is no longer on the rack."""
    offcut = get_object_or_404(Offcut, pk=pk)
    drop_offcut(offcut=offcut, by=request.user)
    messages.success(request, f"Offcut {offcut.pk} is no longer on the rack.")
    return redirect("boards:board-detail", pk=offcut.board_id)


@role_required()
def board_new(request: HttpRequest) -> HttpResponse:
    return _edit(request, BoardForm, Board(), "New board")


@role_required()
def board_edit(request: HttpRequest, pk: int) -> HttpResponse:
    board = get_object_or_404(Board, pk=pk)
    return _edit(request, BoardForm, board, f"Edit {board}")


@role_required()
def sheet_new(request: HttpRequest, pk: int) -> HttpResponse:
    board = get_object_or_404(Board, pk=pk)
    return _edit(request, SheetForm, SheetSize(board=board), f"New sheet size of {board}")


@role_required()
def sheet_edit(request: HttpRequest, pk: int) -> HttpResponse:
    sheet = get_object_or_404(SheetSize.objects.select_related("board"), pk=pk)
    return _edit(request, SheetForm, sheet, f"Edit a sheet size of {sheet.board}")


@role_required()
def statement_new(request: HttpRequest, pk: int) -> HttpResponse:
    board = get_object_or_404(Board, pk=pk)
    return _edit_statement(request, BoardStatement(board=board), f"New statement about {board}")


@role_required()
def statement_edit(request: HttpRequest, pk: int) -> HttpResponse:
    statement = get_object_or_404(BoardStatement.objects.select_related("board"), pk=pk)
    return _edit_statement(request, statement, f"Edit a statement about {statement.board}")


def _edit_statement(request: HttpRequest, statement: BoardStatement, heading: str) -> HttpResponse:
    form = StatementForm(request.POST or None, instance=statement)
    board = statement.board
    if request.method == "POST" and form.is_valid():
        saved = record_statement(statement=form.save(commit=False), by=request.user)
        messages.success(
            request, f"It is recorded that {saved.stated_by} states {standard_of(saved.standard).short_name}."
        )
        return redirect("boards:board-detail", pk=board.pk)
    return render(request, "boards/board_edit.html", {"form": form, "heading": heading, "board": board})


@require_POST
@role_required()
def statement_delete(request: HttpRequest, pk: int) -> HttpResponse:
    """Take a statement back."""
    statement = get_object_or_404(BoardStatement.objects.select_related("board"), pk=pk)
    delete_statement(statement=statement)
    messages.success(request, f"The statement “{statement}” is deleted.")
    return redirect("boards:board-detail", pk=statement.board_id)


def _edit(
    request: HttpRequest, form_class: type[BoardForm | SheetForm], record: Board | SheetSize, heading: str
) -> HttpResponse:
    form = form_class(request.POST or None, instance=record, unit=reader_of(request).unit)
    if request.method == "POST" and form.is_valid():
        saved = form.save()
        messages.success(request, f"{saved} is saved.")
        return redirect("boards:board-detail", pk=_board_of(saved).pk)
    context = {"form": form, "heading": heading, "board": _board_of(record)}
    return render(request, "boards/board_edit.html", context)


def _board_of(record: Board | SheetSize) -> Board:
    return record.board if isinstance(record, SheetSize) else record
