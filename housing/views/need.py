"""What is unhoused and where, as table, picture and file; and stating the need of one object or of many."""

from urllib.parse import urlencode

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext
from django.views.decorators.http import require_POST, require_safe

from housing.core.drawing.charts import Bar, BarChart, Series
from housing.forms.need import NeedForm, UnhousedForm
from housing.forms.objects import STILL
from housing.printing.need_table import unhoused_csv
from housing.queries.need import GROUPINGS, UnhousedRow, places_above, total_row, unhoused_rows
from housing.queries.objects import POORLY_HOUSED, UNHOUSED
from housing.services.need import state_need, state_needs
from housing.tables.need import UnhousedTable
from housing.views.home import GREYS
from housing.views.objects import objects_meant
from objects.models import CatalogueObject
from objects.roles import SURVEYOR, role_required
from objects.services.need import NeedRefused
from objects.views.tables import shape, table_file, wants_file

PER_PAGE = 100
OTHERWISE = "housed_before"
SERIES = (
    Series(UNHOUSED, gettext_lazy("No housing"), GREYS[UNHOUSED]),
    Series(POORLY_HOUSED, gettext_lazy("Poorly housed"), GREYS[POORLY_HOUSED]),
    Series(OTHERWISE, gettext_lazy("Adequate or not needed, but a box is in hand"), GREYS[OTHERWISE]),
)


@require_safe
def need_list(request: HttpRequest) -> HttpResponse:
    form = UnhousedForm(request.GET)
    by, location = form.chosen_by, form.chosen_location
    rows = unhoused_rows(by, location)
    narrowed = {"location": str(location.pk)} if location else {}
    table = UnhousedTable(rows, by=by, narrowed=narrowed)
    shape(request, table, {"per_page": PER_PAGE})
    if wants_file(request):
        return table_file(request, table)
    return render(
        request,
        "housing/need_list.html",
        {
            "form": UnhousedForm(initial={"by": by, "location": location}) if form.is_valid() else form,
            "table": table,
            "chart": _chart(rows, by, narrowed),
            "total": total_row(rows),
            "total_url": f"{reverse('housing:object-list')}?{urlencode({**narrowed, 'status': STILL})}",
            "location": location,
            "above": places_above(location),
            "by": by,
            "groupings": GROUPINGS.items(),
            "csv_url": f"{reverse('housing:need-table')}?{urlencode({'by': by, **narrowed})}",
        },
    )


def _chart(rows: list[UnhousedRow], by: str, narrowed: dict[str, str]) -> BarChart:
    objects = reverse("housing:object-list")
    series = SERIES if any(row.otherwise for row in rows) else SERIES[:-1]
    return BarChart(
        _("Still unhoused by {groupings}").format(groupings=GROUPINGS[by].lower()),
        tuple(
            Bar(
                row.label,
                {
                    part.key: count
                    for part, count in zip(
                        series, (row.unhoused, row.poorly_housed, row.otherwise), strict=False
                    )
                },
                _("{still:,} of {objects:,}").format(still=row.still, objects=row.objects),
                f"{objects}?{urlencode({**narrowed, **row.filters, 'status': STILL})}",
            )
            for row in rows
            if row.still
        ),
        series,
    )


@require_safe
def need_table(request: HttpRequest) -> HttpResponse:
    """The same rows as a file."""
    form = UnhousedForm(request.GET)
    answer = HttpResponse(
        unhoused_csv(GROUPINGS[form.chosen_by], unhoused_rows(form.chosen_by, form.chosen_location)),
        content_type="text/csv; charset=utf-8",
    )
    answer["Content-Disposition"] = _('attachment; filename="unhoused by {chosen_by}.csv"').format(
        chosen_by=form.chosen_by
    )
    return answer


@require_POST
@role_required(SURVEYOR)
def need_state(request: HttpRequest, pk: int) -> HttpResponse:
    """State the need of one object from its page, or take back what was said."""
    thing = get_object_or_404(CatalogueObject, pk=pk)
    form = NeedForm(request.POST)
    if form.is_valid():
        _tell(request, lambda: _state_one(thing, form, request.user))
    else:
        _say_what_is_wrong(request, form)
    return redirect(f"{reverse('housing:object-detail', args=[pk])}#need")


def _state_one(thing: CatalogueObject, form: NeedForm, by) -> str:
    stated = state_need(
        thing=thing, need=form.cleaned_data["need"], note=form.cleaned_data["need_note"], by=by
    )
    if stated.need_by_hand:
        return _("{thing_number}: “{need_by_hand}” is noted.").format(
            thing_number=thing.number, need_by_hand=stated.get_need_by_hand_display()
        )
    return _("{thing_number}: its need follows from its present housing.").format(thing_number=thing.number)


@require_POST
@role_required(SURVEYOR)
def need_state_many(request: HttpRequest) -> HttpResponse:
    """State the need of the objects ticked in the list, or of all that match; then show the list again."""
    back = f"{reverse('housing:object-list')}?{request.POST.get('filter', '')}"
    form = NeedForm(request.POST)
    objects = objects_meant(request, "all_matching" in request.POST)
    if not form.is_valid():
        _say_what_is_wrong(request, form)
    elif not objects.exists():
        messages.error(
            request, _("No object is ticked. Tick the objects you mean, or choose all that match.")
        )
    else:
        _tell(request, lambda: _state_many(objects, form, request.user))
    return redirect(back)


def _state_many(objects, form: NeedForm, by) -> str:
    need = form.cleaned_data["need"]
    number = state_needs(objects=objects, need=need, note=form.cleaned_data["need_note"], by=by)
    of_them = ngettext("{number:,} object", "{number:,} objects", number).format(number=number)
    if not number:
        return _("Nothing was said of their need, so nothing is taken back.")
    if need:
        return _("“{label}” is noted for {of_them}.").format(
            label=CatalogueObject.Need(need).label, of_them=of_them
        )
    return _("What was said of the need is taken back for {of_them}.").format(of_them=of_them)


def _tell(request: HttpRequest, act) -> None:
    try:
        messages.success(request, act())
    except NeedRefused as refused:
        messages.error(request, str(refused))


def _say_what_is_wrong(request: HttpRequest, form: NeedForm) -> None:
    for errors in form.errors.values():
        messages.error(request, " ".join(errors))
