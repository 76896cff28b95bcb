"""The questions that boxes wait for: who asked what, since when, and a form to answer each."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from housing.forms.holds import HoldFilter
from housing.models import BenchEntry
from housing.queries.holds import OPEN, boxes_of, holds_to_show
from housing.queries.tasks import person_of
from housing.services.bench_entries import last_entry
from housing.tables.holds import HoldTable
from objects.roles import MAKER, has_role
from objects.views.tables import shape, table_file, wants_file

PER_PAGE = 50
UNDONE_HERE = (BenchEntry.What.HOLD, BenchEntry.What.ANSWER)


@require_safe
def hold_list(request: HttpRequest) -> HttpResponse:
    form = HoldFilter(request.GET)
    asked = form.cleaned_data if form.is_valid() else {}
    answers_all = has_role(request.user, MAKER)
    table = HoldTable(
        holds_to_show(**{name: value for name, value in asked.items() if value}),
        answers_all=answers_all,
        boxes=set() if answers_all else boxes_of(person_of(request.user)),
    )
    shape(request, table, {"per_page": PER_PAGE})
    if wants_file(request):
        return table_file(request, table)
    last = last_entry(by=request.user)
    context = {
        "form": form,
        "table": table,
        "number": table.paginator.count,
        "open": holds_to_show(state=OPEN).count(),
        "last": last if last and last.what in UNDONE_HERE else None,
    }
    return render(request, "housing/hold_list.html", context, status=200 if form.is_valid() else 400)
