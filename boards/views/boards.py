"""Pages of the boards: what there is, what it costs, and who states that it meets a standard."""

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_POST, require_safe

from boards.core.standards import included_in, standard_of
from boards.forms import BoardForm, OffcutForm, SheetForm, StatementForm, StockForm
from boards.models import Board, BoardStatement, Offcut, SheetSize
from boards.queries import (
    boards_with_stock,
    gone_offcuts_of,
    movements_of,
    offcuts_of,
    sheet_sizes_in_stock,
    statements_of,
)
from boards.services import delete_statement, record_statement
from boards.tables import BoardTable, sheet_rows
from objects.core.words import say
from objects.readers import reader_of
from objects.roles import role_required
from objects.views.asking import Question, asks_first
from objects.views.tables import shape, table_file, wants_file

PER_PAGE = 50


@require_safe
def board_list(request: HttpRequest) -> HttpResponse:
    boards = list(boards_with_stock())
    table = BoardTable(sheet_rows(boards), reader=reader_of(request))
    shape(request, table)
    if wants_file(request):
        return table_file(request, table)
    return render(request, "boards/board_list.html", {"boards": boards, "table": table})


@require_safe
def board_detail(request: HttpRequest, pk: int) -> HttpResponse:
    board = get_object_or_404(Board, pk=pk)
    return show_board(request, board)


def show_board(
    request: HttpRequest, board: Board, form: StockForm | None = None, rack_form: OffcutForm | None = None
) -> HttpResponse:
    """The page of a board; form, rack_form: one of these as it was refused."""
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
            "rack_form": rack_form or rack_form_of(request, board),
        },
    )


def rack_form_of(request: HttpRequest, board: Board, data: QueryDict | None = None) -> OffcutForm:
    """Its fields are named apart from those of the sheets in or out, which stand on the same page."""
    offcut, unit = Offcut(board=board), reader_of(request).unit
    return OffcutForm(data, instance=offcut, unit=unit, auto_id="rack_%s")


@role_required()
def board_new(request: HttpRequest) -> HttpResponse:
    return _edit(request, BoardForm, Board(), say("New board"))


@role_required()
def board_edit(request: HttpRequest, pk: int) -> HttpResponse:
    board = get_object_or_404(Board, pk=pk)
    return _edit(request, BoardForm, board, say("Edit {board}", board=board))


@role_required()
def sheet_new(request: HttpRequest, pk: int) -> HttpResponse:
    board = get_object_or_404(Board, pk=pk)
    return _edit(request, SheetForm, SheetSize(board=board), say("New sheet size of {board}", board=board))


@role_required()
def sheet_edit(request: HttpRequest, pk: int) -> HttpResponse:
    sheet = get_object_or_404(SheetSize.objects.select_related("board"), pk=pk)
    return _edit(request, SheetForm, sheet, say("Edit a sheet size of {board}", board=sheet.board))


@role_required()
def statement_new(request: HttpRequest, pk: int) -> HttpResponse:
    board = get_object_or_404(Board, pk=pk)
    return _edit_statement(
        request, BoardStatement(board=board), say("New statement about {board}", board=board)
    )


@role_required()
def statement_edit(request: HttpRequest, pk: int) -> HttpResponse:
    statement = get_object_or_404(BoardStatement.objects.select_related("board"), pk=pk)
    return _edit_statement(request, statement, say("Edit a statement about {board}", board=statement.board))


def _edit_statement(request: HttpRequest, statement: BoardStatement, heading: str) -> HttpResponse:
    form = StatementForm(request.POST or None, instance=statement)
    board = statement.board
    if request.method == "POST" and form.is_valid():
        saved = record_statement(statement=form.save(commit=False), by=request.user)
        messages.success(
            request,
            say(
                "It is recorded that {stated_by} states {short_name}.",
                stated_by=saved.stated_by,
                short_name=standard_of(saved.standard).short_name,
            ),
        )
        return redirect("boards:board-detail", pk=board.pk)
    return render(request, "boards/board_edit.html", {"form": form, "heading": heading, "board": board})


def _statement_gone(request: HttpRequest, pk: int) -> Question:
    statement = get_object_or_404(BoardStatement.objects.select_related("board"), pk=pk)
    consequences = [
        say(
            "Designs that ask for this standard show that it is not stated of {board}.", board=statement.board
        ),
        say("Who stated it, when and where it is written is gone with it."),
    ]
    return Question(say("Delete “{statement}”?", statement=statement), consequences, say("Delete"))


@require_POST
@role_required()
@asks_first(_statement_gone)
def statement_delete(request: HttpRequest, pk: int) -> HttpResponse:
    """Take a statement back."""
    statement = get_object_or_404(BoardStatement.objects.select_related("board"), pk=pk)
    delete_statement(statement=statement)
    messages.success(request, say("The statement “{statement}” is deleted.", statement=statement))
    return redirect("boards:board-detail", pk=statement.board_id)


def _edit(
    request: HttpRequest, form_class: type[BoardForm | SheetForm], record: Board | SheetSize, heading: str
) -> HttpResponse:
    form = form_class(request.POST or None, instance=record, unit=reader_of(request).unit)
    if request.method == "POST" and form.is_valid():
        saved = form.save()
        messages.success(request, say("{saved} is saved.", saved=saved))
        return redirect("boards:board-detail", pk=_board_of(saved).pk)
    context = {"form": form, "heading": heading, "board": _board_of(record)}
    return render(request, "boards/board_edit.html", context)


def _board_of(record: Board | SheetSize) -> Board:
    return record.board if isinstance(record, SheetSize) else record
