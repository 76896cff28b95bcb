"""What went wrong with boxes: by cause, by kind of object and side, and the boxes themselves."""

from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from housing.core.misfits import SideRow
from housing.forms.misfits import MisfitForm
from housing.models import FitCheck
from housing.queries.misfits import NO_KIND, checks_of, misfits_of, misfits_to_show
from housing.tables.misfits import MisfitTable
from objects.core.words import say
from objects.readers import reader_of
from objects.views.tables import shape, table_file, wants_file

PER_PAGE = 50
COUNTED_BY = ("campaign", "since", "until")


@require_safe
def fit_causes(request: HttpRequest) -> HttpResponse:
    form = MisfitForm(request.GET)
    asked = form.cleaned_data if form.is_valid() else {}
    checks = checks_of(*map(asked.get, COUNTED_BY))
    misfits = misfits_of(checks)
    narrowed = {name: asked.get(name, "") for name in ("cause", "side", "kind")}
    table = MisfitTable(misfits_to_show(checks, **narrowed), reader=reader_of(request))
    shape(request, table, {"per_page": PER_PAGE})
    if wants_file(request):
        return table_file(request, table)
    kept = {name: request.GET[name] for name in COUNTED_BY if asked.get(name)}
    context = {
        "form": form,
        "misfits": misfits,
        "causes": [(row, f"?{urlencode({**kept, 'cause': row.cause})}#boxes") for row in misfits.causes],
        "sides": [_side(row, kept) for row in misfits.sides],
        "table": table,
    }
    return render(request, "housing/fit_causes.html", context, status=200 if form.is_valid() else 400)


def _side(row: SideRow, kept: dict[str, str]) -> dict:
    """A row of the table by kind and side, in words, with where the boxes are listed."""
    kind = row.group or say(NO_KIND)
    return {
        "row": row,
        "kind": kind,
        "side": FitCheck.Side(row.side).label,
        "percents": [round(100 * share) for share in (row.share, row.low, row.high)],
        "url": f"?{urlencode({**kept, 'kind': kind, 'side': row.side})}#boxes",
    }
