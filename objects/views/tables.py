"""Tables as pages and as files, and the columns a reader chooses."""

import csv
from collections.abc import Iterable, Iterator
from io import StringIO
from itertools import batched

from django.http import HttpRequest, HttpResponse, HttpResponseBadRequest, StreamingHttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.http import content_disposition_header, url_has_allowed_host_and_scheme
from django.views.decorators.http import require_POST
from django_tables2 import RequestConfig

from objects.core.columns import is_a_name, moved
from objects.core.words import spoken
from objects.queries.columns import columns_kept
from objects.readers import reader_of
from objects.services.columns import forget_columns, keep_columns
from objects.speaking import in_language
from objects.tables.shaped import ShapedTable

AS_FILE = "as"  # in the address: ?as=csv gives what the page shows, all pages of it, as a file
TABLE = "table"  # which of several tables of a page is meant
ROWS_AT_ONCE = 500
BOM = "\ufeff"  # by which spreadsheets know UTF-8


def shape(request: HttpRequest, table: ShapedTable, paginate: dict | bool = False) -> None:
    """Show a table as its reader chose, sorted and leafed through as its address says."""
    table.shape(columns_kept(request.user, table.key))
    as_file = wants_file(request)
    RequestConfig(request, paginate=False if as_file else paginate).configure(table)
    sent = request.GET.copy()
    sent.pop(table.prefixed_page_field, None)
    sent[AS_FILE], sent[TABLE] = "csv", table.key
    table.file_address = f"?{sent.urlencode()}"


def wants_file(request: HttpRequest) -> bool:
    return request.GET.get(AS_FILE) == "csv"


def table_file(request: HttpRequest, table: ShapedTable) -> StreamingHttpResponse:
    """The rows that match, in the order and with the columns shown, all pages of them."""
    return csv_file(str(table.caption), table.file_rows(reader_of(request)))


def csv_file(name: str, rows: Iterable[Iterable[str]]) -> StreamingHttpResponse:
    """Rows of cells as CSV in UTF-8, sent while they are worked out. Cells are plain and harmless already."""
    answer = StreamingHttpResponse(_written(rows, spoken()), content_type="text/csv; charset=utf-8")
    answer["Content-Disposition"] = content_disposition_header(True, f"{name}.csv")
    return answer


def _written(rows: Iterable[Iterable[str]], language: str) -> Iterator[str]:
    """Pieces of the file; each is made in the reader's language, which a page's end would take with it."""
    pieces = iter(batched(rows, ROWS_AT_ONCE))
    yield BOM
    while True:
        with in_language(language):
            piece = next(pieces, None)
        if piece is None:
            return
        out = StringIO()
        csv.writer(out).writerows(piece)
        yield out.getvalue()


@require_POST
def columns_choose(request: HttpRequest, table: str) -> HttpResponse:
    """Keep which columns are shown and in which order; a button moves one, or goes back to the usual."""
    if not is_a_name(table):
        return HttpResponseBadRequest()
    if "usual" in request.POST:
        forget_columns(user=request.user, table=table)
    else:
        order = request.POST.getlist("column")
        for way, step in (("earlier", -1), ("later", 1)):
            order = moved(order, request.POST.get(way, ""), step)
        keep_columns(user=request.user, table=table, order=order, ticked=request.POST.getlist("shown"))
    back = request.POST.get("back", "")
    if not url_has_allowed_host_and_scheme(back, {request.get_host()}, request.is_secure()):
        back = reverse("housing:home")
    return redirect(f"{back}#columns-{table}")
